// SPDX-License-Identifier: GPL-3.0-or-later
#include "statistics/gauge_study.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>

namespace windway {
namespace {

struct Spreads {
  double part = 0;
  double of_operator = 0;
  double interaction = 0;
  double repeat = 0;
};

std::vector<GaugeReading> drawn(std::mt19937_64& random, std::size_t parts, std::size_t operators, int trials,
                                const Spreads& sd) {
  std::normal_distribution<double> normal;
  std::vector<double> of_operators(operators);
  for (double& of_operator : of_operators) of_operator = sd.of_operator * normal(random);
  std::vector<GaugeReading> readings;
  for (std::size_t part = 0; part < parts; ++part) {
    const double of_part = sd.part * normal(random);
    for (std::size_t of = 0; of < operators; ++of) {
      const double cell = of_part + of_operators[of] + sd.interaction * normal(random);
      for (int trial = 0; trial < trials; ++trial) {
        readings.push_back({.part = part, .operator_index = of, .value = cell + sd.repeat * normal(random)});
      }
    }
  }
  return readings;
}

std::vector<GaugeReading> ordinary_readings() {
  std::mt19937_64 random(31);
  return drawn(random, 6, 3, 2, {.part = 6.0, .of_operator = 2.0, .interaction = 0.0, .repeat = 1.5});
}

GaugeStudy ranges_of(const std::vector<GaugeReading>& readings) {
  return average_and_range_study(gauge_table(readings).value()).value();
}

GaugeAnova anova_of(const std::vector<GaugeReading>& readings) { return gauge_anova(gauge_table(readings).value()); }

void expect_alike(const GaugeStudy& a, const GaugeStudy& b, double stretch = 1.0) {
  EXPECT_NEAR(a.repeatability.sd, stretch * b.repeatability.sd, 1e-9);
  EXPECT_NEAR(a.reproducibility.sd, stretch * b.reproducibility.sd, 1e-9);
  EXPECT_NEAR(a.part.sd, stretch * b.part.sd, 1e-9);
  EXPECT_NEAR(a.gauge.percent, b.gauge.percent, 1e-9);
  EXPECT_EQ(a.distinct_categories, b.distinct_categories);
}

TEST(GaugeStudy, DoesNotMindTheOrderOfReadingsNorTheNamesOfPartsAndOperators) {
  auto readings = ordinary_readings();
  const GaugeStudy ranges = ranges_of(readings);
  const GaugeStudy anova = anova_study(anova_of(readings)).value();
  std::ranges::shuffle(readings, std::mt19937_64(1));
  for (GaugeReading& reading : readings) {
    reading.part = 1000 - 7 * reading.part;
    reading.operator_index = 50 - reading.operator_index;
  }
  expect_alike(ranges_of(readings), ranges);
  expect_alike(anova_study(anova_of(readings)).value(), anova);
}

TEST(GaugeStudy, StretchesWithTheReadingsAndDoesNotMindAShift) {
  auto readings = ordinary_readings();
  const GaugeStudy ranges = ranges_of(readings);
  const GaugeStudy anova = anova_study(anova_of(readings)).value();
  for (GaugeReading& reading : readings) reading.value = 500.0 - 3.0 * reading.value;
  expect_alike(ranges_of(readings), ranges, 3.0);
  expect_alike(anova_study(anova_of(readings)).value(), anova, 3.0);
}

TEST(GaugeStudy, ByRangesTellsTheSpreadsThatWerePlanted) {
  std::mt19937_64 random(32);
  Moments repeat;
  Moments part;
  for (int draw = 0; draw < 2000; ++draw) {
    const auto study = ranges_of(drawn(random, 10, 3, 3, {.part = 6.0, .of_operator = 2.0, .repeat = 1.5}));
    add(repeat, study.repeatability.sd);
    add(part, study.part.sd * study.part.sd);
  }
  EXPECT_NEAR(repeat.mean, 1.5, 0.02);
  EXPECT_NEAR(std::sqrt(part.mean), 6.0, 0.15);
}

TEST(GaugeStudy, ByAnalysisOfVarianceTellsTheVariancesThatWerePlanted) {
  std::mt19937_64 random(33);
  Moments repeat;
  Moments interaction;
  Moments of_operator;
  Moments part;
  for (int draw = 0; draw < 2000; ++draw) {
    const auto anova =
        anova_of(drawn(random, 10, 5, 3, {.part = 6.0, .of_operator = 4.0, .interaction = 2.0, .repeat = 1.5}));
    add(repeat, anova.repeatability_variance);
    add(interaction, anova.interaction_variance);
    add(of_operator, anova.operator_variance);
    add(part, anova.part_variance);
  }
  EXPECT_NEAR(repeat.mean, 2.25, 0.03);
  EXPECT_NEAR(interaction.mean, 4.0, 0.1);
  EXPECT_NEAR(of_operator.mean, 16.0, 1.1);
  EXPECT_NEAR(part.mean, 36.0, 1.6);
}

TEST(GaugeAnova, PoolsAnInteractionOnlyWhereItIsNotSignificant) {
  std::mt19937_64 random(34);
  int pooled = 0;
  constexpr int draws = 2000;
  for (int draw = 0; draw < draws; ++draw) {
    const auto anova = anova_of(drawn(random, 5, 3, 2, {.part = 6.0, .of_operator = 2.0, .repeat = 1.5}));
    pooled += anova.is_pooled ? 1 : 0;
    const double own = anova.ss_repeatability / 15.0;
    const double with_interaction = (anova.ss_repeatability + anova.ss_interaction) / 23.0;
    EXPECT_NEAR(anova.repeatability_variance, anova.is_pooled ? with_interaction : own, 1e-9);
  }
  EXPECT_NEAR(pooled, 0.75 * draws, 80.0);  // the level; four standard deviations of the count
}

TEST(GaugeAnova, SumsOfSquaresAreThoseWorkedByHand) {
  // Two parts, two operators, two readings: cell means 1, 3, 5, 11.
  const std::vector<GaugeReading> readings{{0, 0, 0.0}, {0, 0, 2.0}, {0, 1, 3.0}, {0, 1, 3.0},
                                           {1, 0, 4.0}, {1, 0, 6.0}, {1, 1, 9.0}, {1, 1, 13.0}};
  const GaugeAnova anova = anova_of(readings);
  EXPECT_DOUBLE_EQ(anova.ss_part, 72.0);
  EXPECT_DOUBLE_EQ(anova.ss_operator, 32.0);
  EXPECT_DOUBLE_EQ(anova.ss_interaction, 8.0);
  EXPECT_DOUBLE_EQ(anova.ss_repeatability, 12.0);
  EXPECT_DOUBLE_EQ(anova.interaction_f.value(), 8.0 / 3.0);
  EXPECT_FALSE(anova.is_pooled);
  EXPECT_DOUBLE_EQ(anova.repeatability_variance, 3.0);
  EXPECT_DOUBLE_EQ(anova.interaction_variance, 2.5);
  EXPECT_DOUBLE_EQ(anova.operator_variance, 6.0);
  EXPECT_DOUBLE_EQ(anova.part_variance, 16.0);
  const GaugeStudy study = anova_study(anova).value();
  EXPECT_DOUBLE_EQ(study.reproducibility.sd, std::sqrt(6.0 + 2.5));
  EXPECT_DOUBLE_EQ(study.gauge.sd, std::sqrt(11.5));
  EXPECT_DOUBLE_EQ(study.gauge.percent, 100.0 * std::sqrt(11.5 / 27.5));
  EXPECT_EQ(study.distinct_categories, 1U);
}

/// E R and the root of E R^2 for the range R of `n` normal values of SD 1, from the joint density of its two ends.
std::pair<double, double> range_of_normals(double n) {
  const auto phi = [](double x) { return std::exp(-0.5 * x * x) / std::sqrt(2.0 * std::numbers::pi); };
  const auto cumulated = [](double x) { return 0.5 * std::erfc(-x / std::numbers::sqrt2); };
  constexpr double step = 0.02;
  double mean = 0.0;
  double mean_square = 0.0;
  for (double lowest = -7.0; lowest < 7.0; lowest += step) {
    for (double range = step / 2; range < 11.0; range += step) {
      const double between = cumulated(lowest + range) - cumulated(lowest);
      const double share = n * (n - 1.0) * phi(lowest) * phi(lowest + range) * std::pow(between, n - 2.0) * step * step;
      mean += share * range;
      mean_square += share * range * range;
    }
  }
  return {mean, std::sqrt(mean_square)};
}

/// A study whose only ranges are 1: of the parts, of the operators, or of each part's trials by each operator.
GaugeStudy unit_range_study(std::size_t parts, std::size_t operators, std::size_t trials, const Spreads& range) {
  std::vector<GaugeReading> readings;
  for (std::size_t part = 0; part < parts; ++part) {
    for (std::size_t of = 0; of < operators; ++of) {
      for (std::size_t trial = 0; trial < trials; ++trial) {
        const double value =
            (part == 0 ? range.part : 0.0) + (of == 0 ? range.of_operator : 0.0) + (trial == 0 ? range.repeat : 0.0);
        readings.push_back({part, of, value});
      }
    }
  }
  return ranges_of(readings);
}

constexpr double as_printed = 0.000051;  // the factors are printed to four places

TEST(GaugeStudy, FactorsOfSingleRangesFollowFromTheirDefinition) {
  for (std::size_t n = 2; n <= 20; ++n) {
    const double factor = 1.0 / range_of_normals(static_cast<double>(n)).second;
    EXPECT_NEAR(unit_range_study(n, 2, 2, {.part = 1.0}).part.sd, factor, as_printed) << n;
    EXPECT_NEAR(unit_range_study(2, n, 2, {.of_operator = 1.0}).reproducibility.sd, factor, as_printed) << n;
  }
}

TEST(GaugeStudy, FactorsOfMeanRangesFollowFromTheirDefinition) {
  for (std::size_t n = 2; n <= 10; ++n) {
    const double factor = 1.0 / range_of_normals(static_cast<double>(n)).first;
    EXPECT_NEAR(unit_range_study(2, 2, n, {.repeat = 1.0}).repeatability.sd, factor, as_printed) << n;
  }
}

TEST(GaugeStudy, ByRangesIsNotMadeOfMoreThanItsFactorsServe) {
  std::mt19937_64 random(35);
  const Spreads sd{.part = 6.0, .of_operator = 2.0, .repeat = 1.5};
  for (const auto& readings : {drawn(random, 21, 2, 2, sd), drawn(random, 2, 21, 2, sd), drawn(random, 2, 2, 11, sd)}) {
    const auto table = gauge_table(readings).value();
    EXPECT_FALSE(average_and_range_study(table));
    EXPECT_TRUE(anova_study(gauge_anova(table)));
  }
}

TEST(GaugeStudy, OfEqualReadingsIsEmpty) {
  const auto table = gauge_table(std::vector<GaugeReading>{
      {0, 0, 2.0}, {0, 0, 2.0}, {0, 1, 2.0}, {0, 1, 2.0}, {1, 0, 2.0}, {1, 0, 2.0}, {1, 1, 2.0}, {1, 1, 2.0}});
  EXPECT_FALSE(average_and_range_study(table.value()));
  EXPECT_FALSE(anova_study(gauge_anova(table.value())));
}

TEST(GaugeStudy, OfAPerfectGaugeHasNoEndOfCategories) {
  const auto study = unit_range_study(3, 2, 2, {.part = 1.0});
  EXPECT_FALSE(study.distinct_categories);
  EXPECT_DOUBLE_EQ(study.part.percent, 100.0);
}

TEST(GaugeAnova, WithoutScatterKeepsTheInteraction) {
  const auto anova = anova_of(
      {{0, 0, 1.0}, {0, 0, 1.0}, {0, 1, 2.0}, {0, 1, 2.0}, {1, 0, 5.0}, {1, 0, 5.0}, {1, 1, 9.0}, {1, 1, 9.0}});
  EXPECT_FALSE(anova.interaction_f);
  EXPECT_FALSE(anova.is_pooled);
  EXPECT_GT(anova.interaction_variance, 0.0);
}

TEST(GaugeTable, SaysInWordsWhyItCannotBeMade) {
  auto readings = ordinary_readings();
  EXPECT_FALSE(why_no_gauge_table(readings));
  readings.pop_back();
  EXPECT_FALSE(gauge_table(readings));
  EXPECT_EQ(why_no_gauge_table(readings), "every operator must measure every instrument equally often");
  readings.pop_back();  // and now a cell is missing altogether
  EXPECT_EQ(why_no_gauge_table(readings), "every operator must measure every instrument equally often");
  EXPECT_FALSE(gauge_table(readings));
  EXPECT_EQ(why_no_gauge_table({}), "at least two instruments are needed");
  const std::vector<GaugeReading> alone{{0, 0, 1.0}, {0, 0, 2.0}, {1, 0, 3.0}, {1, 0, 4.0}};
  EXPECT_EQ(why_no_gauge_table(alone), "at least two operators are needed");
  const std::vector<GaugeReading> once{{0, 0, 1.0}, {0, 1, 2.0}, {1, 0, 3.0}, {1, 1, 4.0}};
  EXPECT_EQ(why_no_gauge_table(once), "every operator must measure every instrument at least twice");
  EXPECT_FALSE(gauge_table(once));
}

}  // namespace
}  // namespace windway
