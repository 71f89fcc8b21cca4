// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <complex>
#include <cstddef>

#include "holds/frame_series.hpp"
#include "holds/phase_curves.hpp"
#include "pitch/pitch_track.hpp"

namespace windway {

/// A span and its phases, widened to where its tone begins or stops at once.
struct WidenedSpan {
  FrameSpan span;
  PhaseCurves curves;
  bool first_is_sudden = false;
  bool last_is_sudden = false;
};

/// Widens `span` within `limits` (inclusive frames, all tonal) to frames whose phases, in every harmonic together, are
/// those of the steady tone within, as far as noise lets one tell. A tone that wanders, or that comes in by a scoop or
/// a ramp, keeps the span it had. Frames at a sudden end hold silence too: what that does to phase and level is undone,
/// and they count for less.
WidenedSpan widened(const PitchTrack& track, const FrameSpan& span, const FrameSpan& limits, PhaseCurves curves);

/// What a Hann window of which only the end from -inside (in window lengths, -0.5 to 0.5) on hears a tone shows of it,
/// `offset_bins` beside the tone: 1 for the whole window at no offset.
std::complex<double> heard_part(double offset_bins, double inside);

}  // namespace windway
