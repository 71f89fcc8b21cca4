// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/record/bounds.hpp"

#include <cmath>
#include <string_view>

namespace windway {
namespace {

constexpr double least_above_0 = 1e-6;  // figures are written with six decimals

/// By the unit at the end of the key: cents and decibels are exponents.
double largest(std::string_view key) {
  constexpr double cents = 1e5, decibels = 1e3, others = 1e9;
  if (key.ends_with("cents")) return cents;
  return key.ends_with("_db") ? decibels : others;
}

}  // namespace

bool is_possible(const Field& field, double figure) {
  constexpr double all = 100.0;
  if (!(std::abs(figure) <= largest(field.key))) return false;
  if (figure == 0 && field.is(nullable)) return true;
  if (field.is(at_least_0) && figure < 0) return false;
  if (field.is(above_0) && figure < least_above_0) return false;
  if (field.is(at_least_1) && figure < 1) return false;
  return !(field.is(at_most_1) && figure > 1) && !(field.is(at_most_100) && figure > all);
}

}  // namespace windway
