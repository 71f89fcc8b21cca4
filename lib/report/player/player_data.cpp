// SPDX-License-Identifier: GPL-3.0-or-later
// What programs read of check, compare, partner, playing and protocol.
#include "report/player/check_report.hpp"
#include "report/player/compare_report.hpp"
#include "report/player/partner_report.hpp"
#include "report/player/player_fields.hpp"
#include "report/player/playing_report.hpp"
#include "report/record/csv_record.hpp"
#include "report/record/json_record.hpp"

namespace windway {
namespace {

/// A table with a row for each record; `visit_fields(record, visit)` visits its columns.
template <typename Record, typename VisitFields>
std::string table_of(const std::vector<Record>& records, const VisitFields& visit_fields) {
  const auto record_of = [&](const Record& record) {
    CsvRecord columns;
    visit_fields(record, ColumnWriter{columns});
    return columns;
  };
  std::string csv = csv_header(record_of(Record{}));
  for (const Record& record : records) csv += csv_row(record_of(record));
  return csv;
}

std::vector<PlayedRow> rows_of(const Playing& playing) {
  std::vector<PlayedRow> rows;
  std::size_t in_scale = 0;
  for (const PlayedPitch& note : playing.notes) {
    PlayedRow& row = rows.emplace_back(PlayedRow{note, std::nullopt});
    if (!note.in_scale || !playing.further) continue;
    const MovedNote& moved = playing.further->notes[in_scale++];
    row.moved = {moved.cents, moved.u95_cents};
  }
  return rows;
}

}  // namespace

std::string check_json(const HeadCheck& check, const Measurement& earlier, const std::string& program_version) {
  return json_document("windway.check.v1", program_version,
                       [&](const JsonWriter& write) { visit_check(check, earlier.compromise->slide_mm, write); });
}

std::string compare_csv(const Comparison& comparison, const Measurement& before) {
  return table_of(comparison.notes, [&](const NoteChange& note, const ColumnWriter& write) {
    visit_note_change(note, spelt_for_people(note.note, before), write);
  });
}

std::string compare_json(const Comparison& comparison, const std::string& program_version) {
  return json_document("windway.comparison.v1", program_version,
                       [&](const JsonWriter& write) { visit_comparison(comparison, write); });
}

std::string partner_csv(const Partner& partner) {
  const int key = partner.temperament.key_pitch_class.value_or(0);
  return table_of(partner.notes, [&](const PartnerNote& note, const ColumnWriter& write) {
    visit_partner_note(note, note_name(note.midi, key, partner.note_names), write);
    visit_partner_pitch(partner, write);
  });
}

std::string partner_json(const Partner& partner, const std::string& program_version) {
  return json_document("windway.partner.v1", program_version,
                       [&](const JsonWriter& write) { visit_partner(partner, write); });
}

std::string playing_csv(const Playing& playing) {
  return table_of(rows_of(playing), [&](const PlayedRow& row, const ColumnWriter& write) {
    visit_played_note(row, spelt(row.note.midi, playing.instrument), write);
  });
}

std::string playing_json(const Playing& playing, const std::string& program_version) {
  return json_document("windway.playing.v1", program_version,
                       [&](const JsonWriter& write) { visit_playing(playing, rows_of(playing), write); });
}

std::string protocol_json(const Protocol& protocol, const std::string& program_version) {
  return json_document("windway.protocol.v1", program_version,
                       [&](const JsonWriter& write) { visit_protocol(protocol, write); });
}

}  // namespace windway
