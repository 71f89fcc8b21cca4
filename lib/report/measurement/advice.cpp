// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/advice.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <string_view>

#include "report/measurement/takes_text.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/spelling.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

/// Warnings whose matter the advice or the table carries, besides the deep doubts, which are the advice: the limits of
/// the head come with what the breath must do, a note outside the scale has its row.
constexpr std::array said_already{WarningCode::head_position_unknown, WarningCode::fully_in,
                                  WarningCode::end_of_travel,         WarningCode::fixed_head,
                                  WarningCode::one_note_played,       WarningCode::not_in_scale};

/// Less than this off is in tune for a good ear (common practice, no source).
constexpr double in_tune_cents = 5.0;

/// Hertz of A4 that a cent makes near 440 Hz.
constexpr double a4_hz_per_cent = 440.0 / cents_per_neper;

/// What a move that the u95 leaves open would do to the scale.
double open_cents(const Compromise& compromise) {
  double cents_per_mm = 0;
  for (const MovedNote& note : compromise.notes)
    cents_per_mm += note.cents_per_mm / static_cast<double>(compromise.notes.size());
  return slide_u95_mm(compromise) * cents_per_mm;
}

/// The head stays, and what is open is less than a player hears.
bool is_already_set(const Compromise& compromise) {
  return stays(compromise) && open_cents(compromise) < in_tune_cents;
}

/// "1.2 mm (± 0.1)"
std::string move_in_words(const Compromise& compromise) {
  const double u95_mm = slide_u95_mm(compromise);
  const int places = places_deserved(u95_mm, 1);
  return fixed(std::abs(compromise.slide_mm), places) + " mm (" + plus_minus(u95_mm, places) + ")";
}

/// "comes down 7.9 cents (± 0.4)"
std::string shift_in_words(const Compromise& compromise) {
  return std::string("comes ") + (compromise.shift_cents < 0 ? "down " : "up ") +
         size_in_words({compromise.shift_cents, compromise.shift_u95_cents});
}

double mean_residual_cents(const Compromise& compromise) {
  double sum_cents = 0;
  for (const MovedNote& note : compromise.notes) sum_cents += note.cents;
  return sum_cents / static_cast<double>(std::max<std::size_t>(1, compromise.notes.size()));
}

double mean_moderate_cents(const std::vector<NoteBreath>& notes) {
  double sum_cents = 0;
  for (const NoteBreath& note : notes) sum_cents += note.moderate.cents;
  return sum_cents / static_cast<double>(std::max<std::size_t>(1, notes.size()));
}

std::string breath_sentence(const Measurement& measurement, const std::string& as_said) {
  std::vector<std::string> names;
  for (const NoteBreath& note : measurement.breath.notes) names.push_back(spelt_for_people(note.id, measurement));
  return breath_over_scale(measurement.compromise->notes, names, as_said);
}

std::string scale_in_words(const Measurement& measurement) {
  return find_warning(measurement.warnings, WarningCode::part_of_scale) ? "what you played of the scale"
                                                                        : "the whole scale";
}

std::string limited_move(const Measurement& measurement, const std::string& move, const std::string& stay) {
  const Compromise& compromise = *measurement.compromise;
  if (stays(compromise)) return stay + ": the scale is " + residuals_in_words(compromise) + ".";
  return move + ", " + move_in_words(compromise) + ": " + scale_in_words(measurement) + " " +
         shift_in_words(compromise) + " and is " + residuals_in_words(compromise) + ".";
}

std::string fixed_head_line(const Measurement& measurement) {
  const double off_cents = mean_moderate_cents(measurement.breath.notes);
  return "The head is fixed, so only the breath can tune it: the scale is " +
         deviation_in_words(off_cents, measurement.compromise->shift_u95_cents) + " on average.";
}

/// For those without a calliper: "A bank card is 0.76 mm thick: about one and a half of them."; empty for
/// other moves.
std::string card_aid(const Compromise& compromise) {
  constexpr double card_mm = 0.76;  // ISO/IEC 7810
  constexpr double most_mm = 1.5;
  static constexpr std::array<const char*, 5> halves{"", "half of one", "one of them", "one and a half of them",
                                                     "two of them"};
  const auto count = static_cast<std::size_t>(std::lround(std::abs(compromise.slide_mm) / card_mm * 2.0));
  if (stays(compromise) || std::abs(compromise.slide_mm) > most_mm || count == 0) return "";
  return std::string("Without a calliper: a bank card is 0.76 mm thick (ISO/IEC 7810), so about ") + halves[count] +
         ".";
}

