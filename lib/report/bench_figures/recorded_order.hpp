// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <string>
#include <utility>
#include <vector>

#include "bench/production.hpp"

namespace windway {

using MadeInOrder = std::vector<const Produced*>;

/// Where takes of several series stand along x, so that what was recorded at the same time stands at the same place:
/// side by side in the order of their dates. Where any of them has no date, each series by itself fills the width.
class RecordedOrder {
 public:
  explicit RecordedOrder(const std::vector<MadeInOrder>& series);

  /// From 0 to 1 of the width.
  double share(const Produced* made) const { return shares_.at(made); }
  bool is_by_date() const { return is_by_date_; }
  /// Where each day begins; empty where not all dates say the day.
  const std::vector<std::pair<double, std::string>>& days() const { return days_; }

 private:
  void spread(const MadeInOrder& made);
  void note_days(const MadeInOrder& made);

  std::map<const Produced*, double> shares_;
  std::vector<std::pair<double, std::string>> days_;
  bool is_by_date_ = true;
};

}  // namespace windway
