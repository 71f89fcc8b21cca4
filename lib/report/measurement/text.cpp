// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/text.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "report/measurement/advice.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/spelling.hpp"
#include "report/wording/words.hpp"
#include "slide/warming.hpp"

namespace windway {
namespace {

constexpr const char* not_measured = "-";

/// A figure for a column: figures with fewer places are padded so that the decimal points stand below each other.
std::string cell(const CentsEstimate& estimate, bool is_signed = true) {
  const int places = places_deserved(estimate.u95_cents, 1);
  return (is_signed ? signed_fixed(estimate.cents, places) : fixed(estimate.cents, places)) + (places == 0 ? "  " : "");
}

std::string cell(const std::optional<CentsEstimate>& estimate, bool is_signed = true) {
  return estimate ? cell(*estimate, is_signed) : not_measured;
}

bool any_midway(const Measurement& measurement) {
  const auto& notes = measurement.breath.notes;
  return std::any_of(notes.begin(), notes.end(), [](const NoteBreath& note) { return note.moderate_is_midway; });
}

std::string moderate_cell(const NoteBreath& note, bool marks_midway) {
  const char* mark = note.moderate_is_midway ? "*" : " ";
  return cell(note.moderate) + (marks_midway ? mark : "");
}

/// What the breath must do is part of the table only where the head's place is known.
bool shows_breath(const Measurement& measurement) {
  return measurement.compromise && measurement.breath.notes.size() > 1 && !is_in_deep_doubt(measurement);
}

/// Where the head stays, a note after the move is its moderate blow once more.
bool shows_move(const Measurement& measurement) {
  return shows_breath(measurement) && measurement.compromise->slide_mm != 0;
}

std::vector<Column> note_columns(const Measurement& measurement) {
  std::vector<Column> columns{{"note"}};
  if (shows_breath(measurement)) columns.push_back({"then blow"});
  if (shows_move(measurement)) columns.push_back({"moved", true});
  if (shows_breath(measurement)) columns.push_back({"beats", true});
  columns.insert(columns.end(),
                 {{"soft", true}, {"moderate", true}, {"hard", true}, {"spread", true}, {"holds", true}});
  return columns;
}

std::vector<std::string> note_row(const Measurement& measurement, std::size_t at) {
  const NoteBreath& note = measurement.breath.notes[at];
  std::vector<std::string> row{spelt_for_people(note.id, measurement)};
  if (shows_breath(measurement)) row.push_back(breath_in_words(measurement.compromise->notes[at]));
  if (shows_move(measurement)) {
    const MovedNote& moved = measurement.compromise->notes[at];
    row.push_back(cell(CentsEstimate{moved.cents, moved.u95_cents}));
  }
  if (shows_breath(measurement)) row.push_back(fixed(measurement.compromise->notes[at].beats_hz, 1));
  row.insert(row.end(), {cell(note.soft), moderate_cell(note, any_midway(measurement)), cell(note.hard),
                         cell(note.spread, false), std::to_string(note.holds)});
  return row;
}

std::string note_table(const Measurement& measurement) {
  std::vector<std::vector<std::string>> rows;
  for (std::size_t note = 0; note < measurement.breath.notes.size(); ++note) {
    rows.push_back(note_row(measurement, note));
  }
  return table(note_columns(measurement), rows);
}

/// A row for each note outside the scale: "C6: not in this scale (2 holds)".
std::string rows_outside_scale(const Measurement& measurement) {
  std::map<int, std::size_t> holds_by_midi;
  for (const NamedHold& named : measurement.naming.holds) {
    if (!named.in_scale) ++holds_by_midi[named.note.midi];
  }
  std::string rows;
  for (const auto& [midi, holds] : holds_by_midi) {
    rows +=
        "  " + spelt_for_people(midi, measurement) + ": not in this scale (" + count_in_words(holds, "hold") + ")\n";
  }
  return rows;
}

bool any_not_measured(const Measurement& measurement) {
  const auto& notes = measurement.breath.notes;
  return std::any_of(notes.begin(), notes.end(), [](const NoteBreath& note) { return !note.spread; });
}

std::string legend(const Measurement& measurement) {
  std::string lines = "  cents from the target (" + a4_in_words(measurement.settings) + ", " +
                      temperament_in_words(measurement.settings.tuning.temperament) + ", sounding pitch)\n";
  if (const auto& at = measurement.settings.quote_at_c)
    lines += "  as with the bore at " + shortest(*at) + " degrees C\n";
  if (shows_move(measurement)) lines += "  moved: at moderate breath, once the head is moved\n";
  if (shows_breath(measurement)) lines += "  beats: a second then, against a drone or a partner on the target\n";
  lines += std::string("  spread: from soft to hard") + (any_not_measured(measurement) ? "; -: not known\n" : "\n");
  if (any_midway(measurement)) lines += "  *: midway between soft and hard, as it was blown at two strengths only\n";
  return lines;
}

/// The steadiest and the most easily bent note, where spreads were measured on two notes at least.
std::string extremes_of_spread(const Measurement& measurement) {
  std::vector<const NoteBreath*> spread_notes;
  for (const NoteBreath& note : measurement.breath.notes) {
    if (note.spread) spread_notes.push_back(&note);
  }
  if (spread_notes.size() < 2) return "";
  const auto [least, most] = std::minmax_element(
      spread_notes.begin(), spread_notes.end(),
      [](const NoteBreath* a, const NoteBreath* b) { return std::abs(a->spread->cents) < std::abs(b->spread->cents); });
  const CentsEstimate& spread = *(*most)->spread;
  return " Steadiest: " + spelt_for_people((*least)->id, measurement) +
         "; most easily bent: " + spelt_for_people((*most)->id, measurement) + " (" +
         fixed(spread.cents, places_deserved(spread.u95_cents, 1)) + " cents from soft to hard).";
}

std::string summary(const Measurement& measurement) {
  double duration_s = 0;
  for (const TakeInfo& take : measurement.takes) duration_s += take.duration_s;
  const std::size_t takes = measurement.takes.size();
  return wrapped("  " + count_in_words(measurement.naming.holds.size(), "hold") + " of " +
                     count_in_words(measurement.breath.notes.size(), "note") + " in " + fixed(duration_s, 0) + " s" +
                     (takes > 1 ? " (" + std::to_string(takes) + " takes)" : "") + ", " +
                     instrument_in_words(measurement) + "." + extremes_of_spread(measurement),
                 2);
}

/// ", as much as warming by 1.2 degrees C would make".
std::string warming_in_words(const Drift& drift, const Air& air) {
  const double degrees_c = as_warming_c(drift.over_take_cents, air);
  const double u95_c = as_warming_c(drift.over_take_u95_cents, air);
  return std::string(", as much as ") + (degrees_c > 0 ? "warming" : "cooling") + " by " +
         fixed(std::abs(degrees_c), places_deserved(u95_c, 1)) + " degrees C would make it";
}

std::string drift_line(const Measurement& measurement) {
  const auto& drift = measurement.breath.drift;
  if (!drift || std::abs(drift->over_take_cents) <= drift->over_take_u95_cents) return "";
  const int places = places_deserved(drift->over_take_u95_cents, 1);
  std::string line = std::string("  Over the take the pitch ") + (drift->over_take_cents > 0 ? "rose " : "fell ") +
                     fixed(std::abs(drift->over_take_cents), places) + " cents (" +
                     plus_minus(drift->over_take_u95_cents, places) + ") by itself" +
                     warming_in_words(*drift, measurement.settings.air) + "; the notes are ";
  line +=
      drift->reference_time_s ? "given as at " + fixed(*drift->reference_time_s, 0) + " s." : "not corrected for it.";
  return wrapped(line, 2);
}

/// What is stated is how well this take was measured; one take cannot show how well the player repeats it.
std::string repeat_line(const Measurement& measurement) {
  if (measurement.takes.size() != 1 || !measurement.compromise || measurement.breath.notes.size() < 2) return "";
  return wrapped(
      "  One take cannot show how well you repeat it: record a second, the head where it is, and ask windway "
      "compare FIRST SECOND --same-setting.",
      2);
}

std::string warning_lines(const Measurement& measurement) {
  std::string lines;
  for (const Warning& warning : measurement.warnings) {
    if (is_said_already(warning)) continue;
    const bool has_stop = warning.message.ends_with('.') || warning.message.ends_with('?');
    lines += wrapped("warning: " + warning.message + (has_stop ? "" : "."), 2);
  }
  return lines.empty() ? lines : "\n" + lines;
}

}  // namespace

std::string text_report(const Measurement& measurement) {
  std::string text;
  for (const std::string& line : advice(measurement)) text += wrapped(line);
  text += "\n";
  const bool has_table = !measurement.breath.notes.empty();
  if (has_table) text += note_table(measurement);
  text += rows_outside_scale(measurement);
  if (has_table) text += legend(measurement);
  text += "\n" + summary(measurement) + drift_line(measurement);
  text += repeat_line(measurement);
  return text + warning_lines(measurement);
}

}  // namespace windway
