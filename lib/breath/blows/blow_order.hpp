// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <vector>

#include "breath/blows/strengths.hpp"

namespace windway {

/// The order in which a player goes through the strengths, as the take itself shows it: how often one label follows
/// another on the same note and from note to note, against chance. Both ways of time count alike, so that a note
/// without its soft blow is no less likely than one without its hard blow. Nothing is presumed (soft first, hard first,
/// rounds).
class BlowOrder {
 public:
  /// An order that says nothing.
  BlowOrder() = default;
  BlowOrder(const StrengthProblem& problem, const std::vector<int>& label, int strengths);

  bool says_nothing() const { return joint_.empty(); }

  /// Log odds against chance of the labels at all joints that touch one of `holds`; 0 where the order says nothing.
  double log_odds(const std::vector<std::size_t>& holds, const std::vector<int>& label) const;

 private:
  double log_step(std::size_t hold, const std::vector<int>& label) const;

  int strengths_ = 0;
  std::vector<int> joint_;  ///< by hold: 0 no hold before it, 1 a new note, 2 the same note again
  std::vector<double> log_odds_;
};

}  // namespace windway
