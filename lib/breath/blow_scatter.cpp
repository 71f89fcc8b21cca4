// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/blow_scatter.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <cmath>
#include <set>

#include "breath/labelled_holds.hpp"
#include "breath/pitch_curve.hpp"
#include "breath/strength_steps.hpp"

namespace windway {
namespace {

/// What is believed of the scatter beforehand, in shares of the way from soft to hard, and with the weight of how many
/// blows (from memory: a quarter of a dB of eight).
constexpr double usual_way_sd = 0.03;
constexpr double usual_weight = 2.0;

constexpr double least_step_db = 1.0;  ///< a cue that hardly moves from soft to hard tells no strength
constexpr int passes = 200;

/// A quantity that rises with the strength of the breath.
struct StrengthCue {
  double Hold::*quantity;
  double error_db;  ///< of one hold's reading, as believed beforehand
};

constexpr StrengthCue level_cue{&Hold::level_db, 0.1}, noise_cue{&Hold::noise_db, 0.3},
    colour_cue{&Hold::colour_db, 0.6};

/// What is left of one cue once the notes' offsets and the common steps are out, as shares of the way.
struct Leftover {
  std::vector<double> way;  ///< by labelled hold
  double step_db = 0;       ///< from soft to hard
  double moderate_way = 0;  ///< step from soft to moderate as a share of that to hard
  double error_way = 0;     ///< believed beforehand
};

Leftover leftover(const Naming& naming, const LabelledHolds& labelled, const Groups& groups, const StrengthCue& of) {
  Cue cue{{}, of.error_db, 0.0};
  for (std::size_t h : labelled.hold) cue.value.push_back(naming.holds[h].hold.*of.quantity);
  const std::vector<double> step = fit_cue_steps(cue, groups, labelled.label, blow_strengths).step;
  const double way_db = std::max(step.back(), least_step_db);
  Leftover left{cue.value, step.back(), step[1] / way_db, of.error_db / way_db};
  for (const auto& holds : groups) {
    double offset = 0;
    for (std::size_t i : holds) {
      left.way[i] -= step[static_cast<std::size_t>(labelled.label[i])];
      offset += left.way[i] / static_cast<double>(holds.size());
    }
    for (std::size_t i : holds) left.way[i] = (left.way[i] - offset) / way_db;
  }
  return left;
}

std::vector<Leftover> telling_cues(const Naming& naming, const LabelledHolds& labelled, const Groups& groups) {
  std::vector<Leftover> cues;
  for (const StrengthCue& cue : {level_cue, noise_cue, colour_cue}) {
    if (cues.size() == 2) break;  // colour answers the breath unequally from note to note: only where another fails
    const Leftover left = leftover(naming, labelled, groups, cue);
    if (left.step_db >= least_step_db) cues.push_back(left);
  }
  return cues;
}

/// Variance common to all cues.
double common_variance(const std::vector<Leftover>& cues, double degrees) {
  const auto n = static_cast<Eigen::Index>(cues.size());
  Eigen::MatrixXd seen(n, n);
  Eigen::VectorXd own(n);
  for (Eigen::Index a = 0; a < n; ++a) {
    const auto& left = cues[static_cast<std::size_t>(a)];
    own[a] = left.error_way * left.error_way;
    for (Eigen::Index b = 0; b < n; ++b) {
      double sum = 0;
      for (std::size_t i = 0; i < left.way.size(); ++i) sum += left.way[i] * cues[static_cast<std::size_t>(b)].way[i];
      seen(a, b) = sum / degrees;
    }
  }
  const Eigen::VectorXd believed = own;
  double common = usual_way_sd * usual_way_sd;
  for (int pass = 0; pass < passes; ++pass) {
    const Eigen::MatrixXd total =
        common * Eigen::MatrixXd::Ones(n, n) + Eigen::MatrixXd(own.asDiagonal());
    const Eigen::VectorXd gain = total.ldlt().solve(common * Eigen::VectorXd::Ones(n));
    const Eigen::VectorXd with_cues = seen * gain;
    const double square = gain.dot(with_cues) + common * (1.0 - gain.sum());
    common = (degrees * square + usual_weight * usual_way_sd * usual_way_sd) / (degrees + usual_weight);
    for (Eigen::Index a = 0; a < n; ++a)
      own[a] = (degrees * (seen(a, a) - 2.0 * with_cues[a] + square) + usual_weight * believed[a]) /
               (degrees + usual_weight);
  }
  return common;
}

/// Variance of the holds' means that the wander of the level within them foretells, dB^2: median over the holds.
double wander_of_level_db2(const Naming& naming, const LabelledHolds& labelled, const Wander& wander) {
  if (wander.shapes.empty()) return 0.0;
  const auto likeliest = std::max_element(wander.shapes.begin(), wander.shapes.end(),
                                          [](const WanderShape& a, const WanderShape& b) { return a.weight < b.weight; });
  double squares = 0, degrees = 0, of_mean = 0;
  for (std::size_t h : labelled.hold) {
    const PitchCurve curve = pitch_curve(naming.holds[h]);
    const auto columns = steady_columns(curve);
    if (curve.time_s.size() < columns.size() + 2) continue;
    const OuNoise noise{likeliest->noise.tau_s, likeliest->noise.white_share, curve.read_over_s};
    const OuRegression fit = regress(curve.time_s, curve.level_db, columns, noise);
    const Hold& hold = naming.holds[h].hold;
    squares += fit.sum_of_squares;
    degrees += fit.degrees;
    of_mean += fit.degrees * variance_of_mean(hold.steady_end_s - hold.steady_start_s, noise.tau_s);
  }
  return degrees > 0 ? squares / degrees * of_mean / degrees : 0.0;
}

}  // namespace

BlowScatter measure_blow_scatter(const Naming& naming, const Blows& blows, const Wander& wander) {
  const LabelledHolds labelled = labelled_holds(naming, blows);
  const Groups groups = groups_of(labelled.group);
  const std::set<int> labels(labelled.label.begin(), labelled.label.end());
  const double degrees = static_cast<double>(labelled.hold.size()) - static_cast<double>(groups.size()) -
                         static_cast<double>(labels.size()) + 1.0;
  if (degrees < 1.0) return {usual_way_sd, 0.0};
  const std::vector<Leftover> cues = telling_cues(naming, labelled, groups);
  if (cues.empty()) return {usual_way_sd, 0.0};
  const double wander_way2 = wander_of_level_db2(naming, labelled, wander) / std::pow(cues.front().step_db, 2);
  const double moderate_way = labels.contains(1) ? cues.front().moderate_way : 0.5;
  return {std::sqrt(std::max(0.0, common_variance(cues, degrees) - wander_way2)), degrees, moderate_way};
}

}  // namespace windway
