// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/csv.hpp"

#include <cmath>
#include <utility>
#include <vector>

#include "report/fields.hpp"
#include "report/figures.hpp"
#include "report/spelling.hpp"

namespace windway {
namespace {

/// A record's cells with their columns' names: header and rows come from one list and cannot part company.
using Record = std::vector<std::pair<const char*, std::string>>;

std::string cell(double value) { return std::isfinite(value) ? shortest(rounded(value)) : ""; }
std::string cell(const std::optional<double>& value) { return value ? cell(*value) : ""; }

std::string quoted(const std::string& text) {
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string cell = "\"";
  for (const char letter : text) cell += letter == '"' ? "\"\"" : std::string(1, letter);
  return cell + "\"";
}

void append(Record& record, const char* cents_column, const char* u95_column,
            const std::optional<CentsEstimate>& estimate) {
  record.emplace_back(cents_column, estimate ? cell(estimate->cents) : "");
  record.emplace_back(u95_column, estimate ? cell(estimate->u95_cents) : "");
}

void append_note(Record& record, const NoteBreath& note, const Measurement& measurement) {
  record.emplace_back("note", quoted(spelt_for_people(note, measurement)));
  record.emplace_back("midi", std::to_string(note.midi));
  record.emplace_back("register", std::to_string(note.register_number));
  record.emplace_back("target_hz", cell(note.target_hz));
  record.emplace_back("holds", std::to_string(note.holds));
  append(record, "soft_cents", "soft_u95_cents", note.soft);
  append(record, "moderate_cents", "moderate_u95_cents", note.moderate);
  record.emplace_back("moderate_is_midway", note.moderate_is_midway ? "true" : "false");
  append(record, "hard_cents", "hard_u95_cents", note.hard);
  append(record, "spread_cents", "spread_u95_cents", note.spread);
  append(record, "cents_per_db", "cents_per_db_u95", note.cents_per_db);
  record.emplace_back("level_range_db", cell(note.level_range_db));
  record.emplace_back("reach_soft_cents", cell(note.reach_soft_cents));
  record.emplace_back("reach_hard_cents", cell(note.reach_hard_cents));
}

/// `moved` may be null: no move can be advised, the cells stay empty.
void append_moved(Record& record, const MovedNote* moved) {
  const auto of = [moved](double MovedNote::*figure) { return moved ? cell(moved->*figure) : ""; };
  record.emplace_back("effective_length_mm", of(&MovedNote::effective_length_mm));
  record.emplace_back("cents_per_mm", of(&MovedNote::cents_per_mm));
  record.emplace_back("moved_cents", of(&MovedNote::cents));
  record.emplace_back("moved_u95_cents", of(&MovedNote::u95_cents));
  record.emplace_back("moved_effort", of(&MovedNote::effort));
  record.emplace_back("moved_breath", moved ? field_of(moved->breath) : "");
  record.emplace_back("moved_breath_share", moved ? cell(moved->breath_share) : "");
  record.emplace_back("moved_breath_db", moved ? cell(moved->breath_db) : "");
  record.emplace_back("moved_beats_hz", of(&MovedNote::beats_hz));
}

void append_compromise(Record& record, const Measurement& measurement) {
  const auto& compromise = measurement.compromise;
  const auto of = [&compromise](double Compromise::*figure) { return compromise ? cell((*compromise).*figure) : ""; };
  std::string takes;
  for (const TakeInfo& take : measurement.takes) takes += (takes.empty() ? "" : "; ") + take.path;
  record.emplace_back("a4_hz", cell(measurement.settings.tuning.a4_hz));
  record.emplace_back("slide_mm", of(&Compromise::slide_mm));
  record.emplace_back("slide_u95_mm", of(&Compromise::slide_u95_mm));
  record.emplace_back("slide_model_u95_mm", of(&Compromise::slide_model_u95_mm));
  record.emplace_back("shift_cents", of(&Compromise::shift_cents));
  record.emplace_back("shift_u95_cents", of(&Compromise::shift_u95_cents));
  record.emplace_back("limit", compromise && compromise->limit ? field_of(*compromise->limit) : "");
  record.emplace_back("home_a4_hz", of(&Compromise::home_a4_hz));
  record.emplace_back("takes", quoted(takes));
}

Record record_of(const NoteBreath& note, const MovedNote* moved, const Measurement& measurement) {
  Record record;
  append_note(record, note, measurement);
  append_moved(record, moved);
  append_compromise(record, measurement);
  return record;
}

template <typename CellOf>
std::string line_of(const Record& record, CellOf cell_of) {
  std::string line;
  for (const auto& column : record) line += (line.empty() ? "" : ",") + std::string(cell_of(column));
  return line + "\r\n";
}

}  // namespace

std::string csv_report(const Measurement& measurement) {
  const auto& notes = measurement.breath.notes;
  std::string csv =
      line_of(record_of(NoteBreath{}, nullptr, measurement), [](const auto& column) { return column.first; });
  for (std::size_t note = 0; note < notes.size(); ++note) {
    const MovedNote* moved = measurement.compromise ? &measurement.compromise->notes[note] : nullptr;
    csv += line_of(record_of(notes[note], moved, measurement), [](const auto& column) { return column.second; });
  }
  return csv;
}

}  // namespace windway
