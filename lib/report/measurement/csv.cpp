// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/csv.hpp"

#include "report/measurement/measurement_fields.hpp"
#include "report/measurement/note_fields.hpp"
#include "report/record/csv_record.hpp"

namespace windway {
namespace {

/// `moved` may be null: no move can be advised, its cells stay empty.
CsvRecord record_of(const NoteBreath& note, const MovedNote* moved, const Measurement& measurement) {
  const auto& compromise = measurement.compromise;
  std::string takes;
  for (const TakeInfo& take : measurement.takes) takes += (takes.empty() ? "" : "; ") + take.path;
  CsvRecord record;
  visit_note(note, spelt_for_people(note.id, measurement), ColumnWriter{record});
  visit_air_column(moved ? *moved : MovedNote{}, ColumnWriter{record, "", moved != nullptr});
  visit_moved(moved ? *moved : MovedNote{}, ColumnWriter{record, "moved_", moved != nullptr});
  visit_reference(measurement.settings, ColumnWriter{record});
  visit_compromise(compromise ? *compromise : Compromise{}, ColumnWriter{record, "", compromise.has_value()});
  record.emplace_back("takes", csv_cell(takes));
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
