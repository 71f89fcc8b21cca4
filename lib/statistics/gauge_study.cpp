// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/gauge_study.hpp"

#include <algorithm>
#include <array>
#include <boost/math/distributions/fisher_f.hpp>
#include <cmath>

namespace windway {
namespace {

/// SD over mean range, by the number of readings in a range: 1 / d2 for a mean of many ranges (AIAG's K1, there for 2
/// and 3 only) and 1 / d2* for a single range (AIAG's K2 and K3, there to 10). The rest is computed to as many digits.
constexpr std::array sd_per_mean_range{0.8862, 0.5908, 0.4857, 0.4299, 0.3946, 0.3698, 0.3512, 0.3367, 0.3249};
constexpr std::array sd_per_range{0.7071, 0.5231, 0.4467, 0.4030, 0.3742, 0.3534, 0.3375, 0.3249, 0.3146, 0.3059,
                                  0.2985, 0.2921, 0.2864, 0.2814, 0.2770, 0.2729, 0.2692, 0.2659, 0.2628};

constexpr double categories_per_ratio = 1.41;  // AIAG's sqrt(2)
constexpr double pooling_level = 0.25;

double squared(double value) { return value * value; }

double range_of(const std::vector<double>& values) {
  const auto [lowest, highest] = std::ranges::minmax(values);
  return highest - lowest;
}

double mean_range(const GaugeTable& table) {
  Moments ranges;
  for (const Moments& cell : table.cells) add(ranges, cell.max - cell.min);
  return ranges.mean;
}

std::optional<GaugeStudy> study_of(double repeatability_sd, double reproducibility_sd, double part_sd) {
  const double gauge_sd = std::hypot(repeatability_sd, reproducibility_sd);
  const double total_sd = std::hypot(gauge_sd, part_sd);
  if (total_sd <= 0.0) return std::nullopt;
  const auto share = [total_sd](double sd) { return GaugeShare{.sd = sd, .percent = 100.0 * sd / total_sd}; };
  GaugeStudy study;
  study.repeatability = share(repeatability_sd);
  study.reproducibility = share(reproducibility_sd);
  study.gauge = share(gauge_sd);
  study.part = share(part_sd);
  study.total_sd = total_sd;
  if (gauge_sd > 0.0) {
    study.distinct_categories = static_cast<std::uint64_t>(categories_per_ratio * part_sd / gauge_sd);
  }
  return study;
}

void add_sums_of_squares(GaugeAnova& anova, const GaugeTable& table) {
  const auto parts = part_means(table);
  const auto operators = operator_means(table);
  const auto trials = static_cast<double>(table.trials);
  const Moments of_parts = moments_of(parts);
  anova.ss_part = of_parts.m2 * static_cast<double>(table.operators) * trials;
  anova.ss_operator = moments_of(operators).m2 * static_cast<double>(table.parts) * trials;
  for (std::size_t part = 0; part < table.parts; ++part) {
    for (std::size_t of = 0; of < table.operators; ++of) {
      const Moments& cell = table.cell(part, of);
      anova.ss_interaction += trials * squared(cell.mean - parts[part] - operators[of] + of_parts.mean);
      anova.ss_repeatability += cell.m2;
    }
  }
}

bool is_significant(std::optional<double> f, double df_above, double df_below) {
  if (!f) return false;
  return boost::math::cdf(boost::math::complement(boost::math::fisher_f(df_above, df_below), *f)) < pooling_level;
}

}  // namespace

std::optional<GaugeStudy> average_and_range_study(const GaugeTable& table) {
  const std::size_t widest = std::max(table.parts, table.operators) - 2;
  if (widest >= sd_per_range.size() || table.trials - 2 >= sd_per_mean_range.size()) return std::nullopt;
  const double repeatability_sd = mean_range(table) * sd_per_mean_range[table.trials - 2];
  // The operators' means also scatter by repeatability.
  const double of_operator_mean = squared(repeatability_sd) / static_cast<double>(table.parts * table.trials);
  const double between_operators = squared(range_of(operator_means(table)) * sd_per_range[table.operators - 2]);
  const double part_sd = range_of(part_means(table)) * sd_per_range[table.parts - 2];
  return study_of(repeatability_sd, std::sqrt(std::max(0.0, between_operators - of_operator_mean)), part_sd);
}

GaugeAnova gauge_anova(const GaugeTable& table) {
  GaugeAnova anova;
  add_sums_of_squares(anova, table);
  const auto parts = static_cast<double>(table.parts);
  const auto operators = static_cast<double>(table.operators);
  const auto trials = static_cast<double>(table.trials);
  const double df_interaction = (parts - 1.0) * (operators - 1.0);
  const double df_within = parts * operators * (trials - 1.0);
  const double interaction_square = anova.ss_interaction / df_interaction;
  const double within_square = anova.ss_repeatability / df_within;
  if (within_square > 0.0) anova.interaction_f = interaction_square / within_square;
  // Without repeatability scatter any interaction is significant.
  const bool is_exact = within_square <= 0.0 && interaction_square > 0.0;
  anova.is_pooled = !is_exact && !is_significant(anova.interaction_f, df_interaction, df_within);
  const double df = anova.is_pooled ? df_within + df_interaction : df_within;
  anova.repeatability_variance = (anova.ss_repeatability + (anova.is_pooled ? anova.ss_interaction : 0.0)) / df;
  const double against = anova.is_pooled ? anova.repeatability_variance : interaction_square;
  anova.operator_variance = std::max(0.0, (anova.ss_operator / (operators - 1.0) - against) / (parts * trials));
  anova.part_variance = std::max(0.0, (anova.ss_part / (parts - 1.0) - against) / (operators * trials));
  if (!anova.is_pooled) anova.interaction_variance = std::max(0.0, (interaction_square - within_square) / trials);
  return anova;
}

std::optional<GaugeStudy> anova_study(const GaugeAnova& anova) {
  return study_of(std::sqrt(anova.repeatability_variance),
                  std::sqrt(anova.operator_variance + anova.interaction_variance), std::sqrt(anova.part_variance));
}

}  // namespace windway
