// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/csv.hpp"

#include "report/wording/csv_record.hpp"
#include "report/wording/fields.hpp"
#include "report/wording/spelling.hpp"

namespace windway {
namespace {

void append_note(CsvRecord& record, const NoteBreath& note, const Measurement& measurement) {
  record.emplace_back("note", csv_text(spelt_for_people(note, measurement)));
  record.emplace_back("midi", std::to_string(note.midi));
  record.emplace_back("register", std::to_string(note.register_number));
  record.emplace_back("target_hz", csv_cell(note.target_hz));
  record.emplace_back("holds", std::to_string(note.holds));
  append_estimate(record, "soft_cents", "soft_u95_cents", note.soft);
  append_estimate(record, "moderate_cents", "moderate_u95_cents", note.moderate);
  record.emplace_back("moderate_is_midway", note.moderate_is_midway ? "true" : "false");
  append_estimate(record, "hard_cents", "hard_u95_cents", note.hard);
  append_estimate(record, "spread_cents", "spread_u95_cents", note.spread);
  append_estimate(record, "cents_per_db", "cents_per_db_u95", note.cents_per_db);
  record.emplace_back("level_range_db", csv_cell(note.level_range_db));
  record.emplace_back("reach_soft_cents", csv_cell(note.reach_soft_cents));
  record.emplace_back("reach_hard_cents", csv_cell(note.reach_hard_cents));
}

/// `moved` may be null: no move can be advised, the cells stay empty.
void append_moved(CsvRecord& record, const MovedNote* moved) {
  const auto of = [moved](double MovedNote::*figure) { return moved ? csv_cell(moved->*figure) : ""; };
  record.emplace_back("effective_length_mm", of(&MovedNote::effective_length_mm));
  record.emplace_back("cents_per_mm", of(&MovedNote::cents_per_mm));
  record.emplace_back("moved_cents", of(&MovedNote::cents));
  record.emplace_back("moved_u95_cents", of(&MovedNote::u95_cents));
  record.emplace_back("moved_effort", of(&MovedNote::effort));
  record.emplace_back("moved_breath", moved ? field_of(moved->breath) : "");
  record.emplace_back("moved_breath_share", moved ? csv_cell(moved->breath_share) : "");
  record.emplace_back("moved_breath_db", moved ? csv_cell(moved->breath_db) : "");
  record.emplace_back("moved_beats_hz", of(&MovedNote::beats_hz));
}

void append_compromise(CsvRecord& record, const Measurement& measurement) {
  const auto& compromise = measurement.compromise;
  const auto of = [&compromise](double Compromise::*figure) {
    return compromise ? csv_cell((*compromise).*figure) : "";
  };
  std::string takes;
  for (const TakeInfo& take : measurement.takes) takes += (takes.empty() ? "" : "; ") + take.path;
  record.emplace_back("a4_hz", csv_cell(measurement.settings.tuning.a4_hz));
  record.emplace_back("slide_mm", of(&Compromise::slide_mm));
  record.emplace_back("slide_u95_mm", of(&Compromise::slide_u95_mm));
  record.emplace_back("slide_model_u95_mm", of(&Compromise::slide_model_u95_mm));
  record.emplace_back("shift_cents", of(&Compromise::shift_cents));
  record.emplace_back("shift_u95_cents", of(&Compromise::shift_u95_cents));
  record.emplace_back("limit", compromise && compromise->limit ? field_of(*compromise->limit) : "");
  record.emplace_back("home_a4_hz", of(&Compromise::home_a4_hz));
  record.emplace_back("takes", csv_text(takes));
}

CsvRecord record_of(const NoteBreath& note, const MovedNote* moved, const Measurement& measurement) {
  CsvRecord record;
  append_note(record, note, measurement);
  append_moved(record, moved);
  append_compromise(record, measurement);
  return record;
}

}  // namespace

std::string csv_report(const Measurement& measurement) {
  const auto& notes = measurement.breath.notes;
  std::string csv = csv_header(record_of(NoteBreath{}, nullptr, measurement));
  for (std::size_t note = 0; note < notes.size(); ++note) {
    const MovedNote* moved = measurement.compromise ? &measurement.compromise->notes[note] : nullptr;
    csv += csv_row(record_of(notes[note], moved, measurement));
  }
  return csv;
}

}  // namespace windway
