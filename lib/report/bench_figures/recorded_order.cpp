// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench_figures/recorded_order.hpp"

#include <algorithm>

#include "manifest/recorded_cell.hpp"

namespace windway {
namespace {

bool is_dated(const Produced* made) { return !made->recorded_at.empty(); }

}  // namespace

RecordedOrder::RecordedOrder(const std::vector<MadeInOrder>& series) {
  MadeInOrder all;
  for (const MadeInOrder& each : series) all.insert(all.end(), each.begin(), each.end());
  is_by_date_ = std::ranges::all_of(all, is_dated);
  if (!is_by_date_) {
    for (const MadeInOrder& each : series) spread(each);
    return;
  }
  std::ranges::stable_sort(all, {}, &Produced::recorded_at);
  spread(all);
  note_days(all);
}

void RecordedOrder::note_days(const MadeInOrder& made) {
  if (std::ranges::any_of(made, [](const Produced* each) { return day_of(each->recorded_at).empty(); })) return;
  for (const Produced* each : made)
    if (const std::string day = day_of(each->recorded_at); days_.empty() || days_.back().second != day)
      days_.emplace_back(shares_[each], day);
}

void RecordedOrder::spread(const MadeInOrder& made) {
  const auto count = static_cast<double>(made.size());
  for (std::size_t at = 0; at < made.size(); ++at) shares_[made[at]] = (static_cast<double>(at) + 0.5) / count;
}

}  // namespace windway
