// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "partner/soundings.hpp"
#include "partner/stiff_string.hpp"

namespace windway {

/// The pitch of one note that was struck or held.
struct MeasuredNote {
  StiffString string;
  std::optional<double> beat_hz{};  ///< two or more reeds or strings that far apart; the pitch is halfway between
  double start_s = 0;
  double duration_s = 0;
};

/// Measures the soundings of a recording, each by those of its partials that no other note that sounds with it comes
/// near. Those that noise or other notes leave no partial of, or no pitch within 10 cents, are left out.
std::vector<MeasuredNote> measured_notes(std::span<const float> samples, double rate_hz,
                                         const std::vector<Sounding>& soundings);

}  // namespace windway
