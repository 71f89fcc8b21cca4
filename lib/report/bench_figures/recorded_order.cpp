// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench_figures/recorded_order.hpp"

#include <algorithm>

#include "manifest/recorded_cell.hpp"

namespace windway {
namespace {

/// The takes of one day, a list for each series, and how wide the day is before all are made to fit.
struct Day {
  std::vector<MadeInOrder> made;
  double width = 0;
};

bool has_day(const Produced* made) { return !day_of(made->recorded_at).empty(); }

std::map<std::string, Day> days_of(const std::vector<MadeInOrder>& series) {
  std::map<std::string, Day> days;
  for (std::size_t at = 0; at < series.size(); ++at)
    for (const Produced* made : series[at]) {
      Day& day = days[day_of(made->recorded_at)];
      day.made.resize(series.size());
      day.made[at].push_back(made);
      const double share = static_cast<double>(day.made[at].size()) / static_cast<double>(series[at].size());
      day.width = std::max(day.width, share);
    }
  return days;
}

}  // namespace

RecordedOrder::RecordedOrder(const std::vector<MadeInOrder>& series) {
  const bool by_day = std::ranges::all_of(series, [](const auto& each) { return std::ranges::all_of(each, has_day); });
  if (!by_day) {
    for (const MadeInOrder& each : series) spread(each, 0, 1);
    return;
  }
  const std::map<std::string, Day> days = days_of(series);
  double all = 0, from = 0;
  for (const auto& [date, day] : days) all += day.width;
  for (const auto& [date, day] : days) {
    days_.push_back({from, date});
    for (const MadeInOrder& each : day.made) spread(each, from, day.width / all);
    from += day.width / all;
  }
}

void RecordedOrder::spread(const MadeInOrder& made, double from, double width) {
  const double step = width / static_cast<double>(std::max<std::size_t>(made.size(), 1));
  for (std::size_t at = 0; at < made.size(); ++at) shares_[made[at]] = from + step * (static_cast<double>(at) + 0.5);
}

}  // namespace windway
