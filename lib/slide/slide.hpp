// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "breath/breath.hpp"
#include "warning.hpp"

namespace windway {

/// No player sets a head more finely (common practice, no source).
inline constexpr double finest_move_mm = 0.1;

/// How well a player repeats a moderate blow, SD, where no repeats tell (common practice, no source).
inline constexpr double usual_repeat_db = 1.0;

/// Where the head stands and how it may move.
struct Head {
  bool moves = true;
  std::optional<double> out_mm;         ///< how far out of fully in it was while recording; 0: fully in
  std::optional<double> travel_mm;      ///< how far out it can go at most
  std::optional<SlideFactor> factor{};  ///< as measured on this instrument; absent: the law as it is
};

enum class BreathAdvice { as_it_is, softer, harder, out_of_reach };
enum class SlideLimit { fully_in, travel, fixed_head };

/// The head of the instrument, as far as is known of it and the call does not say otherwise.
Head known_head(Head head, const Instrument& instrument);

/// One note after the move.
struct MovedNote {
  double cents = 0;  ///< residual at moderate breath
  double u95_cents = 0;
  double effort = 0;  ///< |residual| / reach
  BreathAdvice breath = BreathAdvice::as_it_is;
  std::optional<double>
      breath_share;  ///< of the player's own way from moderate to soft (or hard); absent: as it is, or unknown
  std::optional<double> breath_db;  ///< the same in dB, + louder
  double beats_hz = 0;              ///< against a drone on the target, at moderate breath
  double reach_soft_cents = 0;      ///< as used: at least 5 cents, filled in where not measured
  double reach_hard_cents = 0;
  double effective_length_mm = 0;
  double cents_per_mm = 0;  ///< size of the change a mm of drawing out makes, positive
};

struct CheckNote {
  NoteId id;
  double cents = 0;   ///< what it should read after the move, blown moderately
  double u95_mm = 0;  ///< how surely it sets the head
};

/// What a steady change of the blowing does for all notes at once, where the head cannot be moved.
struct SteadyBlow {
  double louder_db = 0;    ///< + harder, - softer
  double way_share = 0;    ///< of the way from moderate to hard (or soft), 0 to 1
  double shift_cents = 0;  ///< mean change of the pitch
  double cost_after = 0;
};

/// The move of the head that asks least of the breath.
struct Compromise {
  double slide_mm = 0;  ///< + draws out
  double slide_u95_mm = 0;
  double slide_model_u95_mm = 0;  ///< the cents-per-mm law itself: 5 % until calibrated
  double shift_cents = 0;
  double shift_u95_cents = 0;
  std::optional<SlideLimit> limit;
  double cost_before = 0;
  double cost_after = 0;
  double home_a4_hz = 440;
  std::optional<double> lowest_a4_hz;     ///< at home at the end of the travel; absent: the travel is not known
  std::optional<double> highest_a4_hz;    ///< at home fully in; absent: not known how far out it is
  std::optional<SteadyBlow> steady_blow;  ///< where the head is at a limit and the notes' answer to the breath is known
  CheckNote check_note;
  std::vector<MovedNote> notes;  ///< in the order of the notes given
  Warnings warnings;
};

/// How surely the move is told, by the notes and the law together.
double slide_u95_mm(const Compromise& compromise);

/// The home A4 at the end of the head's way that keeps it from its best place; empty where it is free, or fixed.
std::optional<double> end_a4_hz(const Compromise& compromise);

/// A drawn joint's step in the bore makes some percent of the law (N. H. Fletcher & T. D. Rossing, The Physics of
/// Musical Instruments (1998), sec. 8.10); a factor outside these is a move that was misread, or another flute.
inline constexpr double least_slide_factor = 0.8, most_slide_factor = 1.25;

/// Share of a move that the law of the slide may be wrong by (u95): 5 % until the instrument has been calibrated.
double law_u95_share(const Head& head);

/// Widens what hangs on the reference pitch by its own u95, cents: the slide, the shift, the notes after the move.
Compromise with_doubtful_reference(Compromise compromise, double a4_u95_cents);

/// Finds the compromise for notes with their breath response. `notes` must not be empty.
/// `repeat_db`: how well the player repeats a moderate blow (absent: 1 dB).
Compromise find_compromise(const std::vector<NoteBreath>& notes, const Head& head, double a4_hz,
                           double speed_of_sound_m_s, std::optional<double> repeat_db);

}  // namespace windway
