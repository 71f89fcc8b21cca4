// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <string>
#include <vector>

#include "bench/production.hpp"

namespace windway {

/// Where a day begins along x, from 0 to 1 of the width.
struct DayBegin {
  double share = 0;
  std::string date;
};

/// Where takes of several series stand along x, so that what was recorded on the same day stands at the same place. A
/// day is as wide as the greatest share of any series that it has; its takes stand in it in their order. Where any of
/// them has no day, each series by itself fills the width.
class RecordedOrder {
 public:
  explicit RecordedOrder(const std::vector<MadeInOrder>& series);

  /// From 0 to 1 of the width.
  double share(const Produced* made) const { return shares_.at(made); }
  bool is_by_day() const { return !days_.empty(); }
  /// Where each day begins; empty where that is not known.
  const std::vector<DayBegin>& days() const { return days_; }

 private:
  /// Evenly from one share of the width on.
  void spread(const MadeInOrder& made, double from, double width);

  std::map<const Produced*, double> shares_;
  std::vector<DayBegin> days_;
};

}  // namespace windway
