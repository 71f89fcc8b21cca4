// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/blows/find_swells.hpp"

#include <algorithm>
#include <array>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>
#include <numbers>
#include <numeric>
#include <optional>
#include <utility>

#include "breath/blows/breath_strength.hpp"
#include "breath/blows/movement.hpp"
#include "statistics/likelihoods.hpp"
#include "units/order_statistics.hpp"

namespace windway {
namespace {

/// What is believed before a take is heard (common practice and from memory, no source).
constexpr double fall_sd_db = 3.0;    ///< of what all blows fall or rise by, however long they are
constexpr double sweep_db = 7.5;      ///< of a swell from soft to hard
constexpr double sweep_sd_db = 2.5;   ///< of that, from player to player
constexpr double strengths_db = 4.0;  ///< SD of blows of several strengths
constexpr double swell_s = 3.5;       ///< of a swell, which takes its time: e^0.4
constexpr double swell_log_sd = 0.4;

/// What a hold may be: blown at one strength, or a swell of one of four shapes.
struct Kind {
  double rise, bulge;  ///< share of the sweep
  double prior;
};
constexpr std::array kinds{Kind{0, 0, 0.4}, Kind{1, 0, 0.3}, Kind{-1, 0, 0.05}, Kind{0, 1, 0.2}, Kind{0, -1, 0.05}};
constexpr std::size_t blow = 0;

/// Student's t of three degrees, but for a constant: a slip in one hold must not decide over the take.
double log_density(double off, double scale) {
  const double z = off / scale;
  return -std::log(scale) - 2.0 * std::log1p(z * z / 3.0);
}

double log_normal(double off, double sd) { return -0.5 * std::pow(off / sd, 2) - std::log(sd); }

/// What the holds of a take have in common.
struct Common {
  double rise_db_s = 0;
  double sweep_db = 0;
  double strengths_db = 0;
};

double log_moved(const Movement& m, double rise_db, double bulge_db) {
  return log_density(m.rise_db - rise_db, repeat_db) + log_density(m.bulge_db - bulge_db, repeat_db);
}

double log_blow(const Movement& m, double rise_db_s) { return log_moved(m, rise_db_s * m.length_s, 0.0); }

double log_swell(const Movement& m, const Kind& kind, double common_sweep_db) {
  return log_moved(m, kind.rise * common_sweep_db, kind.bulge * common_sweep_db);
}

double log_strength(const Movement& m, double scale_db) {
  return m.over_note_db ? log_density(*m.over_note_db, scale_db) : 0.0;
}

/// The likeliest of some values of a parameter, and the log of the likelihood summed over all of them.
struct Fitted {
  double value = 0;
  double log_evidence = 0;
};

template <class LogLikelihood>
Fitted fitted(double from, double to, LogLikelihood log_likelihood) {
  constexpr double step = 0.25;
  std::vector<double> logs;
  Fitted best{from, -HUGE_VAL};
  for (double value = from; value <= to + 0.5 * step; value += step) {
    logs.push_back(log_likelihood(value));
    if (logs.back() > best.log_evidence) best = {value, logs.back()};
  }
  best.log_evidence = log_sum_exp(logs);
  return best;
}

using Division = std::vector<std::size_t>;  ///< by hold: which of the kinds

struct Explanation {
  Common common;
  std::array<double, kinds.size()> holds{};
  double log_evidence = 0;
};

/// Median length of the blows, or of the swells; empty where there are none.
std::optional<double> usual_length_s(const std::vector<Movement>& movements, const Division& division, bool of_blows) {
  std::vector<double> length_s;
  for (std::size_t h = 0; h < movements.size(); ++h)
    if ((division[h] == blow) == of_blows) length_s.push_back(movements[h].length_s);
  return median_of(std::move(length_s));
}

/// Log probability that holds fall so among the kinds (Dirichlet's, of one hold's weight).
double log_counts(const std::array<double, kinds.size()>& holds) {
  double all = 0, sum = 0;
  for (std::size_t k = 0; k < kinds.size(); ++k) {
    all += holds[k];
    sum += boost::math::lgamma(holds[k] + kinds[k].prior) - boost::math::lgamma(kinds[k].prior);
  }
  return sum - boost::math::lgamma(all + 1.0);
}

Explanation explain(const std::vector<Movement>& movements, const Division& division) {
  Explanation found;
  for (std::size_t k : division) found.holds[k] += 1.0;
  const auto sum_over = [&](bool of_blows, auto log_of) {
    double sum = 0;
    for (std::size_t h = 0; h < movements.size(); ++h)
      if ((division[h] == blow) == of_blows) sum += log_of(h);
    return sum;
  };
  const double blow_length_s = usual_length_s(movements, division, true).value_or(1.0);
  const std::optional<double> swell_length_s = usual_length_s(movements, division, false);
  const Fitted rise = fitted(-25.0, 25.0, [&](double value) {
    return log_normal(value, fall_sd_db) +
           sum_over(true, [&](std::size_t h) { return log_blow(movements[h], value / blow_length_s); });
  });
  const Fitted sweep = fitted(0.0, 25.0, [&](double value) {
    return log_normal(value - sweep_db, sweep_sd_db) +
           sum_over(false, [&](std::size_t h) { return log_swell(movements[h], kinds[division[h]], value); });
  });
  const auto log_strengths = [&](double scale_db) {
    return sum_over(true, [&](std::size_t h) { return log_strength(movements[h], scale_db); });
  };
  const double one = log_strengths(repeat_db), several = log_strengths(strengths_db);
  found.common = {rise.value / blow_length_s, sweep.value, one > several ? repeat_db : strengths_db};
  found.log_evidence = rise.log_evidence + sweep.log_evidence + log_sum_exp({one, several}) - std::numbers::ln2 +
                       log_counts(found.holds) +
                       sum_over(false, [&](std::size_t h) { return log_strength(movements[h], repeat_db); }) +
                       (swell_length_s ? log_normal(std::log(*swell_length_s / swell_s), swell_log_sd) : 0.0);
  return found;
}

std::size_t likeliest_kind(const Movement& m, const Explanation& by) {
  std::size_t best = blow;
  double most = -HUGE_VAL;
  for (std::size_t k = 0; k < kinds.size(); ++k) {
    if (k != blow && !m.could_be_swell) continue;
    const double log_prior = std::log(by.holds[k] + kinds[k].prior);
    const double log_likelihood = k == blow ? log_blow(m, by.common.rise_db_s) + log_strength(m, by.common.strengths_db)
                                            : log_swell(m, kinds[k], by.common.sweep_db) + log_strength(m, repeat_db);
    if (log_prior + log_likelihood <= most) continue;
    most = log_prior + log_likelihood;
    best = k;
  }
  return best;
}

/// The division that explains itself best, from this one on.
std::pair<Division, Explanation> settled(const std::vector<Movement>& movements, Division division) {
  constexpr int most_passes = 30;
  Explanation by = explain(movements, division);
  for (int pass = 0; pass < most_passes; ++pass) {
    Division next;
    for (const Movement& m : movements) next.push_back(likeliest_kind(m, by));
    if (next == division) break;
    division = std::move(next);
    by = explain(movements, division);
  }
  return {division, by};
}

std::size_t shape_of(const Movement& m) {
  if (!m.could_be_swell) return blow;
  if (std::abs(m.rise_db) > std::abs(m.bulge_db)) return m.rise_db > 0 ? 1 : 2;
  return m.bulge_db > 0 ? 3 : 4;
}

}  // namespace

std::vector<bool> find_swells(const Naming& naming) {
  const std::vector<Movement> movements = hold_movements(naming);
  Division all_swells;
  for (const Movement& m : movements) all_swells.push_back(shape_of(m));
  const auto blows = settled(movements, Division(movements.size(), blow));
  const auto swells = settled(movements, all_swells);
  const Division& best = swells.second.log_evidence > blows.second.log_evidence ? swells.first : blows.first;
  std::vector<bool> is_swell;
  for (std::size_t h = 0; h < best.size(); ++h) is_swell.push_back(naming.holds[h].in_scale && best[h] != blow);
  return is_swell;
}

}  // namespace windway
