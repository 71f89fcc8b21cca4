// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/bench_csv.hpp"

#include <algorithm>

#include "report/wording/csv_record.hpp"
#include "report/wording/fields.hpp"

namespace windway {
namespace {

std::string text_or_empty(const std::optional<std::string>& text) { return text ? csv_text(*text) : ""; }

std::string joined(const std::vector<std::string>& texts) {
  std::string all;
  for (const std::string& text : texts) all += (all.empty() ? "" : "; ") + text;
  return csv_text(all);
}

std::string reasons_of(const BenchEntry& entry) {
  std::vector<std::string> reasons;
  for (const EntryJudged& each : entry.judged)
    if (!each.message.empty()) reasons.push_back(each.message);
  return joined(reasons);
}

std::string other_columns(const Subject& subject) {
  std::vector<std::string> columns;
  for (const auto& [name, content] : subject.other) columns.emplace_back(name).append("=").append(content);
  return joined(columns);
}

void append_subject(CsvRecord& record, const BenchEntry& entry) {
  const Subject& subject = entry.subject;
  record.emplace_back("take", csv_text(entry.path));
  for (const auto& [name, text] : subject_texts) record.emplace_back(name, text_or_empty(subject.*text));
  record.emplace_back("retake", subject.retake ? std::to_string(*subject.retake) : "");
  record.emplace_back("recorded_at", text_or_empty(entry.recorded_at));
  record.emplace_back("remark", text_or_empty(subject.remark));
  record.emplace_back("other", other_columns(subject));
}

void append_verdict(CsvRecord& record, const BenchEntry& entry) {
  record.emplace_back("counts", entry.counts ? "true" : "false");
  record.emplace_back("verdict", entry.result ? field_of(*entry.result) : "");
  record.emplace_back("reasons", reasons_of(entry));
  record.emplace_back("error", csv_text(entry.error));
  record.emplace_back("slide_mm", csv_cell(entry.slide_mm));
  record.emplace_back("slide_u95_mm", entry.slide_mm ? csv_cell(entry.slide_u95_mm) : "");
  record.emplace_back("head_rests_mm", csv_cell(entry.head_rests_mm));
  record.emplace_back("home_a4_hz", csv_cell(entry.home_a4_hz));
  append_estimate(record, "octave_cents", "octave_u95_cents", entry.octave);
  record.emplace_back("evenness_cents", csv_cell(entry.evenness_cents));
}

/// The verdict on the note itself, after the move; empty where none was asked.
std::string note_verdict(const BenchEntry& entry, const EntryNote& note) {
  const auto found = std::ranges::find_if(entry.judged, [&](const EntryJudged& each) {
    return each.judged.criterion == Criterion::note && each.judged.note == note.id;
  });
  return found != entry.judged.end() ? field_of(found->judged.result) : "";
}

/// `note` may be null: the take could not be measured, the cells stay empty.
void append_note(CsvRecord& record, const BenchEntry& entry, const EntryNote* note) {
  record.emplace_back("note", note ? csv_text(spelt(entry, note->id)) : "");
  record.emplace_back("midi", note ? std::to_string(note->id.midi) : "");
  record.emplace_back("register", note ? std::to_string(note->register_number) : "");
  append_estimate(record, "moderate_cents", "moderate_u95_cents", note ? std::optional(note->moderate) : std::nullopt);
  append_estimate(record, "moved_cents", "moved_u95_cents", note ? note->moved : std::nullopt);
  append_estimate(record, "spread_cents", "spread_u95_cents", note ? note->spread : std::nullopt);
  record.emplace_back("note_verdict", note ? note_verdict(entry, *note) : "");
}

CsvRecord record_of(const BenchEntry& entry, const EntryNote* note) {
  CsvRecord record;
  append_subject(record, entry);
  append_verdict(record, entry);
  append_note(record, entry, note);
  return record;
}

}  // namespace

std::string bench_csv_header() { return csv_header(record_of(BenchEntry{}, nullptr)); }

std::string bench_csv_rows(const BenchEntry& entry) {
  if (entry.notes.empty()) return csv_row(record_of(entry, nullptr));
  std::string rows;
  for (const EntryNote& note : entry.notes) rows += csv_row(record_of(entry, &note));
  return rows;
}

}  // namespace windway
