// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/bench_warmth.hpp"

#include <algorithm>
#include <boost/math/distributions/fisher_f.hpp>
#include <map>

#include "manifest/recorded_cell.hpp"
#include "statistics/variance_components.hpp"

namespace windway {
namespace {

constexpr double false_alarm = 0.001;  // asked of every bench at every report: it must not cry wolf

std::map<std::string, Moments> home_hz_by_day(const std::vector<const Produced*>& made) {
  std::map<std::string, Moments> days;
  for (const Produced* each : made)
    if (each->home_a4_hz && !day_of(each->recorded_at).empty()) add(days[day_of(each->recorded_at)], *each->home_a4_hz);
  std::erase_if(days, [](const auto& day) { return day.second.n < 2; });
  return days;
}

bool differ_by_more_than_chance(const std::map<std::string, Moments>& days) {
  OneWaySums sums;
  for (const auto& [date, hz] : days) add_group(sums, hz);
  const auto variances = one_way(sums);
  if (!variances || !variances->f) return false;
  const boost::math::fisher_f by_chance(static_cast<double>(variances->df_between),
                                        static_cast<double>(variances->df_within));
  return cdf(complement(by_chance, *variances->f)) < false_alarm;
}

}  // namespace

void add(BenchWarmth& warmth, const BenchEntry& entry) {
  if (entry.bore_temp_c) {
    add(warmth.said_c, *entry.bore_temp_c);
  } else if (++warmth.not_said <= BenchWarmth::most_listed) {
    warmth.not_said_of.push_back(name_of(entry));
  }
  const std::optional<double> quoted_c = entry.is_quoted ? entry.air_c : std::nullopt;
  const bool is_first = warmth.said_c.n + warmth.not_said == 1;
  warmth.quoted_differ = warmth.quoted_differ || (!is_first && quoted_c != warmth.quoted_c);
  warmth.quoted_c = is_first ? quoted_c : warmth.quoted_differ ? std::nullopt : warmth.quoted_c;
}

std::optional<DaysApart> days_apart(const std::vector<const Produced*>& made) {
  const auto days = home_hz_by_day(made);
  if (days.size() < 2 || !differ_by_more_than_chance(days)) return std::nullopt;
  const auto mean_hz = [](const auto& day) { return day.second.mean; };
  const auto lowest = std::ranges::min_element(days, {}, mean_hz);
  const auto highest = std::ranges::max_element(days, {}, mean_hz);
  return DaysApart{lowest->first, lowest->second.mean, highest->first, highest->second.mean};
}

}  // namespace windway
