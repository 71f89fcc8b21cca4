// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "verdict/verdict.hpp"

namespace windway {

/// What work at a hole would mend on one finished instrument: for each degree of which a note fails its tolerance, as
/// `judged` says, how far it is off the line that the other degrees keep (degree_baseline.hpp), and the place of
/// the hole that this is as much as. Its own u95s take the place of the scatter between instruments. Left out: what is
/// not sure among so many degrees, what no one hole gives, and a degree of which not every register was held. The
/// measurement must have its compromise.
std::vector<WorkAdvice> work_advice(const Measurement& measurement, const std::vector<Judged>& judged);

}  // namespace windway
