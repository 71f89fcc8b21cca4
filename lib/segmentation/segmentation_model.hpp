// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace windway {

/// What is known of breath, tubes, rooms and recorders before a take is heard: all parameters of the segmentation
/// (segmentation.hpp). Costs are negative log likelihoods, in nats. Fitted by windway_fit_segmentation to drawn takes,
/// but for pitch_sd_cents, vibrato_share, change, bend, interrupt, interrupted and slipped, which tests set.
struct SegmentationModel {
  // A frame of a blown note.
  double pitch_sd_cents = 12;  ///< of a frame about its note: vibrato and the analysis
  double pitch_outlier_share = 0.0562;
  double untonal_share =
      0.003;  ///< of the frames in which something sounds that are not tonal; and of those of silence that are
  double level_range_db = 24.5;  ///< between a take's loud frames and its softest blown notes
  double fall_db_per_s = 5;      ///< the level of a blown note falls no faster, but for the next
  double fall_sd_db_per_s = 9.4;
  double noise_ratio = 2.297;  ///< breath noise changes so many times as fast as its tone, in dB
  double noise_ratio_sd = 0.5648;
  double noise_fall_sd_db_per_s = 20;  ///< reading of a slope of the noise
  double fade = 2.8;                   ///< cost of a frame whose tone the room moves while the breath goes on
  double unheard = 0.75;  ///< cost of a frame of a blown note without breath, in takes in which breath is heard
  double independent_share = 0.2746;  ///< frames overlap: what one adds to its neighbours

  // A frame of anything else.
  double echo_fall_db_per_s = 70;  ///< tone and noise of an echo both fall at this rate
  double echo_fall_sd_db_per_s = 47.6;
  double vibrato_share = 0.1;  ///< of the level's movement that repeats each period, where there is vibrato

  // What changes cost.
  double begin = 12.26;  ///< a blow
  double end = 1.552;
  double change = 21;        ///< of note, without a gap
  double bend = 9;           ///< of the pitch by a cell
  double other = 0.5;        ///< between silence, echo, unsteady and foreign sound
  double interrupt = 5;      ///< a blown tone that comes back: a cut, a tap, a slip of the register
  double interrupted = 0.8;  ///< for each frame
  double slipped = 0.9;      ///< likewise, in another register

  double shortest_blow_s = 0.145;
};

}  // namespace windway
