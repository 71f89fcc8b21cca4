// SPDX-License-Identifier: GPL-3.0-or-later
// The statistics of the bench against published values. Sources stand beside each check; those marked "from memory"
// were not read again, those marked "secondary" were read in public copies.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

#include "statistics/capability.hpp"
#include "statistics/control_chart.hpp"
#include "statistics/gauge_study.hpp"
#include "statistics/group_difference.hpp"
#include "statistics/variance_components.hpp"

namespace windway {
namespace {

// NIST Statistical Reference Datasets, Univariate Summary Statistics (itl.nist.gov/div898/strd; values by public
// copies).
TEST(PublishedMoments, NumAcc1IsExact) {
  const Moments moments = moments_of(std::vector{10000001.0, 10000003.0, 10000002.0});
  EXPECT_EQ(moments.mean, 10000002.0);
  EXPECT_EQ(sample_sd(moments), 1.0);
}

/// NumAcc2, 3 and 4: one value, then 500 pairs a tenth below and above it; sd certified to be 0.1.
void expect_num_acc(const std::vector<double>& values, double sd_error) {
  Moments moments;
  add(moments, values[0]);
  for (int pair = 0; pair < 500; ++pair) {
    add(moments, values[1]);
    add(moments, values[2]);
  }
  EXPECT_EQ(moments.n, 1001U);
  EXPECT_NEAR(moments.mean / values[0], 1.0, 1e-15);
  EXPECT_NEAR(sample_sd(moments).value(), 0.1, sd_error);
}

TEST(PublishedMoments, NumAcc2To4KeepTheDigitsTheirValuesHave) {
  expect_num_acc({1.2, 1.1, 1.3}, 1e-15);                      // from memory
  expect_num_acc({1000000.2, 1000000.1, 1000000.3}, 1e-10);    // from memory
  expect_num_acc({10000000.2, 10000000.1, 10000000.3}, 1e-9);  // as near as a double holds these
}

// NIST/SEMATECH e-Handbook of Statistical Methods, 6.1.6, from memory: limits 8 and 20, mean 16, SD 2.
TEST(PublishedCapability, IsThatOfTheNistHandbook) {
  const auto published = capability(16.0, 2.0, {.lower = 8.0, .upper = 20.0}).value();
  EXPECT_NEAR(published.cp, 1.0, 1e-12);
  EXPECT_NEAR(published.cpk, 0.6667, 5e-5);
}

// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: flow rates of ten batches (by a public copy).
TEST(PublishedIndividualsChart, IsThatOfTheNistFlowRates) {
  const std::vector flow_rates{49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1};
  const auto chart = individuals_chart(flow_rates).value();
  EXPECT_NEAR(chart.mean, 50.81, 1e-9);
  EXPECT_NEAR(chart.mean_moving_range, 1.8778, 5e-5);
  EXPECT_NEAR(chart.upper, 55.8041, 5e-5);
  EXPECT_NEAR(chart.lower, 45.8159, 5e-5);
  EXPECT_TRUE(chart.outside.empty());
}

// ISO 7870-2 and ASTM, table of chart factors (by public copies).
TEST(PublishedChartFactors, AreThoseOfTheTable) {
  struct Row {
    std::size_t n;
    double c4, a3, b3, b4;
  };
  constexpr std::array<Row, 9> table{{{2, 0.7979, 2.659, 0.0, 3.267},
                                      {3, 0.8862, 1.954, 0.0, 2.568},
                                      {4, 0.9213, 1.628, 0.0, 2.266},
                                      {5, 0.9400, 1.427, 0.0, 2.089},
                                      {6, 0.9515, 1.287, 0.030, 1.970},
                                      {7, 0.9594, 1.182, 0.118, 1.882},
                                      {8, 0.9650, 1.099, 0.185, 1.815},
                                      {9, 0.9693, 1.032, 0.239, 1.761},
                                      {10, 0.9727, 0.975, 0.284, 1.716}}};
  for (const Row& row : table) {
    const ChartFactors factors = chart_factors(row.n);
    EXPECT_NEAR(factors.c4, row.c4, 5.1e-5) << row.n;
    EXPECT_NEAR(factors.a3, row.a3, 5.1e-4) << row.n;
    EXPECT_NEAR(factors.b3, row.b3, 5.1e-4) << row.n;
    EXPECT_NEAR(factors.b4, row.b4, 5.1e-4) << row.n;
  }
}

// D. C. Montgomery, Introduction to Statistical Quality Control: inside diameters of piston rings in mm, 25 subgroups
// of five (data by public copies; the book's summary values from memory).
const std::vector<std::vector<double>> piston_rings{
    {74.030, 74.002, 74.019, 73.992, 74.008}, {73.995, 73.992, 74.001, 74.011, 74.004},
    {73.988, 74.024, 74.021, 74.005, 74.002}, {74.002, 73.996, 73.993, 74.015, 74.009},
    {73.992, 74.007, 74.015, 73.989, 74.014}, {74.009, 73.994, 73.997, 73.985, 73.993},
    {73.995, 74.006, 73.994, 74.000, 74.005}, {73.985, 74.003, 73.993, 74.015, 73.988},
    {74.008, 73.995, 74.009, 74.005, 74.004}, {73.998, 74.000, 73.990, 74.007, 73.995},
    {73.994, 73.998, 73.994, 73.995, 73.990}, {74.004, 74.000, 74.007, 74.000, 73.996},
    {73.983, 74.002, 73.998, 73.997, 74.012}, {74.006, 73.967, 73.994, 74.000, 73.984},
    {74.012, 74.014, 73.998, 73.999, 74.007}, {74.000, 73.984, 74.005, 73.998, 73.996},
    {73.994, 74.012, 73.986, 74.005, 74.007}, {74.006, 74.010, 74.018, 74.003, 74.000},
    {73.984, 74.002, 74.003, 74.005, 73.997}, {74.000, 74.010, 74.013, 74.020, 74.003},
    {73.982, 74.001, 74.015, 74.005, 73.996}, {74.004, 73.999, 73.990, 74.006, 74.009},
    {74.010, 73.989, 73.990, 74.009, 74.014}, {74.015, 74.008, 73.993, 74.000, 74.010},
    {73.982, 73.984, 73.995, 74.017, 74.013},
};

TEST(PublishedSubgroupChart, IsThatOfThePistonRings) {
  const auto chart = subgroup_chart(piston_rings).value();
  EXPECT_NEAR(chart.grand_mean, 74.001, 5e-4);
  EXPECT_NEAR(chart.mean_sd, 0.0094, 5e-5);
  EXPECT_NEAR(chart.mean_upper, 74.014, 6e-4);  // 74.01459
  EXPECT_NEAR(chart.mean_lower, 73.988, 5e-4);
  EXPECT_NEAR(chart.sd_upper, 0.0196, 5e-5);
  EXPECT_EQ(chart.sd_lower, 0.0);
  EXPECT_TRUE(chart.means_outside.empty());
}

// The same data, worked apart from this code in full digits; tolerance 74 -/+ 0.05 mm.
TEST(PublishedSubgroupChart, OfThePistonRingsInFullDigits) {
  const auto chart = subgroup_chart(piston_rings).value();
  EXPECT_NEAR(chart.grand_mean, 74.001176, 1e-9);
  EXPECT_NEAR(chart.mean_sd, 0.00939948, 5e-9);
  EXPECT_NEAR(chart.mean_upper, 74.014592, 5e-7);
  EXPECT_NEAR(chart.mean_lower, 73.987760, 5e-7);
  EXPECT_NEAR(chart.sd_upper, 0.0196355, 5e-8);
  EXPECT_NEAR(chart.sigma, 0.00999960, 5e-9);
  const auto capable = capability(chart.grand_mean, chart.sigma, {.lower = 73.95, .upper = 74.05}).value();
  EXPECT_NEAR(capable.cp, 1.66673, 5e-6);
  EXPECT_NEAR(capable.cpk, 1.62753, 5e-6);
}

// A copy of the data that goes about with a statistics package differs in subgroup 21, and quotes R-bar 0.02276.
TEST(PublishedSubgroupChart, TellsTheOtherCopyOfThePistonRingsApart) {
  auto other_copy = piston_rings;
  other_copy[20] = {73.988, 74.001, 74.009, 74.005, 73.996};
  const auto chart = subgroup_chart(other_copy).value();
  EXPECT_NEAR(chart.mean_sd, 0.0092400, 5e-8);
}

// NIST Statistical Reference Datasets, Analysis of Variance, SiRstv: resistivity of silicon by five instruments
// (itl.nist.gov/div898/strd; certified values by public copies).
const std::vector<std::vector<double>> resistivity{{196.3052, 196.1240, 196.1890, 196.2569, 196.3403},
                                                   {196.3042, 196.3825, 196.1669, 196.3257, 196.0422},
                                                   {196.1303, 196.2005, 196.2889, 196.0343, 196.1811},
                                                   {196.2795, 196.1748, 196.1494, 196.1485, 195.9885},
                                                   {196.2119, 196.1051, 196.1850, 196.0052, 196.2090}};

TEST(PublishedOneWay, IsThatOfTheResistivityOfSilicon) {
  OneWaySums sums;
  for (const auto& instrument : resistivity) add_group(sums, moments_of(instrument));
  const OneWay result = one_way(sums).value();
  EXPECT_NEAR(result.ss_between / 5.11462616000000e-2, 1.0, 1e-9);
  EXPECT_NEAR(result.ss_within / 2.16636560000000e-1, 1.0, 1e-9);
  EXPECT_EQ(result.df_between, 4U);
  EXPECT_EQ(result.df_within, 20U);
  EXPECT_NEAR(result.f.value() / 1.18046237440255, 1.0, 1e-9);
  EXPECT_NEAR(result.repeatability.sd / 1.04076068334656e-1, 1.0, 1e-9);
  EXPECT_NEAR(result.ss_between / (result.ss_between + result.ss_within) / 1.90999039051129e-1, 1.0, 1e-9);
  EXPECT_NEAR(result.n0, 5.0, 1e-12);
  EXPECT_NEAR(result.between_variance, 0.00039095, 5e-9);  // not certified: worked apart from this code
  // The interval of the SD, computed with scipy 1.10.1, scipy.stats.chi2.ppf.
  EXPECT_NEAR(result.repeatability.lower, 0.0796243470783664, 1e-12);
  EXPECT_NEAR(result.repeatability.upper, 0.15029307491971564, 1e-12);
}

// scipy 1.10.1, scipy.stats.f_oneway of unequal groups.
TEST(PublishedOneWay, OfUnequalGroupsHasTheFOfScipy) {
  OneWaySums sums;
  for (const auto& group : std::vector<std::vector<double>>{{1, 2, 4}, {7, 9}, {3}, {5, 6, 5, 8}}) {
    add_group(sums, moments_of(group));
  }
  EXPECT_NEAR(one_way(sums).value().f.value(), 7.473684210526312, 1e-12);
}

// AIAG, Measurement Systems Analysis, 4th ed., worked example: operators A, B, C in turn, three rows each, ten parts
// (by several public copies; also W. McNeese, Three Ways to Analyze a Gage R&R Study, 2015).
constexpr std::array<std::array<double, 10>, 9> aiag_rows{{
    {0.29, -0.56, 1.34, 0.47, -0.80, 0.02, 0.59, -0.31, 2.26, -1.36},
    {0.41, -0.68, 1.17, 0.50, -0.92, -0.11, 0.75, -0.20, 1.99, -1.25},
    {0.64, -0.58, 1.27, 0.64, -0.84, -0.21, 0.66, -0.17, 2.01, -1.31},
    {0.08, -0.47, 1.19, 0.01, -0.56, -0.20, 0.47, -0.63, 1.80, -1.68},
    {0.25, -1.22, 0.94, 1.03, -1.20, 0.22, 0.55, 0.08, 2.12, -1.62},
    {0.07, -0.68, 1.34, 0.20, -1.28, 0.06, 0.83, -0.34, 2.19, -1.50},
    {0.04, -1.38, 0.88, 0.14, -1.46, -0.29, 0.02, -0.46, 1.77, -1.49},
    {-0.11, -1.13, 1.09, 0.20, -1.07, -0.67, 0.01, -0.56, 1.45, -1.77},
    {-0.15, -0.96, 0.67, 0.11, -1.45, -0.49, 0.21, -0.49, 1.87, -2.16},
}};

GaugeTable aiag_table() {
  std::vector<GaugeReading> readings;
  for (std::size_t row = 0; row < aiag_rows.size(); ++row) {
    for (std::size_t part = 0; part < 10; ++part) readings.push_back({part, row / 3, aiag_rows[row][part]});
  }
  return gauge_table(readings).value();
}

TEST(PublishedGaugeStudy, ByAverageAndRangeIsThatOfAiag) {
  const auto study = average_and_range_study(aiag_table()).value();
  EXPECT_NEAR(study.repeatability.sd, 0.2019, 5.1e-5);
  EXPECT_NEAR(study.reproducibility.sd, 0.2297, 5.1e-5);
  EXPECT_NEAR(study.gauge.sd, 0.3058, 5.1e-5);
  EXPECT_NEAR(study.part.sd, 1.1046, 5.1e-5);
  EXPECT_NEAR(study.total_sd, 1.1461, 5.1e-5);
  EXPECT_NEAR(study.repeatability.percent, 17.61, 5.1e-3);
  EXPECT_NEAR(study.reproducibility.percent, 20.04, 5.1e-3);
  EXPECT_NEAR(study.gauge.percent, 26.68, 5.1e-3);
  EXPECT_NEAR(study.part.percent, 96.37, 6e-3);  // printed cut off: 96.3757
  EXPECT_EQ(study.distinct_categories, 5U);
}

// The same, worked apart from this code in full digits with AIAG's factors.
TEST(PublishedGaugeStudy, ByAverageAndRangeInFullDigits) {
  const auto study = average_and_range_study(aiag_table()).value();
  EXPECT_NEAR(study.repeatability.sd, 0.2018567, 5.1e-8);
  EXPECT_NEAR(study.reproducibility.sd, 0.2296670, 5.1e-8);
  EXPECT_NEAR(study.gauge.sd, 0.3057663, 5.1e-8);
  EXPECT_NEAR(study.part.sd, 1.1045956, 5.1e-8);
  EXPECT_NEAR(study.total_sd, 1.1461345, 5.1e-8);
  EXPECT_NEAR(study.gauge.percent, 26.67805, 5.1e-6);
}

TEST(PublishedGaugeStudy, ByAnalysisOfVarianceIsThatOfAiag) {
  const GaugeAnova anova = gauge_anova(aiag_table());
  EXPECT_NEAR(anova.ss_part, 88.362, 5.1e-4);
  EXPECT_NEAR(anova.ss_operator, 3.167, 5.1e-4);
  EXPECT_NEAR(anova.ss_interaction, 0.359, 5.1e-4);
  EXPECT_NEAR(anova.ss_repeatability, 2.759, 5.1e-4);
  EXPECT_NEAR(anova.interaction_f.value(), 0.434, 5.1e-4);
  EXPECT_TRUE(anova.is_pooled);
  const auto study = anova_study(anova).value();
  EXPECT_NEAR(study.gauge.percent, 27.9, 5.1e-2);
  EXPECT_EQ(study.distinct_categories, 4U);
}

// The same, worked apart from this code in full digits.
TEST(PublishedGaugeStudy, ByAnalysisOfVarianceInFullDigits) {
  const GaugeAnova anova = gauge_anova(aiag_table());
  EXPECT_NEAR(anova.ss_part, 88.361934, 5.1e-7);
  EXPECT_NEAR(anova.ss_operator, 3.167262, 5.1e-7);
  EXPECT_NEAR(anova.ss_interaction, 0.358982, 5.1e-7);
  EXPECT_NEAR(anova.ss_repeatability, 2.758933, 5.1e-7);
  EXPECT_NEAR(anova.interaction_f.value(), 0.43372, 5.1e-6);
  EXPECT_NEAR(anova.repeatability_variance, 0.03997328, 5.1e-9);
  EXPECT_NEAR(anova.operator_variance, 0.05145526, 5.1e-9);
  EXPECT_NEAR(anova.part_variance, 1.08644660, 5.1e-9);
  const auto study = anova_study(anova).value();
  EXPECT_NEAR(study.gauge.sd * study.gauge.sd, 0.09142854, 5.1e-9);
  EXPECT_NEAR(study.gauge.percent, 27.86065, 5.1e-6);
}

// scipy 1.10.1: scipy.stats.ttest_ind(equal_var=False) for the standard error, scipy.stats.t.ppf for the factor.
TEST(PublishedDifferenceOfMeans, IsThatOfScipy) {
  const Moments group = moments_of(std::vector{3.1, -1.2, 4.4, 2.0, 0.7});
  const Moments rest = moments_of(std::vector{-2.5, 1.1, 0.3, -0.8, 2.2, -3.0, 0.9, 0.0});
  const auto difference = difference_of_means(group, rest).value();
  EXPECT_NEAR(difference.cents, 2.025, 1e-12);
  EXPECT_NEAR(difference.u95_cents, 2.7040085239713867, 1e-9);
}

TEST(PublishedDifferenceOfMeans, OfVeryUnequalSpreadsIsThatOfScipy) {
  const Moments group = moments_of(std::vector{12.0, 12.5, 11.8});
  const Moments rest = moments_of(std::vector{1.0, 20.0, -15.0, 8.0, 30.0, -22.0, 5.0, 11.0, -9.0, 17.0, 4.0, 2.0});
  const auto difference = difference_of_means(group, rest).value();
  EXPECT_NEAR(difference.cents, 7.766666666666667, 1e-12);
  EXPECT_NEAR(difference.u95_cents, 9.360793702338523, 1e-9);
}

}  // namespace
}  // namespace windway
