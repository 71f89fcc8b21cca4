// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/bench_csv.hpp"

#include <algorithm>
#include <utility>

#include "report/lines/line_fields.hpp"

namespace windway {
namespace {

using Members = std::vector<std::pair<std::string, std::string>>;

std::string reasons_cell(const BenchEntry& entry) {
  std::string reasons;
  for (const EntryJudged& each : entry.judged)
    if (!each.message.empty()) reasons += (reasons.empty() ? "" : "; ") + each.message;
  return reasons;
}

std::string codes_of(const std::vector<WarningCode>& warnings) {
  std::string codes;
  for (const WarningCode code : warnings) codes.append(codes.empty() ? "" : " ").append(text_of(code));
  return codes;
}

/// The worst of what was judged on the note itself: after the move, its spread, whether it was heard. Empty where
/// nothing was asked.
std::optional<VerdictResult> note_verdict(const BenchEntry& entry, const NoteId& note) {
  std::vector<Judged> of_note;
  for (const EntryJudged& each : entry.judged)
    if (each.judged.note == note) of_note.push_back(each.judged);
  return of_note.empty() ? std::nullopt : std::optional(worst_of(of_note));
}

/// One row's note.
struct NoteRow {
  std::optional<NoteId> id{};       ///< absent: the take could not be measured
  const EntryNote* note = nullptr;  ///< null: it was not heard
};

/// Notes that were judged and not heard come last.
std::vector<NoteRow> rows_of(const BenchEntry& entry) {
  std::vector<NoteRow> rows;
  for (const EntryNote& note : entry.notes) rows.push_back({note.id, &note});
  for (const EntryJudged& each : entry.judged)
    if (each.judged.note && std::ranges::find(rows, each.judged.note, &NoteRow::id) == rows.end())
      rows.push_back({each.judged.note, nullptr});
  if (rows.empty()) rows.emplace_back();
  return rows;
}

const std::string* content_of(const Members& members, const std::string& name) {
  const auto found = std::ranges::find(members, name, &Members::value_type::first);
  return found == members.end() ? nullptr : &found->second;
}

void add_note(const BenchEntry& entry, const NoteRow& row, CsvRecord& record) {
  const EntryNote* note = row.note;
  const auto column = [&](const char* name, const auto& value) { record.emplace_back(name, csv_cell(value)); };
  const auto estimate = [&](const char* name, const char* u95_name, const std::optional<CentsEstimate>& value) {
    ColumnWriter{record}(Field{name, "", in_csv}, u95_name, value);
  };
  column("note", row.id ? std::optional(spelt(entry, *row.id)) : std::nullopt);
  column("midi", row.id ? std::optional(row.id->midi) : std::nullopt);
  column("register", note ? std::optional(note->register_number) : std::nullopt);
  estimate("moderate_cents", "moderate_u95_cents", note ? std::optional(note->moderate) : std::nullopt);
  estimate("moved_cents", "moved_u95_cents", note ? note->moved : std::nullopt);
  estimate("spread_cents", "spread_u95_cents", note ? note->spread : std::nullopt);
  column("note_verdict", row.id ? note_verdict(entry, *row.id) : std::nullopt);
}

/// Without the manifest's own columns; `entry.subject.other` has those without a column.
CsvRecord record_of(const BenchEntry& entry, const NoteRow& row) {
  CsvRecord record;
  const auto column = [&](const char* name, const auto& value) { record.emplace_back(name, csv_cell(value)); };
  Subject subject = entry.subject;
  subject.recorded_at = entry.recorded_at;
  column("take", entry.path);
  visit_subject(subject, ColumnWriter{record});
  column("counts", entry.counting.counts);
  column("verdict", entry.result);
  column("reasons", reasons_cell(entry));
  column("error", entry.error);
  column("warnings", codes_of(entry.warnings));
  column("slide_mm", entry.slide_mm);
  column("slide_u95_mm", entry.slide_mm ? std::optional(entry.slide_u95_mm) : std::nullopt);
  column("head_rests_mm", entry.head_rests_mm);
  column("home_a4_hz", entry.home_a4_hz);
  ColumnWriter{record}(Field{"octave_cents", "", in_csv}, "octave_u95_cents", entry.octave);
  column("evenness_cents", entry.evenness_cents);
  add_note(entry, row, record);
  return record;
}

/// Those of the manifest that are not called as one of the table's.
std::vector<std::string> own_columns_of(const Members& other, const CsvRecord& table) {
  std::vector<std::string> own;
  for (const auto& [name, content] : other)
    if (std::ranges::find(table, name, &CsvRecord::value_type::first) == table.end()) own.push_back(name);
  return own;
}

void add_own(const std::vector<std::string>& columns, const Members& other, CsvRecord& record) {
  for (const std::string& name : columns) {
    const std::string* content = content_of(other, name);
    record.emplace_back(name, csv_cell(content != nullptr ? *content : ""));
  }
}

}  // namespace

std::string BenchCsv::header_before(const BenchEntry& entry) {
  if (std::exchange(has_header_, true)) return "";
  CsvRecord record = record_of(BenchEntry{}, NoteRow{});
  own_columns_ = own_columns_of(entry.subject.other, record);
  add_own(own_columns_, {}, record);
  return csv_header(record, form_);
}

std::string BenchCsv::add(const BenchEntry& entry) {
  std::string rows = header_before(entry);
  BenchEntry without_own = entry;
  std::erase_if(without_own.subject.other, [&](const auto& member) {
    return std::ranges::find(own_columns_, member.first) != own_columns_.end();
  });
  for (const NoteRow& row : rows_of(without_own)) {
    CsvRecord record = record_of(without_own, row);
    add_own(own_columns_, entry.subject.other, record);
    rows += csv_row(record, form_);
  }
  return rows;
}

std::string BenchCsv::finish() { return header_before({}); }

}  // namespace windway
