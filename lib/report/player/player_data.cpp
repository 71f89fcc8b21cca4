// SPDX-License-Identifier: GPL-3.0-or-later
// What programs read of card, check, compare, history of takes, partner, playing and protocol.
#include <algorithm>

#include "report/player/card_fields.hpp"
#include "report/player/card_report.hpp"
#include "report/player/check_fields.hpp"
#include "report/player/check_report.hpp"
#include "report/player/compare_report.hpp"
#include "report/player/partner_report.hpp"
#include "report/player/player_fields.hpp"
#include "report/player/playing_report.hpp"
#include "report/player/take_history_fields.hpp"
#include "report/player/take_history_report.hpp"
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

struct CardCsvRow {
  double a4_hz = 0;
  CardCell cell;
};

std::vector<CardCsvRow> rows_of(const HeadCard& card) {
  std::vector<CardCsvRow> rows;
  for (const CardRow& row : card.rows)
    for (const CardCell& cell : row.cells) rows.push_back({row.a4_hz, cell});
  return rows;
}

const FluteResult no_take{};

struct HistoryCsvRow {
  const FluteResult* take = &no_take;
  NoteBreath note{};
  std::optional<SteppedNote> step{};  ///< absent: the first take, or a note that the take before has not
};

std::optional<SteppedNote> stepped_note(const TakeHistory& history, std::size_t after, const NoteId& note) {
  if (after == 0) return std::nullopt;
  const std::vector<SteppedNote>& notes = history.steps[after - 1].notes;
  const auto found = std::ranges::find(notes, note, &SteppedNote::note);
  return found == notes.end() ? std::nullopt : std::optional(*found);
}

/// `name`: of the note.
void visit_history_row(const HistoryCsvRow& row, const std::string& name, const ColumnWriter& write) {
  visit_flute_result(*row.take, write);
  visit_note_id(name, row.note.id, write);
  write(Field{"moderate_cents", "", in_csv}, "moderate_u95_cents", row.note.moderate);
  visit_stepped_note(row.step, write);
}

}  // namespace

std::string take_history_csv(const TakeHistory& history) {
  std::vector<HistoryCsvRow> rows;
  for (std::size_t take = 0; take < history.takes.size(); ++take)
    for (const NoteBreath& note : history.takes[take].measurement.breath.notes)
      rows.push_back({&history.takes[take], note, stepped_note(history, take, note.id)});
  return table_of(rows, [&](const HistoryCsvRow& row, const ColumnWriter& write) {
    visit_history_row(row, spelt_for_people(row.note.id, row.take->measurement), write);
  });
}

std::string take_history_json(const TakeHistory& history, const std::string& program_version) {
  return json_document("windway.take_history.v1", program_version,
                       [&](const JsonWriter& write) { visit_take_history(history, write); });
}

std::string card_csv(const HeadCard& card, const Measurement& measurement) {
  return table_of(rows_of(card), [&](const CardCsvRow& row, const ColumnWriter& write) {
    visit_card_a4(row.a4_hz, write);
    visit_card_cell(row.cell, card.check_note, spelt_for_people(card.check_note, measurement), write);
  });
}

std::string card_json(const HeadCard& card, const Measurement& measurement, const std::string& program_version) {
  const InstrumentWords instrument = words_of(measurement.naming);
  return json_document("windway.card.v1", program_version,
                       [&](const JsonWriter& write) { visit_card(card, measurement, instrument, write); });
}

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
