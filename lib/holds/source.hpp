// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "holds/holds.hpp"
#include "holds/phase_curves.hpp"
#include "warning.hpp"

namespace windway {

// What a hold's sound says of where it comes from.

/// Power of all that is neither one of the tone's first five harmonics nor breath noise, against the tone's; 0 for
/// none. Of a duct flute by itself it is under a tenth; a second instrument, a chord or a reed makes more.
double unexplained_share(const PitchTrack& track, const std::vector<FrameSpan>& spans);

/// How much the second harmonic is wider than an octave, cents, as it and the third both show: the lesser. Empty where
/// one of the first three is lost in the noise. A blown tone's harmonics keep step; a stiff string's are stretched by a
/// share of their number squared (H. Fletcher, J. Acoust. Soc. Am. 36 (1964) 203).
std::optional<double> octave_stretch_cents(const PhaseCurves& curves);

/// What seems to be no scale of held notes on one flute: another sound with it (other_sound), a struck string
/// (struck_string), a tune (tune_played), notes that swing too widely (unsteady), pitches that were corrected or made
/// by a machine (pitch_corrected). `holds` are those of one take in order of time; `take` its name in sentences.
Warnings source_warnings(const std::string& take, const std::vector<Hold>& holds);

}  // namespace windway
