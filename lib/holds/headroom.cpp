// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/headroom.hpp"

#include <algorithm>
#include <cmath>

#include "units/order_statistics.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double beside_hold_s = 0.15;  // attacks, releases and the nearest echoes are the flute's
constexpr std::size_t least_frames = 10;

bool is_beside_a_hold(double time_s, const std::vector<Hold>& holds) {
  // The last hold that begins before the time, and the one after it.
  const auto after =
      std::upper_bound(holds.begin(), holds.end(), time_s, [](double t, const Hold& h) { return t < h.start_s; });
  if (after != holds.end() && after->start_s - time_s < beside_hold_s) return true;
  return after != holds.begin() && time_s - std::prev(after)->end_s < beside_hold_s;
}

}  // namespace

void PowerCurve::add(const PitchTrack& chapter) {
  if (power_db.empty()) first_s = chapter.first_s;
  hop_s = chapter.hop_s;
  for (const PitchFrame& frame : chapter.frames) power_db.push_back(frame.power_db);
}

PowerCurve thinned(const PowerCurve& power, std::size_t points) {
  PowerCurve thin{power.first_s + 0.5 * static_cast<double>(points - 1) * power.hop_s,
                  static_cast<double>(points) * power.hop_s,
                  {}};
  for (std::size_t first = 0; first + points <= power.power_db.size(); first += points) {
    double sum = 0;
    for (std::size_t i = first; i < first + points; ++i) sum += power_from_db(power.power_db[i]);
    thin.power_db.push_back(static_cast<float>(db_from_power(sum / static_cast<double>(points))));
  }
  return thin;
}

std::optional<double> headroom_db(const PowerCurve& power, const std::vector<Hold>& holds) {
  std::vector<float> between_db;
  for (std::size_t i = 0; i < power.power_db.size(); ++i) {
    const double time_s = power.first_s + static_cast<double>(i) * power.hop_s;
    if (!is_beside_a_hold(time_s, holds)) between_db.push_back(power.power_db[i]);
  }
  if (holds.empty() || between_db.size() < least_frames) return std::nullopt;
  // What is always there: between the holds people also talk, and notes that were not found sound.
  const float usual_db = value_of_rank(between_db, between_db.size() / 10);
  const auto softest = std::min_element(holds.begin(), holds.end(),
                                        [](const Hold& a, const Hold& b) { return a.level_db < b.level_db; });
  return softest->level_db - usual_db;
}

}  // namespace windway
