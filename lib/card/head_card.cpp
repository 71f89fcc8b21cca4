// SPDX-License-Identifier: GPL-3.0-or-later
#include "card/head_card.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <string>

#include "breath/raised_targets.hpp"

namespace windway {
namespace {

constexpr double usual_lowest_hz = 438.0;
constexpr int row_count = 8;

[[noreturn]] void refuse(ErrorKind kind, const std::string& why) { throw Error(kind, "cannot make a card: " + why); }

void refuse_without_answer(const Measurement& measurement) {
  for (const WarningCode doubt : deep_doubts)
    if (const Warning* warning = find_warning(measurement.warnings, doubt))
      refuse(ErrorKind::recording, "the take cannot show where the head belongs: " + warning->message);
  const std::size_t notes = measurement.breath.notes.size();
  if (notes < 2 || !measurement.compromise)
    refuse(ErrorKind::recording,
           std::string("the take ") + (notes == 1 ? "has one note only" : "has no measured scale") +
               ", so it cannot show where the head belongs; record the whole scale, each note soft, moderate and hard");
  if (!measurement.settings.head.moves)
    refuse(ErrorKind::usage,
           "the head of this flute is fixed, so there is no place to set it to; windway measure says "
           "how to blow");
}

/// `checked`: which of the notes is the check note.
CardCell cell_of(const Compromise& compromise, const Head& head, double bore_temp_c, std::size_t checked) {
  CardCell cell{.bore_temp_c = bore_temp_c};
  const bool is_doubtful =
      std::ranges::any_of(compromise.warnings, [](const Warning& warning) { return is_deep_doubt(warning.code); });
  if (is_doubtful) return cell;
  cell.slide_mm = compromise.slide_mm;
  cell.slide_u95_mm = slide_u95_mm(compromise);
  if (head.out_mm) cell.head_out_mm = *head.out_mm + compromise.slide_mm;
  cell.limit = compromise.limit;
  cell.check = CentsEstimate{compromise.notes[checked].cents, compromise.notes[checked].u95_cents};
  return cell;
}

/// The notes as `measure` gives them with that A4, quoted at that air.
CardCell cell_at(const Measurement& measurement, double a4_hz, double bore_temp_c) {
  const MeasureSettings& settings = measurement.settings;
  Air air = settings.air;
  air.temperature_c = bore_temp_c;
  const double warmer_cents = air_change_cents(quoted_air(settings), air);
  const std::vector<NoteBreath> notes =
      with_targets_raised(shifted(measurement.breath.notes, warmer_cents), cents_between(settings.tuning.a4_hz, a4_hz));
  const Compromise compromise =
      find_compromise(notes, settings.head, a4_hz, speed_of_sound_m_s(air), measurement.breath.repeat_db);
  const auto checked = std::ranges::find(notes, measurement.compromise->check_note.id, &NoteBreath::id);
  return cell_of(compromise, settings.head, bore_temp_c, static_cast<std::size_t>(checked - notes.begin()));
}

/// From each cell to the next of its row, where both are reached.
std::optional<double> mm_per_degree(const std::vector<CardRow>& rows) {
  double mm = 0, degrees = 0;
  for (const CardRow& row : rows) {
    for (std::size_t i = 1; i < row.cells.size(); ++i) {
      const CardCell& colder = row.cells[i - 1];
      const CardCell& warmer = row.cells[i];
      if (!is_reached(colder) || !is_reached(warmer)) continue;
      mm += *warmer.slide_mm - *colder.slide_mm;
      degrees += warmer.bore_temp_c - colder.bore_temp_c;
    }
  }
  return degrees > 0 ? std::optional(mm / degrees) : std::nullopt;
}

}  // namespace

std::vector<double> card_a4s_hz(double a4_hz) {
  constexpr double usual_highest_hz = usual_lowest_hz + row_count - 1;
  constexpr double half_row_hz = 0.5;  // what rounds to a row is among them
  constexpr int rows_below = 2;        // of 440 Hz there are two
  const bool is_usual = a4_hz >= usual_lowest_hz - half_row_hz && a4_hz < usual_highest_hz + half_row_hz;
  const double lowest_hz = is_usual ? usual_lowest_hz : std::round(a4_hz) - rows_below;
  std::vector<double> rows;
  for (int row = 0; row < row_count; ++row) rows.push_back(lowest_hz + row);
  return rows;
}

HeadCard head_card(const Measurement& measurement) {
  return head_card(measurement, card_a4s_hz(measurement.settings.tuning.a4_hz),
                   {std::begin(card_temps_c), std::end(card_temps_c)});
}

HeadCard head_card(const Measurement& measurement, const std::vector<double>& a4s_hz,
                   const std::vector<double>& bore_temps_c) {
  refuse_without_answer(measurement);
  HeadCard card;
  card.check_note = measurement.compromise->check_note.id;
  for (const double a4_hz : a4s_hz) {
    CardRow& row = card.rows.emplace_back(CardRow{a4_hz, {}});
    for (const double bore_temp_c : bore_temps_c) row.cells.push_back(cell_at(measurement, a4_hz, bore_temp_c));
  }
  card.mm_per_degree = mm_per_degree(card.rows);
  return card;
}

}  // namespace windway
