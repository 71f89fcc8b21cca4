// SPDX-License-Identifier: GPL-3.0-or-later
#include "agreement/take_model.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace windway {
namespace {

/// Two takes of `notes` notes, the second higher by 2 cents; each reading has the variance 0.04.
std::vector<TakeCell> two_takes(std::size_t notes) {
  std::vector<TakeCell> cells;
  for (std::size_t note = 0; note < notes; ++note)
    for (std::size_t take = 0; take < 2; ++take)
      cells.push_back({take, note, 5.0 * static_cast<double>(note) + 2.0 * static_cast<double>(take), 0.04});
  return cells;
}

TakeModel alike_model(std::size_t takes, std::size_t notes) {
  TakeModel model;
  model.takes = takes;
  model.notes = notes;
  model.patterns = {std::vector<double>(notes, 1.0)};
  return model;
}

TEST(FitTakes, TellsTheTakesFromTheNotes) {
  const TakeFit fit = fit_takes(two_takes(4), alike_model(2, 4));
  EXPECT_NEAR(fit.effect[0][1], 2.0, 1e-9);
  EXPECT_EQ(fit.effect[0][0], 0.0);
  EXPECT_NEAR(fit.covariance[0][1][1], 2 * 0.04 / 4, 1e-9);  // a difference of two means of four
  EXPECT_NEAR(fit.squares, 0.0, 1e-9);
  EXPECT_EQ(fit.degrees, 3.0);
  EXPECT_EQ(fit.excess(), 1.0);
}

TEST(FitTakes, TellsTwoPatternsApart) {
  TakeModel model = alike_model(2, 4);
  model.patterns.push_back({-1.5, -0.5, 0.5, 1.5});
  std::vector<TakeCell> cells = two_takes(4);
  for (TakeCell& cell : cells)
    if (cell.take == 1) cell.cents += 0.7 * model.patterns[1][cell.note];
  const TakeFit fit = fit_takes(cells, model);
  EXPECT_NEAR(fit.effect[0][1], 2.0, 1e-9);
  EXPECT_NEAR(fit.effect[1][1], 0.7, 1e-9);
}

TEST(FitTakes, DrawsTheFactorTowardsItsPrior) {
  TakeModel model = alike_model(2, 3);
  model.effect_sd = 1e-6;
  for (const TakeCell& cell : two_takes(3)) model.foretold_cents.push_back(cell.take == 0 ? 0.0 : 4.0);
  EXPECT_NEAR(fit_takes(two_takes(3), model).factor, 0.5, 1e-6);
  model.factor_prior = Prior{1.0, 1e-6};
  EXPECT_NEAR(fit_takes(two_takes(3), model).factor, 1.0, 1e-6);
}

TEST(FitTakes, SaysWhatLeavingANoteOutWouldSave) {
  std::vector<TakeCell> cells = two_takes(5);
  cells.back().cents += 3.0;
  const TakeFit with = fit_takes(cells, alike_model(2, 5));
  std::vector<TakeCell> others(cells.begin(), cells.end() - 2);
  const TakeFit without = fit_takes(others, alike_model(2, 4));
  EXPECT_NEAR(with.squares - with.of_note[4].squares, without.squares, 1e-9);
  EXPECT_NEAR(with.degrees - with.of_note[4].degrees, without.degrees, 1e-9);
  EXPECT_EQ(note_standing_out(with, 0.001), 4U);
  EXPECT_FALSE(note_standing_out(without, 0.001));
}

TEST(ChanceOf, IsThatOfTheTables) {  // NIST/SEMATECH e-Handbook, sec. 1.3.6.7.3 and 1.3.6.7.4, upper 5 %
  EXPECT_NEAR(chance_of(3.841, 1, 0), 0.05, 1e-4);
  EXPECT_NEAR(chance_of(11.070, 5, 0), 0.05, 1e-4);
  EXPECT_NEAR(chance_of(4.965, 1, 10), 0.05, 1e-4);
  EXPECT_NEAR(chance_of(2 * 4.103, 2, 10), 0.05, 1e-4);
  EXPECT_EQ(chance_of(5.0, 0, 0), 1.0);
}

TEST(ChanceOfEffects, AllowsForWhatTakesThatAgreeDifferBy) {
  const TakeFit fit = fit_takes(two_takes(4), alike_model(2, 4));
  EXPECT_NEAR(chance_of_effects(fit, 0, {0.0, 0.0}), chance_of(4.0 / 0.02, 1, 0), 1e-6);
  EXPECT_NEAR(chance_of_effects(fit, 0, {0.49, 0.49}), chance_of(4.0, 1, 0), 1e-6);
  EXPECT_EQ(chance_of_effects(fit, 0, {0.5}), 1.0);
}

}  // namespace
}  // namespace windway
