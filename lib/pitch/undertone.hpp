// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <span>

#include "pitch/spectrum.hpp"

namespace windway {

/// One of several frames in a row in which one note sounds.
struct HeardFrame {
  const SpectrumFrame* spectrum = nullptr;
  double hz = 0;           ///< the pitch that is doubted, or that of one of its harmonics, as heard in this frame
  double noise_power = 0;  ///< breath noise in a bin, of the spectrum's power
};

/// How the spectra were made.
struct SpectrumScale {
  double bin_hz = 0;
  double hop_s = 0;
};

/// hz / reference_hz as a ratio of whole numbers up to 5, where the two may be harmonics of one fundamental; else
/// absent.
std::optional<double> harmonic_ratio(double hz, double reference_hz);

/// Is there anything at a half, a third, a quarter or a fifth of this pitch that may be its true fundamental? Quick,
/// and over-careful: what rings with the breath noise counts too.
bool may_have_undertone(const SpectrumFrame& spectrum, double hz, const SpectrumScale& scale);

/// The frames' true note as a multiple of the pitch doubted: a half to a fifth, or two thirds or two fifths; else 1. A
/// fundamental weaker than its own harmonics keeps step with them; breath noise that rings in the bore, as strong as
/// that, does not: its phase against the tone wanders. Told the more surely the more frames there are; 1 where they are
/// too few.
double undertone(std::span<const HeardFrame> frames, const SpectrumScale& scale);

/// Does what lies at the half of this pitch, and at odd multiples of that, plainly wander against it, as noise of the
/// bore does? False where the frames are too few to tell.
bool half_wanders(std::span<const HeardFrame> frames, const SpectrumScale& scale);

}  // namespace windway
