// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <set>

#include "report/measurement/advice.hpp"
#include "report/player/take_history_fields.hpp"
#include "report/player/take_history_report.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

constexpr auto not_told = "-";

/// The files' names, or their whole paths where two are called alike.
std::vector<std::string> short_names(const std::vector<FluteResult>& takes) {
  std::vector<std::string> names, paths;
  for (const FluteResult& take : takes) {
    names.push_back(std::filesystem::path(take.name).filename().string());
    paths.push_back(take.name);
  }
  const std::set<std::string> different(names.begin(), names.end());
  return different.size() == names.size() ? names : paths;
}

std::string order_in_words(const TakeHistory& history) {
  if (history.takes.size() == 1) return ".";
  return history.is_by_time ? ", in order of time."
                            : ", in the order given: when they were recorded does not show which came first.";
}

std::string home_cell(const Compromise& move) {
  constexpr double a4_hz_per_cent = 440.0 / cents_per_neper;
  return fixed(move.home_a4_hz, places_deserved(move.shift_u95_cents * a4_hz_per_cent, 1));
}

std::string move_cell(const Compromise& move) {
  if (move.limit == SlideLimit::fully_in) return "fully in";
  if (move.limit == SlideLimit::travel) return "to its end";
  if (move.limit == SlideLimit::fixed_head) return "fixed";
  return signed_with_u95(move.slide_mm, slide_u95_mm(move));
}

Grid takes_table(const TakeHistory& history, const std::vector<std::string>& names) {
  std::vector<std::vector<std::string>> rows;
  for (std::size_t i = 0; i < names.size(); ++i) {
    const Measurement& measurement = history.takes[i].measurement;
    const Compromise* move = told_move(measurement);
    const auto& out_mm = measurement.settings.head.out_mm;
    rows.push_back({names[i], recorded_at(measurement).value_or(not_told), out_mm ? shortest(*out_mm) : not_told,
                    move ? home_cell(*move) : not_told, move ? move_cell(*move) : not_told});
  }
  return {{{"take"}, {"recorded"}, {"head out", true}, {"home A4", true}, {"move", true}}, rows};
}

/// "the whole scale has risen 3.1 cents (± 0.4)"
std::string together_in_words(const CentsEstimate& together) {
  if (std::abs(together.cents) <= together.u95_cents)
    return "on the whole nothing has changed (" +
           count_in_words(plus_minus(together.u95_cents, places_deserved(together.u95_cents, 1)), "cent") + ")";
  return std::string("the whole scale has ") + (together.cents > 0 ? "risen " : "fallen ") + size_in_words(together);
}

std::string apart_in_words(const TakeStep& step, const Measurement& after) {
  std::vector<std::string> apart;
  for (const SteppedNote& note : step.notes) {
    if (!note.is_apart) continue;
    const int places = places_deserved(note.apart.u95_cents, 1);
    apart.push_back(spelt_for_people(note.note, after) + " " + signed_fixed(note.apart.cents, places) + " (" +
                    plus_minus(note.apart.u95_cents, places) + ")");
  }
  if (step.notes.size() < 2) return "";
  return apart.empty() ? "; no note surely differs from the others"
                       : "; apart from that, in cents, " + list_in_words(apart);
}

std::string head_in_words(const TakeStep& step) {
  if (!step.drawn_out_mm)
    return " The place of the head is not known for both takes: if it was moved, the change includes that.";
  if (*step.drawn_out_mm == 0) return "";
  return std::string(" The head was ") + (*step.drawn_out_mm > 0 ? "drawn out " : "pushed in ") +
         shortest(rounded(std::abs(*step.drawn_out_mm))) + " mm in between, which is allowed for.";
}

std::string air_in_words(const Measurement& before, const Measurement& after) {
  const bool is_alike = quoted_air(before.settings).temperature_c == quoted_air(after.settings).temperature_c;
  return is_alike ? "" : " The bore temperatures given are allowed for too.";
}

Prose step_prose(const TakeStep& step, const TakeHistory& history, const std::vector<std::string>& names) {
  const Measurement& before = history.takes[step.before].measurement;
  const Measurement& after = history.takes[step.after].measurement;
  const bool has_moved = step.drawn_out_mm.value_or(0.0) != 0.0;
  std::string air = air_in_words(before, after);
  if (!air.empty() && !has_moved) air = " The bore temperatures given are allowed for.";
  return words("  " + names[step.before] + " to " + names[step.after] + ": " + together_in_words(step.together) +
                   apart_in_words(step, after) + "." + head_in_words(step) + air,
               4);
}

Prose agreement_prose(const DayAgreement& agreement) {
  const double least_cents = std::numbers::sqrt2 * agreement.note_u95_cents;
  return words("From take to take, a note strays " + fixed(agreement.note_sd_cents, 1) +
               " cents from the others (SD), and all notes together " + fixed(agreement.together_sd_cents, 1) +
               ". If the flute was not worked on, that is how evenly you blow and warm it. A change of one note by "
               "less than " +
               fixed(least_cents, 1) + " cents then says nothing about the flute.");
}

Prose doubts_prose(const TakeHistory& history, const std::vector<std::string>& names) {
  Prose lines;
  for (std::size_t i = 0; i < names.size(); ++i)
    for (const WarningCode doubt : deep_doubts)
      if (const Warning* warning = find_warning(history.takes[i].measurement.warnings, doubt))
        lines += words("warning: " + names[i] + ": " + warning->message, 2);
  return lines.empty() ? lines : Prose(Gap{}) + lines;
}

}  // namespace

const Compromise* told_move(const Measurement& measurement) {
  const bool is_told = measurement.compromise && measurement.breath.notes.size() > 1 && !is_in_deep_doubt(measurement);
  return is_told ? &*measurement.compromise : nullptr;
}

Prose take_history_prose(const TakeHistory& history) {
  const std::vector<std::string> names = short_names(history.takes);
  Prose prose = words(count_in_words(names.size(), "take") + " of one flute (" +
                      instrument_in_words(history.takes.back().measurement) + ")" + order_in_words(history)) +
                Prose(Gap{}) + Prose(takes_table(history, names));
  prose +=
      words("  head out: mm while recording; home A4: Hz, with the head there; move: mm to the best place, + out", 4);
  if (history.steps.empty()) return prose + doubts_prose(history, names);
  prose += Prose(Gap{}) + words("What has changed, at moderate breath:");
  for (const TakeStep& step : history.steps) prose += step_prose(step, history, names);
  prose += words(
      "  ± says how surely each take was measured. A change of all notes together may come from warmth, from "
      "blowing, or from a head that was not at the place given. A change of one note may come from the flute, or from "
      "how that note was blown.",
      4);
  if (history.agreement) prose += Prose(Gap{}) + agreement_prose(*history.agreement);
  return prose + doubts_prose(history, names);
}

}  // namespace windway
