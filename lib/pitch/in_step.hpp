// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstddef>
#include <span>

#include "pitch/octave_model.hpp"
#include "pitch/spectrum.hpp"

namespace windway {

/// The strongest line of a tone is one of its harmonics up to this one.
inline constexpr int highest_harmonic = 6;

/// Frames that one statement takes in.
inline constexpr std::size_t most_frames = 4;

/// For each divisor n, from 1 on, a number that belongs to the n-th part of the strongest line's pitch.
template <class T>
using OfEachPart = std::array<T, highest_harmonic>;

/// One of several frames of a tone.
struct ToneFrame {
  const SpectrumFrame* spectrum = nullptr;
  double hz = 0;         ///< of the harmonic that is the strongest line in the frame in question
  double since_rad = 0;  ///< the phase that it gains from here to that frame, unwrapped
};

/// Log likelihood of each part of the strongest line's pitch being the fundamental, against that of the whole (divisor
/// 1, always 0): what the frame says of the harmonics that the part would add, given the frames before it. `frames`
/// holds the frame in question first, then earlier frames of the same tone with no slip of the register between, a
/// window apart each: noise in them is independent. Alone a frame says little.
///
/// A harmonic is either too weak to be heard or it keeps step with the tone: turned by its order times the phase that
/// the tone gains, and relative to the strongest line, its n amplitudes x are those of one line in a room, complex
/// Gaussian with correlation rho. Breath noise that rings in the bore at such a place has no correlation over a window.
/// The likelihood ratio of the two that does not depend on power is that of the angular central Gaussian distribution
/// (D. E. Tyler, Statistics for the concentration matrix of the angular central Gaussian, Biometrika 74 (1987) 579, for
/// real vectors; from memory). With kappa = |sum x|^2 / (n sum |x|^2), a = 1 + (n - 1) rho and b = 1 - rho it is
///
///   1 / (a b^(n - 1) (kappa / a + (1 - kappa) / b)^n),
///
/// and the newest frame's share in it is the ratio with that frame over the ratio without.
///
/// How strong it is tells too: of a harmonic's power X against the strongest line's, P(X < x) = x / (x + faint)
/// (log-logistic), and the fainter a line, the likelier it is breath noise. A level hardly changes from frame to frame,
/// so that one frame says little of it.
OfEachPart<double> log_likelihoods(std::span<const ToneFrame> frames, const OctaveModel& model, double bin_hz,
                                   double top_hz, double noise_power);

}  // namespace windway
