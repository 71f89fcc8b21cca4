// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <functional>
#include <string_view>

#include "report/measurement/advice.hpp"
#include "report/player/playing_report.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

/// Players speak of octaves, whatever the interval at which the instrument overblows.
std::string register_name(int number) {
  constexpr std::array names{"lower", "upper", "third", "top"};
  return std::string("the ") + names[static_cast<std::size_t>(std::clamp(number, 1, 4) - 1)] + " octave";
}

/// How far a register goes off, against the scale take where there is one.
const CentsEstimate& off(const PlayedRegister& played, bool from_take) {
  return from_take ? *played.from_take : played.deviation;
}

std::string off_in_words(const CentsEstimate& estimate, bool from_take) {
  if (std::abs(estimate.cents) <= estimate.u95_cents) {
    return std::string("no sharper") + (from_take ? " than in the scale take" : " than its targets") + " (" +
           count_in_words(plus_minus(estimate.u95_cents, places_deserved(estimate.u95_cents, 1)), "cent") + ")";
  }
  const bool is_sharp = estimate.cents > 0;
  if (from_take) return size_in_words(estimate) + (is_sharp ? " sharper" : " flatter") + " than in the scale take";
  return size_in_words(estimate) + (is_sharp ? " sharp" : " flat");
}

/// The mean over the time that the notes sound; empty where no register has one.
template <typename CentsOf>
std::optional<double> mean_cents(const Playing& playing, CentsOf cents_of) {
  double sum = 0, seconds = 0;
  for (const PlayedRegister& each : playing.registers)
    if (const std::optional<double> cents = cents_of(each)) sum += each.sounded_s * *cents, seconds += each.sounded_s;
  return seconds > 0 ? std::optional(sum / seconds) : std::nullopt;
}

/// What has changed since the scale take explains a further move only if it goes the same way; else the targets do.
bool is_told_from_take(const Playing& playing) {
  const auto since = mean_cents(playing, [](const PlayedRegister& each) {
    return each.from_take ? std::optional(each.from_take->cents) : std::nullopt;
  });
  return since && (!playing.further || stays(*playing.further) || *since * playing.further->slide_mm > 0);
}

/// "the upper octave comes out 9.1 cents (± 1.0) sharper than in the scale take, the lower octave is ...", the
/// sharpest first.
std::string registers_in_words(const Playing& playing) {
  std::vector<PlayedRegister> registers = playing.registers;
  const bool from_take = is_told_from_take(playing);
  if (from_take) std::erase_if(registers, [](const PlayedRegister& each) { return !each.from_take; });
  std::ranges::stable_sort(registers, std::greater{}, [&](const auto& each) { return off(each, from_take).cents; });
  std::string words;
  for (const PlayedRegister& each : registers) {
    words += words.empty() ? "in playing " : ", ";
    words += register_name(each.register_number) + (words == "in playing " ? " comes out " : " is ") +
             off_in_words(off(each, from_take), from_take);
  }
  return words;
}

std::string move_in_words(const Compromise& further) {
  const double u95_mm = slide_u95_mm(further);
  const double size_mm = std::abs(further.slide_mm);
  if (further.limit == SlideLimit::fixed_head) return "The head is fixed, so only the breath can tune it";
  if (stays(further)) {
    return further.limit ? "The head goes no further" : "Leave the head where it is";
  }
  const std::string limit = !further.limit                           ? ""
                            : *further.limit == SlideLimit::fully_in ? ", until it is fully in"
                                                                     : ", to the end of its travel";
  const int places = places_deserved(u95_mm, 1);
  return std::string(further.slide_mm > 0 ? "Draw the head out" : "Push the head in") + " a further " +
         fixed(size_mm, places) + " mm (" + plus_minus(u95_mm, places) + ")" + limit;
}

/// "18 cents sharp", or `otherwise` where that rounds to nothing.
std::string off_in_words(double cents, const char* sharp, const char* flat, const char* otherwise) {
  const std::string size = fixed(std::abs(cents), 0);
  return size == "0" ? otherwise : count_in_words(size, "cent") + (cents > 0 ? sharp : flat);
}

