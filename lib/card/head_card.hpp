// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "measurement.hpp"

namespace windway {

/// Where the head belongs at one reference pitch and one temperature of the air in the bore.
struct CardCell {
  double bore_temp_c = 0;
  std::optional<double> slide_mm{};  ///< from where it stood at the take, + draws out; absent: too far off for a move
  std::optional<double> slide_u95_mm{};  ///< of the notes and of the law of the slide together
  std::optional<double> head_out_mm{};   ///< the same as a place; absent: not known where it stood
  std::optional<SlideLimit> limit{};     ///< the best place lies beyond it, and the head rests there
  std::optional<CentsEstimate> check{};  ///< what the card's check note should then read; absent with slide_mm
};

/// True where the head can be set to what the cell says, and nothing more is asked of it.
inline bool is_reached(const CardCell& cell) { return cell.slide_mm && !cell.limit; }

struct CardRow {
  double a4_hz = 0;
  std::vector<CardCell> cells;  ///< in the order of card_temps_c
};

/// Where the head of one flute belongs.
struct HeadCard {
  NoteId check_note;          ///< to set the head by, the same in every cell
  std::vector<CardRow> rows;  ///< A4 ascending
  /// How much farther out the head belongs for each degree that the bore is warmer, mm: mean of the cells that are
  /// reached; absent: no two of a row are.
  std::optional<double> mm_per_degree;
};

/// Temperatures of the air in the bore: from a cold room to the warmest that the formula for the speed of sound was
/// made for (30 degrees C, lib/slide/air.hpp).
inline constexpr double card_temps_c[] = {15, 18, 20, 22, 25, 28, 30};

/// The reference pitches of a card, Hz: 438 to 445 where the take's own lies among them, else eight about that.
std::vector<double> card_a4s_hz(double a4_hz);

/// The card of a measured flute. Each cell is the compromise that `measure` finds of the same notes with that A4 and
/// quoted at that temperature; one such search a cell. Throws Error where the take does not say where the head belongs
/// (kind recording: it is in deep doubt, or has no or one note), or where the head is fixed (kind usage).
HeadCard head_card(const Measurement& measurement);

/// The same for these A4s and temperatures alone.
HeadCard head_card(const Measurement& measurement, const std::vector<double>& a4s_hz,
                   const std::vector<double>& bore_temps_c);

}  // namespace windway
