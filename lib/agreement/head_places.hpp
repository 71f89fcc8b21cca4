// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "agreement/take_notes.hpp"
#include "agreement/take_table.hpp"
#include "slide/slide.hpp"

namespace windway {

/// No player sets a head to the same place more surely than this, SD: the finest move as a u95.
inline constexpr double place_sd_mm = finest_move_mm / 2;

/// Takes recorded with the head at several places, and how they are brought to one.
struct HeadPlaces {
  std::vector<double> out_mm;  ///< by take
  double at_mm = 0;            ///< the place that all are brought to: the mean, to 0.1 mm
  /// The factor that fits the takes best, warmth and the setting of the head allowed for; absent: no note was held at
  /// two places.
  std::optional<SlideFactor> factor;
  bool factor_is_telling = false;       ///< it is surer than what was known, and was taken
  std::optional<double> rest_sd_cents;  ///< of one note of one take about the law with that factor
  std::vector<NoteId> not_following;    ///< notes that stand out from it; the factor is of the others
};

/// True if the places given are not all alike.
bool are_several_places(const std::vector<double>& out_mm);

/// By cell: what the law foretells of the move from the common place to the take's.
std::vector<double> foretold_cents(const TakeTable& table, const std::vector<TakeNotes>& takes,
                                   const HeadPlaces& places, double speed_of_sound_m_s);

/// Fits the law of the slide to the takes: `out_mm` by take, `known` what is known of the head.
HeadPlaces fit_places(const std::vector<TakeNotes>& takes, const std::vector<double>& out_mm, const Head& known,
                      double speed_of_sound_m_s);

/// The factor that the takes are brought together by.
SlideFactor factor_taken(const HeadPlaces& places, const Head& known);

/// What the move from the place of its take to the common place makes of a pitch, cents.
double brought_cents(const HeadPlaces& places, int take, double length_mm, double factor);

/// Each hold as it would be at the common place (NamedHold::brought_cents).
Naming brought_together(Naming naming, const HeadPlaces& places, double factor, double speed_of_sound_m_s);
/// The same of each take's notes.
std::vector<TakeNotes> brought_together(std::vector<TakeNotes> takes, const HeadPlaces& places, double factor,
                                        double speed_of_sound_m_s);

}  // namespace windway
