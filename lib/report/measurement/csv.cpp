// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/csv.hpp"

#include <type_traits>

#include "report/measurement/measurement_fields.hpp"
#include "report/measurement/note_fields.hpp"
#include "report/wording/csv_record.hpp"
#include "report/wording/fields.hpp"
#include "report/wording/spelling.hpp"

namespace windway {
namespace {

std::string cell_of(double value) { return csv_cell(value); }
std::string cell_of(int value) { return std::to_string(value); }
std::string cell_of(bool value) { return value ? "true" : "false"; }
std::string cell_of(const std::string& value) { return csv_text(value); }

template <typename Choice>
requires std::is_enum_v<Choice> std::string cell_of(Choice choice) { return field_of(choice); }

template <typename Value>
std::string cell_of(const std::optional<Value>& value) {
  return value ? cell_of(*value) : "";
}

/// Adds a column for each field that it visits and that has one.
struct ColumnWriter {
  CsvRecord& record;
  std::string prefix = "";
  bool has_record = true;  ///< false: the cells stay empty

  template <typename Value>
  void operator()(const Field& field, const Value& value) const {
    if (field.in_csv) record.emplace_back(prefix + field.key, has_record ? cell_of(value) : "");
  }
  template <typename Pair>
  void operator()(const Field& field, const Field& u95_field, const Pair& pair) const {
    (*this)(field, u95_field, std::optional(pair));
  }
  template <typename Pair>
  void operator()(const Field& field, const Field& u95_field, const std::optional<Pair>& pair) const {
    if (!pair) {
      (*this)(field, std::optional<double>{});
      (*this)(u95_field, std::optional<double>{});
      return;
    }
    const auto& [value, u95] = *pair;
    (*this)(field, value);
    (*this)(u95_field, u95);
  }
};

/// `moved` may be null: no move can be advised, its cells stay empty.
CsvRecord record_of(const NoteBreath& note, const MovedNote* moved, const Measurement& measurement) {
  const NoteWords words{spelt_for_people(note.id, measurement), {}};
  const auto& compromise = measurement.compromise;
  std::string takes;
  for (const TakeInfo& take : measurement.takes) takes += (takes.empty() ? "" : "; ") + take.path;
  CsvRecord record;
  visit_note(note, words, ColumnWriter{record});
  visit_air_column(moved ? *moved : MovedNote{}, ColumnWriter{record, "", moved != nullptr});
  visit_moved(moved ? *moved : MovedNote{}, ColumnWriter{record, "moved_", moved != nullptr});
  visit_reference(measurement.settings, ColumnWriter{record});
  visit_compromise(compromise ? *compromise : Compromise{}, ColumnWriter{record, "", compromise.has_value()});
  record.emplace_back("takes", csv_text(takes));
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
