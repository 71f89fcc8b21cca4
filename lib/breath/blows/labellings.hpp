// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "breath/blows/strength_steps.hpp"
#include "breath/blows/strengths.hpp"

namespace windway {

/// A labelling of one note's holds, softest first, whose labels never fall: how many holds bear each label.
using LabelCounts = std::array<std::size_t, most_strengths>;

/// All such labellings of n holds.
std::vector<LabelCounts> rising_labels(std::size_t n, int strengths);

/// Log likelihood of each labelling of one note's holds. `steps`: those of each of the problem's cues; `holds`: the
/// note's, softest first.
std::vector<double> log_likelihoods(const StrengthProblem& problem, const std::vector<CueSteps>& steps,
                                    const std::vector<std::size_t>& holds, const std::vector<LabelCounts>& labellings);

}  // namespace windway