/// What would tell the best place better, as far as the player has not done it yet.
std::string surer_in_words(const Measurement& measurement) {
  const bool lacks_blows =
      std::ranges::any_of(measurement.breath.notes, [](const NoteBreath& note) { return !note.spread; });
  if (lacks_blows) return "Blow each note soft, moderate and hard.";
  return measurement.takes.size() > 1
             ? "Record one more take with the head where it is, and give windway measure all of them."
             : "Record another take with the head where it is, and give windway measure both.";
}

/// Where no move can be told.
std::string stay_in_words(const Measurement& measurement) {
  const Compromise& compromise = *measurement.compromise;
  const std::string doubt = plus_minus(std::max(finest_move_mm, slide_u95_mm(compromise)), 1) + " mm";
  if (is_already_set(compromise)) return "The head is already set: its best place is where it is, " + doubt + ".";
  return "Leave the head where it is for now: this recording cannot tell its best place better than " + doubt + " (" +
         fixed(open_cents(compromise), 0) + " cents). " + surer_in_words(measurement);
}

std::string free_move(const Measurement& measurement) {
  const Compromise& compromise = *measurement.compromise;
  if (stays(compromise)) return stay_in_words(measurement);
  return std::string(compromise.slide_mm > 0 ? "Draw the head out " : "Push the head in ") + move_in_words(compromise) +
         ": " + scale_in_words(measurement) + " " + shift_in_words(compromise) + ".";
}

std::string head_line(const Measurement& measurement) {
  const Compromise& compromise = *measurement.compromise;
  if (measurement.places) return best_place_line(measurement, residuals_in_words(compromise));
  if (!compromise.limit) return free_move(measurement);
  switch (*compromise.limit) {
    case SlideLimit::fully_in:
      return limited_move(measurement, "Push the head fully in", "The head is fully in and goes no further");
    case SlideLimit::travel:
      return limited_move(measurement, "Draw the head out to the end of its travel",
                          "The head is at the end of its travel");
    case SlideLimit::fixed_head:
      break;
  }
  return fixed_head_line(measurement);
}

/// Beats of the moved note against a drone on the temperament; `moved` has those against the target.
double drone_beats_hz(const MovedNote& moved, double meant_cents, double drone_hz) {
  return meant_cents == 0 ? moved.beats_hz : std::abs(hz_at_cents(drone_hz, moved.cents + meant_cents) - drone_hz);
}

/// The A4 that the head can reach, as far as its travel is known.
std::string range_line(const Compromise& compromise) {
  if (!compromise.highest_a4_hz) return "";
  const std::string highest = fixed(*compromise.highest_a4_hz, 1);
  if (!compromise.lowest_a4_hz) {
    const bool is_fully_in = std::abs(*compromise.highest_a4_hz - compromise.home_a4_hz) < 0.05;
    return is_fully_in ? " The head is fully in, so that is its highest A4."
                       : " Fully in it would be at " + highest + " Hz, its highest A4.";
  }
  return " Its head reaches from " + fixed(*compromise.lowest_a4_hz, 1) + " Hz to " + highest + " Hz (fully in).";
}

/// What one change of the blowing for all notes would do, where the head cannot help.
std::string steady_blow_line(const SteadyBlow& blow) {
  const bool is_softer = blow.louder_db < 0;
  const std::string way = share_in_words(blow.way_share) + (is_softer ? " to soft" : " to hard");
  return std::string("To change all notes alike, blow ") + (is_softer ? "softer, " : "harder, ") + way + " (" +
         fixed(std::abs(blow.louder_db), 1) + " dB): the whole scale then comes " + (is_softer ? "down " : "up ") +
         count_in_words(fixed(std::abs(blow.shift_cents), 0), "cent") + ".";
}

bool may_be_fully_in(const Measurement& measurement) {
  return find_warning(measurement.warnings, WarningCode::head_position_unknown) && !measurement.compromise->limit &&
         !stays(*measurement.compromise);
}

