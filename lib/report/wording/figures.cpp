// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/figures.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace windway {
namespace {

/// The largest double has 309 digits before the point.
using Digits = std::array<char, 340>;

bool is_zero(const std::string& figure) { return figure.find_first_of("123456789") == std::string::npos; }

}  // namespace

int places_deserved(double u95, int most_places) {
  if (!std::isfinite(u95) || u95 <= 0) return most_places;
  // 0.095 is shown as 0.1: it deserves one place, not two.
  const double first_digit_power = std::floor(std::log10(u95 / 0.95));
  return static_cast<int>(std::clamp(-first_digit_power, 0.0, static_cast<double>(most_places)));
}

std::string fixed(double value, int places) {
  Digits digits;
  const auto end = std::to_chars(digits.begin(), digits.end(), value, std::chars_format::fixed, places).ptr;
  std::string figure(digits.begin(), end);
  if (figure.front() == '-' && is_zero(figure)) figure.erase(0, 1);
  return figure;
}

std::string signed_fixed(double value, int places) {
  std::string figure = fixed(value, places);
  return value > 0 && !is_zero(figure) ? "+" + figure : figure;
}

std::string plus_minus(double u95, int places) { return "± " + fixed(std::max(u95, std::pow(10.0, -places)), places); }

std::string signed_with_u95(double value, double u95) {
  const int places = places_deserved(u95, 1);
  return signed_fixed(value, places) + " (" + plus_minus(u95, places) + ")";
}

std::string figure_in_column(const CentsEstimate& estimate) {
  const int places = places_deserved(estimate.u95_cents, 1);
  return signed_fixed(estimate.cents, places) + (places == 0 ? "  " : "");
}

double rounded(double value) {
  constexpr double steps_per_unit = 1e6;
  return std::round(value * steps_per_unit) / steps_per_unit + 0.0;  // + 0.0 takes the sign off a zero
}

std::string shortest(double value) {
  Digits digits;
  return {digits.begin(), std::to_chars(digits.begin(), digits.end(), value).ptr};
}

}  // namespace windway
