// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace windway {

/// What is known of flutes' harmonics, bores and rooms before a tone is heard: the parameters by which the octave is
/// decided (in_step.hpp, tone.hpp). windway_fit_octave tells what drawn takes say of them.
struct OctaveModel {
  double in_step_correlation = 0.9;  ///< of a harmonic's amplitudes over a few windows, in a room
  double heard_at_most = 0.7;        ///< how often a harmonic is heard at all, were there no noise
  double faint = 0.01;               ///< of the tone's power: half of the harmonics are fainter
  double foreign = 0.3;              ///< how often another sound covers a harmonic that is too weak to be heard
  double frame_weight = 0.8;         ///< of one look's log likelihood: windows share samples
  double slip_nats = 7.0;            ///< another fundamental where the strongest line changes, or a blow begins
  double same_line_nats = 40.0;      ///< another fundamental under the same strongest line
};

}  // namespace windway
