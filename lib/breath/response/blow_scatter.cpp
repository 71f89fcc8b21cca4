// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/response/blow_scatter.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "breath/blows/pitch_curve.hpp"
#include "breath/blows/strength_steps.hpp"
#include "breath/response/one_factor.hpp"

namespace windway {
namespace {

constexpr double least_step_db = 1.0;  ///< a cue that hardly moves from soft to hard shows no strength

/// A quantity that rises with the strength of the breath.
struct StrengthCue {
  double Hold::*quantity;
  double error_db;  ///< of one hold's reading, as believed beforehand
};

/// SD by which the breath's flutter shifts one end of a swell's level (from memory).
constexpr double flutter_db = 0.1;

constexpr StrengthCue level_cue{&Hold::level_db, 0.1}, noise_cue{&Hold::noise_db, 0.3},
    colour_cue{&Hold::colour_db, 0.6};

/// Residuals of one cue about the notes' offsets and the common steps. Strength is 0 soft, 1 hard.
struct CueResiduals {
  std::vector<double> strength;  ///< by labelled hold
  double range_db = 0;           ///< from soft to hard
  double moderate_strength = 0;
  double error_sd = 0;  ///< of a reading, in strength; prior
};

CueResiduals cue_residuals(const Naming& naming, const LabelledHolds& labelled, const Groups& groups,
                           const StrengthCue& of) {
  const auto [lower, upper] = middle_strengths(labelled.strengths);
  Cue cue{{}, of.error_db, 0.0};
  for (std::size_t h : labelled.hold) cue.value.push_back(naming.holds[h].hold.*of.quantity);
  const std::vector<double> step = fit_cue_steps(cue, groups, labelled.label, labelled.strengths).step;
  const double range_db = std::max(step.back(), least_step_db);
  const double moderate_db = 0.5 * (step[static_cast<std::size_t>(lower)] + step[static_cast<std::size_t>(upper)]);
  std::vector<double> off_db = cue.value;
  CueResiduals residuals{off_db, step.back(), moderate_db / range_db, of.error_db / range_db};
  for (const auto& holds : groups) {
    double offset_db = 0;
    for (std::size_t i : holds) {
      off_db[i] -= step[static_cast<std::size_t>(labelled.label[i])];
      offset_db += off_db[i] / static_cast<double>(holds.size());
    }
    for (std::size_t i : holds) residuals.strength[i] = (off_db[i] - offset_db) / range_db;
  }
  return residuals;
}

std::vector<CueResiduals> usable_cues(const Naming& naming, const LabelledHolds& labelled, const Groups& groups) {
  std::vector<CueResiduals> cues;
  for (const StrengthCue& cue : {level_cue, noise_cue, colour_cue}) {
    if (cues.size() == 2) break;  // colour answers the breath unequally from note to note: only where another fails
    const CueResiduals residuals = cue_residuals(naming, labelled, groups, cue);
    if (residuals.range_db >= least_step_db) cues.push_back(residuals);
  }
  return cues;
}

std::vector<std::vector<double>> covariance(const std::vector<CueResiduals>& cues, double degrees) {
  std::vector<std::vector<double>> seen(cues.size(), std::vector<double>(cues.size(), 0.0));
  for (std::size_t a = 0; a < cues.size(); ++a)
    for (std::size_t b = 0; b < cues.size(); ++b)
      for (std::size_t i = 0; i < cues[a].strength.size(); ++i)
        seen[a][b] += cues[a].strength[i] * cues[b].strength[i] / degrees;
  return seen;
}

/// What the curve's pitch and level do together about a straight sag, times the degrees of freedom: half the
/// difference of two squares, since the regression gives no residuals.
double product_of_residuals(const PitchCurve& curve, const OuNoise& noise) {
  std::vector<double> sum(curve.cents), difference(curve.cents);
  for (std::size_t i = 0; i < sum.size(); ++i) {
    sum[i] += curve.level_db[i];
    difference[i] -= curve.level_db[i];
  }
  const auto columns = steady_columns(curve);
  return 0.25 * (scatter_about(curve.time_s, sum, columns, noise).sum_of_squares -
                 scatter_about(curve.time_s, difference, columns, noise).sum_of_squares);
}

/// Variance of the holds' mean strength that the breath's wander within them predicts, from the covariance of level and
/// pitch. (A room bends the level of one hold with its pitch, of the next against it.)
double wander_variance(const Naming& naming, const LabelledHolds& labelled, const Wander& wander,
                       const std::vector<double>& bend_cents, double range_db) {
  if (wander.shapes.empty()) return 0.0;
  const auto likeliest =
      std::max_element(wander.shapes.begin(), wander.shapes.end(),
                       [](const WanderShape& a, const WanderShape& b) { return a.weight < b.weight; });
  double product = 0, weight = 0, degrees = 0, of_mean = 0;
  for (std::size_t h : labelled.hold) {
    const PitchCurve curve = pitch_curve(naming.holds[h]);
    if (curve.time_s.size() < 4) continue;  // two for the sag, two to tell
    const double free = static_cast<double>(curve.time_s.size()) - 2.0;
    const OuNoise noise{likeliest->noise.tau_s, likeliest->noise.white_share, curve.read_over_s};
    const Hold& hold = naming.holds[h].hold;
    product += bend_cents[h] * product_of_residuals(curve, noise) / range_db;
    weight += bend_cents[h] * bend_cents[h] * free;
    degrees += free;
    of_mean += free * variance_of_mean(hold.steady_end_s - hold.steady_start_s, noise.tau_s);
  }
  return weight > 0 ? std::max(0.0, product / weight) * of_mean / degrees : 0.0;
}

/// How far each swell's range differs from the mean of all, as a share of it; no cue where the mean is too small.
std::vector<CueResiduals> sweep_residuals(const std::map<std::size_t, SwellResponse>& swells) {
  const double n = static_cast<double>(swells.size());
  CueResiduals level, noise;
  for (const auto& [hold, s] : swells) {
    level.strength.push_back(s.range_db);
    noise.strength.push_back(s.noise_range_db);
    level.range_db += level.strength.back() / n;
    noise.range_db += noise.strength.back() / n;
  }
  std::vector<CueResiduals> cues;
  for (CueResiduals cue : {level, noise}) {
    if (cue.range_db < least_step_db) continue;
    cue.error_sd = std::sqrt(2.0) * (cues.empty() ? level_cue : noise_cue).error_db / cue.range_db;
    for (double& strength : cue.strength) strength = strength / cue.range_db - 1.0;
    cues.push_back(cue);
  }
  return cues;
}

std::vector<double> error_sds(const std::vector<CueResiduals>& cues) {
  std::vector<double> error_sd;
  for (const CueResiduals& cue : cues) error_sd.push_back(cue.error_sd);
  return error_sd;
}

double prior_strength_sd() { return std::sqrt(common_variance({}, {}, 0.0, usual_blow_scatter, 0.0)); }

}  // namespace

BlowScatter measure_blow_scatter(const Naming& naming, const Blows& blows, const Wander& wander,
                                 const std::vector<double>& bend_cents) {
  const LabelledHolds labelled = labelled_holds(naming, blows);
  const Groups groups = groups_of(labelled.group);
  const std::set<int> labels(labelled.label.begin(), labelled.label.end());
  const double degrees = static_cast<double>(labelled.hold.size()) - static_cast<double>(groups.size()) -
                         static_cast<double>(labels.size()) + 1.0;
  const std::vector<CueResiduals> cues =
      degrees < 1.0 ? std::vector<CueResiduals>{} : usable_cues(naming, labelled, groups);
  if (cues.empty()) return {prior_strength_sd(), 0.5};
  const double wander_part = wander_variance(naming, labelled, wander, bend_cents, cues.front().range_db);
  const double variance =
      common_variance(covariance(cues, degrees), error_sds(cues), degrees, usual_blow_scatter, wander_part);
  const auto [lower, upper] = middle_strengths(labelled.strengths);
  const bool moderate_blown = labels.contains(lower) && labels.contains(upper);
  return {std::sqrt(variance), moderate_blown ? cues.front().moderate_strength : 0.5};
}

double measure_swell_scatter(const std::map<std::size_t, SwellResponse>& swells) {
  const double degrees = static_cast<double>(swells.size()) - 1.0;
  const std::vector<CueResiduals> cues = degrees < 1.0 ? std::vector<CueResiduals>{} : sweep_residuals(swells);
  if (cues.empty()) return prior_strength_sd();
  // Both ends of a sweep scatter: its variance is twice that of an end.
  const SdPrior of_sweep{std::sqrt(2.0) * usual_blow_scatter.sd, usual_blow_scatter.log_sd};
  const double flutter = 2.0 * std::pow(flutter_db / cues.front().range_db, 2);
  return std::sqrt(0.5 * common_variance(covariance(cues, degrees), error_sds(cues), degrees, of_sweep, flutter));
}

}  // namespace windway
