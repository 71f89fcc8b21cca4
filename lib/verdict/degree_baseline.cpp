// SPDX-License-Identifier: GPL-3.0-or-later
#include "verdict/degree_baseline.hpp"

#include <algorithm>
#include <cmath>

#include "slide/law_of_slide.hpp"
#include "statistics/robust_centre.hpp"
#include "units/order_statistics.hpp"

namespace windway {
namespace {

/// Over the bisquare's weighted mean square of a normal variable, whose tails it cuts: 1 / 0.82807 [calc].
constexpr double tails_factor = 1.2076229944786163;
constexpr int rounds = 50;

struct Pull {
  const DegreeMean* degree = nullptr;
  double slide_mm = 0.0;      ///< that would explain it whole
  double cents_per_mm = 0.0;  ///< size
  double weight = 1.0;
};

double residual_cents(const Pull& pull, double slide_mm) {
  return pull.degree->cents - slide_change_cents(pull.degree->length_mm, slide_mm);
}

/// Makes the sum of |cents| off it least, to first order.
double weighted_median_mm(std::vector<Pull> pulls) {
  std::ranges::sort(pulls, {}, &Pull::slide_mm);
  double half = 0.0;
  for (const Pull& pull : pulls) half += 0.5 * pull.cents_per_mm;
  double sum = 0.0;
  for (const Pull& pull : pulls)
    if ((sum += pull.cents_per_mm) >= half) return pull.slide_mm;
  return pulls.back().slide_mm;
}

/// Of the degrees about that slide, but no less than the instruments' scatter leaves them unsure.
double scatter_about(const std::vector<Pull>& pulls, double slide_mm, const CommonErrors& errors) {
  std::vector<double> residuals, unsure;
  for (const Pull& pull : pulls) {
    residuals.push_back(residual_cents(pull, slide_mm));
    unsure.push_back(std::sqrt(variance_along(pull.degree->share, errors)));
  }
  return std::max(scatter_cents(std::move(residuals)), *median_of(std::move(unsure)));
}

double weighted_mean_mm(const std::vector<Pull>& pulls) {
  double sum = 0.0, weights = 0.0;
  for (const Pull& pull : pulls) {
    const double weight = pull.weight * pull.cents_per_mm * pull.cents_per_mm;
    sum += weight * pull.slide_mm;
    weights += weight;
  }
  return sum / weights;
}

DegreeBaseline with_scatter(double slide_mm, const std::vector<Pull>& pulls, std::size_t notes) {
  DegreeBaseline baseline{.slide_mm = slide_mm, .mm_per_cent = std::vector<double>(notes, 0.0)};
  double squares = 0.0, weights = 0.0, gradients = 0.0;
  for (const Pull& pull : pulls) {
    baseline.agreeing += pull.weight;
    squares += pull.weight * std::pow(residual_cents(pull, slide_mm), 2);
    weights += pull.weight * pull.cents_per_mm * pull.cents_per_mm;
  }
  for (const Pull& pull : pulls) {
    const double mm_per_cent = -pull.weight * pull.cents_per_mm / weights;
    gradients += mm_per_cent * mm_per_cent;
    for (std::size_t note = 0; note < notes; ++note)
      baseline.mm_per_cent[note] += mm_per_cent * pull.degree->share[note];
  }
  baseline.scatter_cents = std::sqrt(tails_factor * squares / std::max(1.0, baseline.agreeing - 1.0));
  baseline.scatter_mm = baseline.scatter_cents * std::sqrt(gradients);
  return baseline;
}

}  // namespace

DegreeBaseline degree_baseline(const std::vector<DegreeMean>& degrees, const CommonErrors& errors,
                               std::size_t left_out) {
  std::vector<Pull> pulls;
  for (std::size_t i = 0; i < degrees.size(); ++i) {
    if (i == left_out) continue;
    const double length_mm = degrees[i].length_mm;
    pulls.push_back({&degrees[i], slide_for_change_mm(length_mm, degrees[i].cents), slide_cents_per_mm(length_mm)});
  }
  double slide_mm = weighted_median_mm(pulls);
  const double scatter = scatter_about(pulls, slide_mm, errors);
  for (int round = 0; round < rounds; ++round) {
    for (Pull& pull : pulls) pull.weight = bisquare_weight(residual_cents(pull, slide_mm) / scatter);
    const double before_mm = slide_mm;
    slide_mm = weighted_mean_mm(pulls);
    if (std::abs(slide_mm - before_mm) < 1e-6) break;
  }
  return with_scatter(slide_mm, pulls, errors.cents.size());
}

double variance_along(const std::vector<double>& gradient, const CommonErrors& errors) {
  double sum = 0.0;
  for (std::size_t a = 0; a < gradient.size(); ++a)
    for (std::size_t b = 0; b < gradient.size(); ++b)
      sum += gradient[a] * gradient[b] * errors.covariance[a * gradient.size() + b];
  return std::max(0.0, sum);
}

}  // namespace windway