std::vector<std::string> one_note_advice(const Measurement& measurement) {
  const NoteBreath& note = measurement.breath.notes.front();
  const std::string name = spelt_for_people(note.id, measurement);
  const bool lacks_blows = !note.spread;
  return {name + ", the only note, is " + deviation_in_words(note.moderate.cents, note.moderate.u95_cents) + " (" +
              plus_minus(note.moderate.u95_cents, places_deserved(note.moderate.u95_cents, 1)) + ") against " +
              a4_in_words(measurement.settings) + ".",
          std::string("One note cannot show where the head should be. Record the whole scale") +
              (lacks_blows ? ", each note soft, moderate and hard." : ".")};
}

/// No move, but the questions what is wrong, as the warnings put them.
std::vector<std::string> doubtful_questions(const Measurement& measurement) {
  std::vector<std::string> questions;
  for (const WarningCode code : deep_doubts)
    if (const Warning* warning = find_warning(measurement.warnings, code)) {
      questions.push_back(warning->message);
      questions.back()[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(questions.back()[0])));
    }
  return questions;
}

std::vector<std::string> move_advice(const Measurement& measurement, const std::string& as_said) {
  const Compromise& compromise = *measurement.compromise;
  std::vector<std::string> lines{head_line(measurement)};
  if (may_be_fully_in(measurement)) {
    lines.push_back("If it is already fully in, run again with --fully-in to see how to blow instead.");
  }
  if (compromise.limit) lines.push_back(breath_sentence(measurement, as_said));
  if (compromise.steady_blow) lines.push_back(steady_blow_line(*compromise.steady_blow));
  if (compromise.limit != SlideLimit::fixed_head) lines.push_back(check_line(measurement));
  if (const std::string aid = card_aid(compromise); !aid.empty() && !measurement.places) lines.push_back(aid);
  lines.push_back(home_line(measurement));
  return lines;
}

}  // namespace

bool stays(const Compromise& compromise) {
  const double least_mm = compromise.limit ? finest_move_mm : std::max(finest_move_mm, slide_u95_mm(compromise));
  return std::abs(compromise.slide_mm) < least_mm;
}

std::string residuals_in_words(const Compromise& compromise) {
  const std::string off = deviation_in_words(mean_residual_cents(compromise), compromise.shift_u95_cents);
  return off == "right in tune" ? "then right in tune on average" : "still " + off + " on average";
}

std::string check_line(const Measurement& measurement) {
  const Compromise& compromise = *measurement.compromise;
  const std::string name = spelt_for_people(compromise.check_note.id, measurement);
  const std::string line = stays(compromise) && !measurement.places
                               ? "Check it by " + name + ": blown moderately it should be "
                               : "Set it by " + name + ": blown moderately it should then be ";
  const auto checked = std::ranges::find(measurement.breath.notes, compromise.check_note.id, &NoteBreath::id);
  const MovedNote& moved = compromise.notes[static_cast<std::size_t>(checked - measurement.breath.notes.begin())];
  const NoteId& note = compromise.check_note.id;
  const double meant_cents = intended_cents(measurement.naming.instrument, note);
  const double drone_hz = target_hz(note.midi, measurement.settings.tuning);
  return line + deviation_in_words(compromise.check_note.cents + meant_cents, moved.u95_cents) +
         meant_in_words(meant_cents) + "; against a drone, " +
         beats_in_words(drone_beats_hz(moved, meant_cents, drone_hz)) + ".";
}

std::string home_line(const Measurement& measurement) {
  const Compromise& compromise = *measurement.compromise;
  const int places = places_deserved(compromise.shift_u95_cents * a4_hz_per_cent, 1);
  return home_place_in_words(measurement) + " this " + kind_name(measurement.naming.instrument.kind) +
         " is at home at A4 = " + fixed(compromise.home_a4_hz, places) + " Hz." + range_line(compromise);
}

bool is_in_deep_doubt(const Measurement& measurement) {
  return std::ranges::any_of(measurement.warnings, is_deep_doubt, &Warning::code);
}

bool is_said_already(const Warning& warning) {
  return is_deep_doubt(warning.code) || std::ranges::find(said_already, warning.code) != said_already.end();
}

std::vector<std::string> advice(const Measurement& measurement, const std::string& as_said) {
  const std::size_t notes = measurement.breath.notes.size();
  if (is_in_deep_doubt(measurement)) return doubtful_questions(measurement);
  if (notes == 0) return {"No note of the scale was measured, so nothing can be said about the head."};
  if (notes == 1) return one_note_advice(measurement);
  if (!measurement.compromise) return {"This recording cannot show where the head should be."};
  return move_advice(measurement, as_said);
}

}  // namespace windway
