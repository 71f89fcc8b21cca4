// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "measurement.hpp"
#include "slide/effort.hpp"

namespace windway {

/// A note as the figures show it.
struct PicturedNote {
  std::string name;  ///< as people spell it
  bool is_overblown = false;
  bool is_assumed = false;  ///< its reach was not measured
  SlideNote found;          ///< with its reach as measured, else as the compromise takes it
  TruePlaces true_mm;       ///< from where the notes are told for
  const NoteBreath* read = nullptr;
  const MovedNote* moved = nullptr;
};

/// What the figures of a measurement show. Points into the measurement, which must outlive it.
struct Pictured {
  std::vector<PicturedNote> notes;
  std::vector<SlideNote> found;  ///< of the notes, for the cost
  const Compromise* compromise = nullptr;
  bool head_moves = true;
  bool is_told = true;                ///< the take tells the best place from where the head is
  double home_cents = 0;              ///< how far the scale stands from the reference pitch, + sharp
  double at_mm = 0;                   ///< what the axis calls the place that the notes are told for
  bool is_out_of_fully_in = false;    ///< the axis counts from fully in, not from where the head was
  std::optional<double> fully_in_mm;  ///< on the axis of places
  std::optional<double> end_mm;
};

/// Empty where the head's place is in deep doubt, or fewer than two notes were measured.
std::optional<Pictured> pictured(const Measurement& measurement);

/// Whether the takes tell a move of the head: its best place from where it is, a move to an end of its travel, or, of
/// several places, the best one at all. The measurement has a compromise.
bool is_told(const Measurement& measurement);

/// What the note must read before the move to be in tune after it.
double asked_cents(const PicturedNote& note, double slide_mm);

/// "; how far the breath bends it was not measured"; empty: it was.
std::string reach_doubt_in_words(const PicturedNote& note);

bool any_reach_measured(const Pictured& pictured);

}  // namespace windway
