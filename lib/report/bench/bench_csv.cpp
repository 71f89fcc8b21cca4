// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/bench_csv.hpp"

#include <algorithm>

#include "report/bench/line_fields.hpp"
#include "report/record/csv_record.hpp"

namespace windway {
namespace {

std::string reasons_of(const BenchEntry& entry) {
  std::string reasons;
  for (const EntryJudged& each : entry.judged)
    if (!each.message.empty()) reasons += (reasons.empty() ? "" : "; ") + each.message;
  return reasons;
}

/// The verdict on the note itself, after the move; empty where none was asked.
std::optional<VerdictResult> note_verdict(const BenchEntry& entry, const EntryNote& note) {
  const auto found = std::ranges::find_if(entry.judged, [&](const EntryJudged& each) {
    return each.judged.criterion == Criterion::note && each.judged.note == note.id;
  });
  return found != entry.judged.end() ? std::optional(found->judged.result) : std::nullopt;
}

/// Of a take that could not be measured `note` has nothing, and its cells stay empty.
CsvRecord record_of(const BenchEntry& entry, const std::optional<EntryNote>& note) {
  CsvRecord record;
  const auto column = [&](const char* name, const auto& value) { record.emplace_back(name, csv_cell(value)); };
  const auto estimate = [&](const char* name, const char* u95_name, const std::optional<CentsEstimate>& value) {
    ColumnWriter{record}(Field{name, "", in_csv}, u95_name, value);
  };
  Subject subject = entry.subject;
  subject.recorded_at = entry.recorded_at;
  column("take", entry.path);
  visit_subject(subject, ColumnWriter{record});
  column("counts", entry.counting.counts);
  column("verdict", entry.result);
  column("reasons", reasons_of(entry));
  column("error", entry.error);
  column("slide_mm", entry.slide_mm);
  column("slide_u95_mm", entry.slide_mm ? std::optional(entry.slide_u95_mm) : std::nullopt);
  column("head_rests_mm", entry.head_rests_mm);
  column("home_a4_hz", entry.home_a4_hz);
  estimate("octave_cents", "octave_u95_cents", entry.octave);
  column("evenness_cents", entry.evenness_cents);
  column("note", note ? spelt(entry, note->id) : "");
  column("midi", note ? std::optional(note->id.midi) : std::nullopt);
  column("register", note ? std::optional(note->register_number) : std::nullopt);
  estimate("moderate_cents", "moderate_u95_cents", note ? std::optional(note->moderate) : std::nullopt);
  estimate("moved_cents", "moved_u95_cents", note ? note->moved : std::nullopt);
  estimate("spread_cents", "spread_u95_cents", note ? note->spread : std::nullopt);
  column("note_verdict", note ? note_verdict(entry, *note) : std::nullopt);
  return record;
}

}  // namespace

std::string bench_csv_header() { return csv_header(record_of(BenchEntry{}, std::nullopt)); }

std::string bench_csv_rows(const BenchEntry& entry) {
  if (entry.notes.empty()) return csv_row(record_of(entry, std::nullopt));
  std::string rows;
  for (const EntryNote& note : entry.notes) rows += csv_row(record_of(entry, note));
  return rows;
}

}  // namespace windway