/// What the further move answers: "On average you play 18 cents sharp of the target, 3 cents sharper than in the scale
/// take."
std::string reason_in_words(const Playing& playing) {
  const bool from_take = std::ranges::any_of(playing.registers, [](const auto& each) { return !!each.from_take; });
  const auto is_in_both = [&](const PlayedRegister& each) { return !from_take || each.from_take; };
  const auto off = mean_cents(playing, [&](const PlayedRegister& each) {
    return is_in_both(each) ? std::optional(each.deviation.cents) : std::nullopt;
  });
  if (!off) return "";
  std::string words =
      "On average you play " + off_in_words(*off, " sharp of the target", " flat of the target", "on the target");
  const auto since = mean_cents(playing, [](const PlayedRegister& each) {
    return each.from_take ? std::optional(each.from_take->cents) : std::nullopt;
  });
  if (since)
    words += ", " + off_in_words(*since, " sharper than in the scale take", " flatter than in the scale take",
                                 "as in the scale take");
  return words + ".";
}

const Warning* deep_doubt(const Playing& playing) {
  const auto found = std::ranges::find_if(playing.warnings, is_deep_doubt, &Warning::code);
  return found == playing.warnings.end() ? nullptr : &*found;
}

std::string sentence(const std::string& message) {
  return message.ends_with('.') || message.ends_with('?') ? message : message + ".";
}

std::string first_sentence(const Playing& playing) {
  if (const Warning* doubt = deep_doubt(playing)) {
    std::string question = doubt->message;
    question[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(question[0])));
    return sentence(question);
  }
  if (!playing.further) return "The melody has no note of the scale, so it cannot show where the head should be.";
  return move_in_words(*playing.further) + ": " + registers_in_words(playing) + ".";
}

std::vector<std::string> row_of(const PlayedPitch& note, const MovedNote* moved, const Playing& playing) {
  std::vector<std::string> row{
      spelt(note.midi, playing.instrument),
      fixed(note.sounded_s, 1),
      std::to_string(note.occurrences),
      figure_in_column(note.median),
      plus_minus(note.median.u95_cents, places_deserved(note.median.u95_cents, 1)),
      signed_fixed(note.lower_quartile_cents, 0) + " to " + signed_fixed(note.upper_quartile_cents, 0)};
  if (playing.has_scale_take) {
    row.push_back(note.from_take ? figure_in_column(*note.from_take) : "-");
    row.push_back(note.from_take ? plus_minus(note.from_take->u95_cents, places_deserved(note.from_take->u95_cents, 1))
                                 : "");
  }
  row.push_back(moved ? figure_in_column({moved->cents, moved->u95_cents}) : "-");
  return row;
}

Prose note_table(const Playing& playing) {
  std::vector<Column> columns{{"note"},         {"seconds", true}, {"times", true, 2},
                              {"median", true}, {"", true},        {"middle half", true, 1}};
  if (playing.has_scale_take) columns.insert(columns.end(), {{"from take", true}, {"", true}});
  columns.push_back({"moved", true});
  std::vector<std::vector<std::string>> rows;
  std::size_t in_scale = 0;
  for (const PlayedPitch& note : playing.notes) {
    const bool is_moved = note.in_scale && playing.further;
    rows.push_back(row_of(note, is_moved ? &playing.further->notes[in_scale] : nullptr, playing));
    in_scale += note.in_scale ? 1 : 0;
  }
  Prose prose =
      Prose(Grid{columns, rows}) + words("  cents from the target, + sharp; median over the time the note sounds", 2);
  if (playing.has_scale_take) prose += words("  from take: sharper (+) than its moderate pitch in the scale take", 2);
  return prose + words("  moved: after the further move, played as here", 2);
}

bool is_said_already(const Playing& playing, const Warning& warning) {
  constexpr std::array in_sentence{WarningCode::fully_in, WarningCode::end_of_travel, WarningCode::fixed_head,
                                   WarningCode::not_in_scale};
  return &warning == deep_doubt(playing) || std::ranges::find(in_sentence, warning.code) != in_sentence.end();
}

/// What is doubtful and not said in the first sentence, after a gap; empty where nothing is.
Prose warning_lines(const Playing& playing) {
  Prose lines;
  for (const Warning& warning : playing.warnings)
    if (!is_said_already(playing, warning)) lines += words("warning: " + sentence(warning.message), 2);
  return lines.empty() ? lines : Prose(Gap{}) + lines;
}

}  // namespace

Prose playing_prose(const Playing& playing) {
  Prose prose = words(first_sentence(playing), 2);
  if (playing.further && !deep_doubt(playing)) prose += words(reason_in_words(playing), 2);
  prose += Prose(Gap{}) + note_table(playing) + Prose(Gap{});
  prose += words("  " + fixed(playing.sounded_s, 0) + " s of notes, against " + a4_in_words(playing.settings) +
                     ", on a " + kind_name(playing.instrument.kind) + " whose lowest note is " +
                     spelt(playing.instrument.lowest_midi, playing.instrument) + ".",
                 2);
  return prose + warning_lines(playing);
}

}  // namespace windway
