// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "report/player/compare_report.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/spelling.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

std::string name_of(const NoteChange& change, const Measurement& before) {
  return spelt_for_people(change.note, before);
}

/// "The whole scale has fallen 7.9 cents (± 0.4)", "On the whole nothing has changed (± 0.4 cents)".
std::string change_line(const Comparison& comparison) {
  const CentsEstimate& mean = comparison.mean_change;
  const auto real = std::ranges::count_if(comparison.notes, &NoteChange::is_real);
  const std::string notes = count_in_words(comparison.notes.size(), "note");
  if (std::abs(mean.cents) <= mean.u95_cents) {
    return "On the whole nothing has changed (" +
           count_in_words(plus_minus(mean.u95_cents, places_deserved(mean.u95_cents, 1)), "cent") + ")" +
           (real == 0 ? "."
                      : "; of " + notes + ", " + std::to_string(real) +
                            (real == 1 ? " has surely changed." : " have surely changed."));
  }
  return std::string("The whole scale has ") + (mean.cents > 0 ? "risen " : "fallen ") + size_in_words(mean) + "; of " +
         notes + ", " + std::to_string(real) + (real == 1 ? " has" : " have") + " surely changed.";
}

std::string factor_line(const MeasuredMove& move) {
  const int places = places_deserved(move.factor.u95, 3);
  const std::string factor = fixed(move.factor.factor, places) + " (" + plus_minus(move.factor.u95, places) + ")";
  std::string line = std::string("The head was ") + (move.drawn_out_mm > 0 ? "drawn out " : "pushed in ") +
                     shortest(std::abs(move.drawn_out_mm)) + " mm: the pitch changed " + factor +
                     " times as much as the length of the tube predicts.";
  if (move.warming_told) {
    line += std::string(" Apart from the move, the flute was ") + size_in_words(move.warming) +
            (move.warming.cents > 0 ? " sharper, as if warmer." : " flatter, as if colder.");
  }
  return line;
}

Prose move_lines(const Comparison& comparison) {
  const MeasuredMove& move = *comparison.move;
  Prose lines = words(factor_line(move), 2);
  if (!move.is_telling) return lines;
  return lines + words("To use this from now on, put these lines into the instrument's file, under [head]:", 2) +
         Prose(Gap{}) +
         Prose(Code{
             {"slide_factor = " + fixed(move.factor.factor, 4), "slide_factor_u95 = " + fixed(move.factor.u95, 4)}});
}

Prose repeat_lines(const Repeat& repeat) {
  const int places = places_deserved(repeat.note_u95_cents, 1);
  return words("The head was not moved, so this shows how well you repeat a take. All notes together changed by " +
                   size_in_words(repeat.together) + ". Apart from that, a note of one take is sure to within " +
                   count_in_words(fixed(repeat.note_u95_cents, places), "cent") +
                   " (19 times in 20), blowing and warming included.",
               2);
}

std::string mean_of(const std::vector<NoteChange>& notes, std::optional<double> NoteChange::*wander) {
  double sum = 0;
  int count = 0;
  for (const NoteChange& note : notes)
    if (note.*wander) sum += *(note.*wander), ++count;
  return count > 0 ? fixed(sum / count, 1) : "-";
}

Prose steadiness_line(const Comparison& comparison) {
  const std::string before = mean_of(comparison.notes, &NoteChange::wander_before_cents);
  const std::string after = mean_of(comparison.notes, &NoteChange::wander_after_cents);
  if (before == "-" || after == "-") return {};
  return words("  Within a hold the pitch wandered " + before + " cents (SD) before, " + after + " after.", 2);
}

/// "From soft to hard the notes spread 21 cents on average before, 18 after; of 8 notes, 2 have surely changed."
Prose spread_line(const Comparison& comparison) {
  double before = 0, after = 0;
  std::size_t count = 0, real = 0;
  for (const NoteChange& note : comparison.notes) {
    if (!note.spread_change) continue;
    before += note.spread_before->cents;
    after += note.spread_after->cents;
    real += std::abs(note.spread_change->cents) > note.spread_change->u95_cents ? 1 : 0;
    ++count;
  }
  if (count == 0) return {};
  const auto notes = static_cast<double>(count);
  return words("  From soft to hard the notes spread " + fixed(before / notes, 1) + " cents on average before, " +
                   fixed(after / notes, 1) + " after; of " + count_in_words(count, "note") + ", " +
                   std::to_string(real) + (real == 1 ? " has" : " have") + " surely changed.",
               2);
}

Prose only_line(const std::vector<NoteId>& notes, const char* which, const Measurement& before) {
  if (notes.empty()) return {};
  std::vector<std::string> names;
  for (const NoteId& each : notes) names.push_back(spelt_for_people(each, before));
  return words(std::string("  Heard only ") + which + ": " + list_in_words(names) + ".", 2);
}

Prose note_table(const Comparison& comparison, const Measurement& before) {
  std::vector<Column> columns{{"note"},         {"before", true}, {"after", true},
                              {"change", true}, {"", true},       {"sure", true}};
  if (comparison.move) columns.push_back({"law", true});
  columns.insert(columns.end(), {{"spread", true}, {"then", true}, {"wander", true, 1}, {"then", true, 1}});
  std::vector<std::vector<std::string>> rows;
  for (const NoteChange& note : comparison.notes) {
    std::vector<std::string> row{name_of(note, before),
                                 figure_in_column(note.before),
                                 figure_in_column(note.after),
                                 figure_in_column(note.change),
                                 plus_minus(note.change.u95_cents, places_deserved(note.change.u95_cents, 1)),
                                 note.is_real ? "yes" : "no"};
    if (comparison.move) row.push_back(note.predicted_cents ? signed_fixed(*note.predicted_cents, 1) : "-");
    const auto spread = [](const auto& s) { return s ? fixed(s->cents, places_deserved(s->u95_cents, 1)) : "-"; };
    const auto wander = [](const auto& w) { return w ? fixed(*w, 1) : "-"; };
    row.insert(row.end(), {spread(note.spread_before), spread(note.spread_after), wander(note.wander_before_cents),
                           wander(note.wander_after_cents)});
    rows.push_back(std::move(row));
  }
  Prose prose = Prose(Grid{columns, rows}) +
                words("  cents from the target, at moderate breath; sure: the change is larger than its ±", 2);
  if (comparison.move) prose += words("  law: the change that the length of the air column predicts for the move", 2);
  return prose + words("  spread: from soft to hard; wander: SD of the pitch within a hold; then: the same after", 2);
}

}  // namespace

Prose compare_prose(const Comparison& comparison, const Measurement& before) {
  Prose prose = words(change_line(comparison), 2);
  if (comparison.move) prose += move_lines(comparison);
  if (comparison.repeat) prose += repeat_lines(*comparison.repeat);
  prose += Prose(Gap{}) + note_table(comparison, before) + Prose(Gap{}) + spread_line(comparison) +
           steadiness_line(comparison) + only_line(comparison.only_before, "before", before) +
           only_line(comparison.only_after, "after", before);
  if (!comparison.warnings.empty()) prose += Prose(Gap{});
  for (const Warning& warning : comparison.warnings) prose += words("warning: " + warning.message, 2);
  return prose;
}

}  // namespace windway
