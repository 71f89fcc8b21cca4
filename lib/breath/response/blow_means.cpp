// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response/blow_means.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace windway {
namespace {

constexpr double excess_weight = 10.0;  ///< repeats it takes to outweigh the belief that blows repeat as they hold
constexpr double least_repeats = 3.0;

double middle_s(const Hold& hold) { return 0.5 * (hold.start_s + hold.end_s); }

}  // namespace

BlowMean mean_of_holds(const Naming& naming, const std::vector<HoldPitch>& pitch,
                       const std::vector<std::size_t>& holds) {
  BlowMean mean;
  const double n = static_cast<double>(holds.size());
  std::map<int, double> holds_of_take;
  for (std::size_t h : holds) {
    const Hold& hold = naming.holds[h].hold;
    mean.cents += pitch[h].cents / n;
    mean.variance_cents2 += pitch[h].variance_cents2 / (n * n);
    mean.correction_sd_cents += pitch[h].correction_sd_cents / n;  // they err together
    mean.time_s_by_take[hold.take] += middle_s(hold);
    ++holds_of_take[hold.take];
    mean.noise_db += hold.noise_db / n;
    mean.colour_db += hold.colour_db / n;
    mean.level_db += hold.level_db / n;
  }
  for (auto& [take, time_s] : mean.time_s_by_take) time_s /= holds_of_take[take];
  return mean;
}

BlowMean midway(const BlowMean& a, const BlowMean& b) {
  BlowMean between = a;
  between.cents = 0.5 * (a.cents + b.cents);
  between.variance_cents2 = 0.25 * (a.variance_cents2 + b.variance_cents2);
  between.correction_sd_cents = 0.5 * (a.correction_sd_cents + b.correction_sd_cents);
  return between;
}

double repeat_excess(const std::vector<HoldPitch>& pitch, const std::vector<int>& group) {
  std::map<int, std::vector<std::size_t>> by_group;
  for (std::size_t h = 0; h < group.size(); ++h)
    if (group[h] >= 0) by_group[group[h]].push_back(h);
  double chi_squared = 0, degrees = 0;
  for (const auto& [key, holds] : by_group) {
    double weight = 0, mean = 0;
    for (std::size_t h : holds) {
      weight += 1.0 / pitch[h].variance_cents2;
      mean += pitch[h].cents / pitch[h].variance_cents2;
    }
    for (std::size_t h : holds) chi_squared += std::pow(pitch[h].cents - mean / weight, 2) / pitch[h].variance_cents2;
    degrees += static_cast<double>(holds.size()) - 1.0;
  }
  return std::max(1.0, (excess_weight + chi_squared) / (excess_weight + degrees));
}

std::optional<double> repeat_level_db(const Naming& naming, const std::vector<int>& group) {
  std::map<std::pair<int, int>, std::vector<double>> by_blow;
  for (std::size_t h = 0; h < group.size(); ++h)
    if (group[h] >= 0) by_blow[{naming.holds[h].hold.take, group[h]}].push_back(naming.holds[h].hold.level_db);
  double squares = 0, degrees = 0;
  for (const auto& [key, levels] : by_blow) {
    double mean = 0;
    for (double level : levels) mean += level / static_cast<double>(levels.size());
    for (double level : levels) squares += (level - mean) * (level - mean);
    degrees += static_cast<double>(levels.size()) - 1.0;
  }
  if (degrees < least_repeats) return std::nullopt;
  return std::sqrt(squares / degrees);
}

std::vector<int> blow_groups(const Naming& naming, const Blows& blows) {
  std::map<std::pair<NoteId, int>, int> number;
  std::vector<int> group;
  for (std::size_t h = 0; h < naming.holds.size(); ++h) {
    const bool whole = blows.used[h] && blows.blow[h] != Blow::swell;
    const std::pair key(naming.holds[h].note, blows.strength[h].value_or(-1));
    group.push_back(whole ? number.try_emplace(key, static_cast<int>(number.size())).first->second : -1);
  }
  return group;
}

}  // namespace windway
