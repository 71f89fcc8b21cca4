// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace windway {

/// What is known of flutes' harmonics, bores and rooms before a tone is heard: the parameters by which the octave is
/// decided (in_step.hpp, tone.hpp). Chosen by the faults in drawn takes, slips among them (windway_fit_octave).
struct OctaveModel {
  double in_step_correlation = 0.85;  ///< of a harmonic's amplitudes over a few windows, in a room
  double heard_at_most = 0.9;         ///< how often a harmonic is heard at all, were there no noise
  double faint = 0.03;                ///< of the strongest line's power: half of the harmonics are fainter
  double foreign = 0.2;               ///< how often another sound covers a harmonic that is too weak to be heard
  double phase_weight = 0.8;          ///< of what one look says by phases: windows share samples
  double level_weight = 0.1;          ///< of what it says by levels
  double blow_rise = 4.0;             ///< power against that of a window before: from here on a blow may begin
  double echo_fall = 0.7;        ///< likewise: under it a room's echo dies, each harmonic its own way, and says nothing
  double slip_nats = 9.0;        ///< another fundamental where the strongest line changes, or a blow begins
  double same_line_nats = 40.0;  ///< another fundamental under the same strongest line
};

}  // namespace windway
