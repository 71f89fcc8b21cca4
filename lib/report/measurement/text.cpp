// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/text.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "report/measurement/advice.hpp"
#include "report/measurement/pictured.hpp"
#include "report/measurement/takes_text.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/spelling.hpp"
#include "report/wording/words.hpp"
#include "slide/warming.hpp"

namespace windway {
namespace {

constexpr const char* not_measured = "-";

/// How the table says what the breath must do: breath_in_words or breath_in_short.
using BreathWords = std::string (*)(const MovedNote&);

/// A figure for a column: figures with fewer places are padded so that the decimal points stand below each other.
std::string cell(const CentsEstimate& estimate, bool is_signed = true) {
  const int places = places_deserved(estimate.u95_cents, 1);
  return (is_signed ? signed_fixed(estimate.cents, places) : fixed(estimate.cents, places)) + (places == 0 ? "  " : "");
}

std::string cell(const std::optional<CentsEstimate>& estimate, bool is_signed = true) {
  return estimate ? cell(*estimate, is_signed) : not_measured;
}

std::string moderate_cell(const NoteBreath& note, bool marks_midway) {
  const char* mark = note.moderate_is_midway ? "*" : " ";
  return cell(note.moderate) + (marks_midway ? mark : "");
}

std::vector<Column> note_columns(const Measurement& measurement) {
  std::vector<Column> columns{{"note"}};
  if (shows_breath(measurement)) columns.push_back({"then blow"});
  if (shows_move(measurement)) columns.push_back({"moved", true});
  if (shows_breath(measurement)) columns.push_back({"beats", true, 1});
  columns.insert(columns.end(),
                 {{"soft", true}, {"moderate", true}, {"hard", true}, {"spread", true, 2}, {"holds", true, 3}});
  return columns;
}

std::vector<std::string> note_row(const Measurement& measurement, std::size_t at, BreathWords breath) {
  const NoteBreath& note = measurement.breath.notes[at];
  std::vector<std::string> row{spelt_for_people(note.id, measurement)};
  if (shows_breath(measurement)) row.push_back(breath(measurement.compromise->notes[at]));
  if (shows_move(measurement)) {
    const MovedNote& moved = measurement.compromise->notes[at];
    row.push_back(cell(CentsEstimate{moved.cents, moved.u95_cents}));
  }
  if (shows_breath(measurement)) row.push_back(fixed(measurement.compromise->notes[at].beats_hz, 1));
  row.insert(row.end(), {cell(note.soft), moderate_cell(note, any_midway(measurement)), cell(note.hard),
                         cell(note.spread, false), std::to_string(note.holds)});
  return row;
}

Grid note_table(const Measurement& measurement, BreathWords breath) {
  std::vector<std::vector<std::string>> rows;
  for (std::size_t note = 0; note < measurement.breath.notes.size(); ++note) {
    rows.push_back(note_row(measurement, note, breath));
  }
  return {note_columns(measurement), rows};
}

bool any_share(const Measurement& measurement) {
  return shows_breath(measurement) &&
         std::ranges::any_of(measurement.compromise->notes, [](const MovedNote& note) { return !!note.breath_share; });
}

/// What to blow is written out where the screen has room for the whole table, else in short.
bool is_in_short(const Measurement& measurement, std::size_t columns) {
  constexpr std::size_t no_limit = 1000;
  return shows_breath(measurement) &&
         !fits(text_of(Prose(note_table(measurement, breath_in_words)), no_limit), columns);
}

bool any_not_measured(const Measurement& measurement) {
  const auto& notes = measurement.breath.notes;
  return std::any_of(notes.begin(), notes.end(), [](const NoteBreath& note) { return !note.spread; });
}

/// "  Each note counts by its share of the melody: D5 12 %, E5 8 %, ...", where a melody weighs the notes.
Prose weights_line(const Measurement& measurement) {
  if (measurement.settings.weights.empty()) return {};
  double sum = 0;
  for (const NoteBreath& note : measurement.breath.notes) sum += note.weight;
  std::string shares;
  for (const NoteBreath& note : measurement.breath.notes)
    shares += (shares.empty() ? "" : ", ") + spelt_for_people(note.id, measurement) + " " +
              fixed(100.0 * note.weight / std::max(sum, 1e-9), 0) + " %";
  return words("  Each note counts by the time that it sounds in the melody: " + shares + ".", 2);
}

/// Where its maker means notes off the temperament; nothing where all are on it.
Prose targets_line(const Measurement& measurement) {
  const Instrument& instrument = measurement.naming.instrument;
  const std::string sentence =
      targets_in_words(instrument.stretch_cents_per_octave, own_targets(instrument),
                       [&](const NoteId& note) { return spelt_for_people(note, measurement); });
  return sentence.empty() ? Prose() : words("  " + sentence, 2);
}

std::string extremes_of_spread(const Measurement& measurement) {
  const auto bent = least_and_most_bent(measurement);
  if (!bent) return "";
  const auto& [least, most] = *bent;
  return " The breath bends " + spelt_for_people(least->id, measurement) + " least and " +
         spelt_for_people(most->id, measurement) + " most (" + spread_in_words(*most) + ").";
}

Prose summary(const Measurement& measurement) {
  double duration_s = 0;
  for (const TakeInfo& take : measurement.takes) duration_s += take.duration_s;
  const std::size_t takes = measurement.takes.size();
  std::size_t holds = measurement.naming.holds.size();
  if (holds == 0)  // a line of windway batch, which leaves them out
    for (const NoteBreath& note : measurement.breath.notes) holds += static_cast<std::size_t>(note.holds);
  return words("  " + count_in_words(holds, "hold") + " of " + count_in_words(measurement.breath.notes.size(), "note") +
                   " in " + fixed(duration_s, 0) + " s" + (takes > 1 ? " (" + std::to_string(takes) + " takes)" : "") +
                   ", " + instrument_in_words(measurement) + "." + extremes_of_spread(measurement),
               2);
}

/// ", as if the flute warmed by 1.2 degrees C".
std::string warming_in_words(const Drift& drift, const Air& air) {
  const double degrees_c = as_warming_c(drift.over_take_cents, air);
  const double u95_c = as_warming_c(drift.over_take_u95_cents, air);
  return std::string(", as if the flute ") + (degrees_c > 0 ? "warmed" : "cooled") + " by " +
         count_in_words(fixed(std::abs(degrees_c), places_deserved(u95_c, 1)), "degree") + " C";
}

Prose drift_line(const Measurement& measurement) {
  const auto& drift = measurement.breath.drift;
  if (!drift || drift->step_cents || std::abs(drift->over_take_cents) <= drift->over_take_u95_cents) return {};
  std::string line = std::string("  During the take the pitch ") + (drift->over_take_cents > 0 ? "rose " : "fell ") +
                     size_in_words({drift->over_take_cents, drift->over_take_u95_cents}) + " by itself" +
                     warming_in_words(*drift, measurement.settings.air) + ". The notes are ";
  line += drift->reference_time_s ? "given as they were at " + fixed(*drift->reference_time_s, 0) + " s."
                                  : "not corrected for it.";
  return words(line, 2);
}

/// What is stated is how well this take was measured; one take cannot show how well the player repeats it.
Prose repeat_line(const Measurement& measurement) {
  if (measurement.takes.size() != 1 || !shows_breath(measurement)) return {};
  return words(
      "  One take cannot show how well you repeat it. Record a second with the head where it is, then ask: windway "
      "compare FIRST SECOND --same-setting",
      2);
}

}  // namespace

bool shows_breath(const Measurement& measurement) {
  return measurement.compromise && measurement.breath.notes.size() > 1 && !is_in_deep_doubt(measurement);
}

bool any_midway(const Measurement& measurement) {
  return std::ranges::any_of(measurement.breath.notes, &NoteBreath::moderate_is_midway);
}

bool shows_move(const Measurement& measurement) {
  return shows_breath(measurement) && measurement.compromise->slide_mm != 0 && is_told(measurement);
}

std::string place_for_beats(const Measurement& measurement) {
  if (!measurement.settings.head.moves) return "";
  if (shows_move(measurement)) return "once the head is moved, ";
  return measurement.compromise->limit ? "with the head where it is, " : "with the head at its best place, ";
}

Prose rows_outside_scale(const Measurement& measurement) {
  std::map<int, std::size_t> holds_by_midi;
  for (const NamedHold& named : measurement.naming.holds) {
    if (!named.in_scale) ++holds_by_midi[named.note.midi];
  }
  Prose rows;
  for (const auto& [midi, holds] : holds_by_midi) {
    rows += words(
        "  " + spelt_for_people(midi, measurement) + ": not in this scale (" + count_in_words(holds, "hold") + ")", 2);
  }
  return rows;
}

std::optional<std::pair<const NoteBreath*, const NoteBreath*>> least_and_most_bent(const Measurement& measurement) {
  std::vector<const NoteBreath*> spread_notes;
  for (const NoteBreath& note : measurement.breath.notes)
    if (note.spread) spread_notes.push_back(&note);
  if (spread_notes.size() < 2) return std::nullopt;
  const auto [least, most] = std::ranges::minmax_element(
      spread_notes, {}, [](const NoteBreath* note) { return std::abs(note->spread->cents); });
  return std::pair{*least, *most};
}

std::string spread_in_words(const NoteBreath& note) {
  const CentsEstimate& spread = *note.spread;
  return count_in_words(fixed(spread.cents, places_deserved(spread.u95_cents, 1)), "cent") + " from soft to hard";
}

Prose measurement_prose(const Measurement& measurement, std::size_t columns, const Prose& under_table) {
  Prose prose;
  for (const std::string& line : advice(measurement)) prose += words(line, 2);
  prose += Prose(Gap{});
  const bool has_table = !measurement.breath.notes.empty();
  const BreathWords breath = is_in_short(measurement, columns) ? breath_in_short : breath_in_words;
  if (has_table) prose += Prose(note_table(measurement, breath));
  prose += rows_outside_scale(measurement);
  if (has_table) prose += note_legend(measurement, columns);
  if (!under_table.empty()) prose += Prose(Gap{}) + under_table;
  return prose + Prose(Gap{}) + remarks(measurement) + warnings_prose(measurement);
}

Prose note_legend(const Measurement& measurement, std::size_t columns) {
  const MeasureSettings& settings = measurement.settings;
  Prose lines = words("  cents from the target (" + a4_in_words(settings) + ", " +
                          temperament_in_words(settings.tuning.temperament, settings.note_names) + ", sounding pitch)",
                      2);
  const auto add = [&](const std::string& line) { lines += words("  " + line, 2); };
  lines += place_legend(measurement);
  if (const auto& at = settings.quote_at_c) add("given for a bore at " + shortest(*at) + " degrees C");
  if (any_share(measurement) && is_in_short(measurement, columns))
    add("then blow: 1/4 way is a quarter of your way from moderate to soft, or to hard");
  if (shows_move(measurement)) add("moved: at moderate breath, once the head is moved");
  if (shows_breath(measurement))
    add("beats: a second, " + place_for_beats(measurement) + "against a drone on the target");
  add(std::string("spread: from soft to hard") + (any_not_measured(measurement) ? "; -: not known" : ""));
  if (any_midway(measurement)) add("*: midway between soft and hard; only two strengths were blown");
  return lines;
}

Prose remarks(const Measurement& measurement) {
  return summary(measurement) + drift_line(measurement) + repeat_line(measurement) + targets_line(measurement) +
         weights_line(measurement) + law_line(measurement) + agreement_line(measurement);
}

Prose warnings_prose(const Measurement& measurement) {
  Prose lines;
  for (const Warning& warning : measurement.warnings) {
    if (is_said_already(warning)) continue;
    const bool has_stop = warning.message.ends_with('.') || warning.message.ends_with('?');
    lines += words("warning: " + warning.message + (has_stop ? "" : "."), 2);
  }
  return lines.empty() ? lines : Prose(Gap{}) + lines;
}

}  // namespace windway
