// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/slide_warnings.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <optional>
#include <string>

namespace windway {
namespace {

constexpr double far_off_cents = 60.0;
constexpr double worth_a_word_cents = 1.0;

/// 1200 log2(48000 / 44100): what a sound file with the wrong one of these two rates is off by.
constexpr double rate_mistake_cents = 146.7069;
constexpr double mistake_width_cents = 20.0;  // how well a mistake's size tells it; half the distance of any two

/// Reference pitches in use, Hz (415 and 466 a semitone, 392 a tone from modern pitch: common practice, no source).
constexpr std::array<double, 4> references_in_use_hz{392.0, 415.0, 440.0, 466.0};

/// One decimal place, the same in every locale.
std::string tenths(double value) {
  std::array<char, 32> text{};
  const auto end = std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::fixed, 1);
  return {text.data(), end.ptr};
}

std::string sharp_or_flat(double cents) {
  return tenths(std::abs(cents)) + (cents > 0 ? " cents sharp" : " cents flat");
}

std::optional<double> reference_near_hz(double home_hz) {
  for (const double reference_hz : references_in_use_hz) {
    if (std::abs(cents_between(reference_hz, home_hz)) < mistake_width_cents) return reference_hz;
  }
  return std::nullopt;
}

std::string likely_mistake(double off_cents, double home_hz) {
  if (std::abs(std::abs(off_cents) - rate_mistake_cents) < mistake_width_cents) {
    return "A wrong sample rate makes 147 cents (48000 for 44100 Hz, or the other way round): check how the file was "
           "recorded and converted. If the rate is right, check the reference pitch and the key";
  }
  if (const std::optional<double> reference_hz = reference_near_hz(home_hz)) {
    const std::string hz = std::to_string(std::lround(*reference_hz));
    return "Is it made for A4 = " + hz + " Hz? Then run again with --a4 " + hz + ". If not, check the key (--lowest)";
  }
  return "Check the reference pitch (--a4), the key (--lowest) and the file's sample rate";
}

Warning scale_far_off(double off_cents, double home_hz) {
  return {WarningCode::scale_far_off, "the whole scale is " + sharp_or_flat(off_cents) +
                                          ", too far for a move of the head. " + likely_mistake(off_cents, home_hz) +
                                          "."};
}

Warning head_position_unknown() {
  return {
      WarningCode::head_position_unknown,
      "it is not known how far the head can still go in. If it is already fully in, run again with --fully-in to see "
      "how to blow instead."};
}

/// What is left once the head can go no farther.
std::string what_is_left(double left_cents, double home_hz) {
  if (std::abs(left_cents) < worth_a_word_cents) return "the scale is within 1 cent of the reference pitch.";
  return "the scale is " + sharp_or_flat(left_cents) + (left_cents > 0 ? ": blow softer" : ": blow harder") +
         ", or play at A4 = " + tenths(home_hz) + " Hz.";
}

Warning limit_warning(SlideLimit limit, const std::string& left) {
  switch (limit) {
    case SlideLimit::fully_in:
      return {WarningCode::fully_in, "the best place for the head is farther in than it goes. Fully in, " + left};
    case SlideLimit::travel:
      return {WarningCode::end_of_travel,
              "the best place for the head is farther out than it goes. At the end of its travel, " + left};
    case SlideLimit::fixed_head:
      break;
  }
  return {WarningCode::fixed_head, "the head does not move, and " + left};
}

}  // namespace

Warnings slide_warnings(const Compromise& compromise, const Head& head, double a4_hz, double home_shift_cents,
                        double left_cents) {
  Warnings out;
  const bool far_off = std::abs(home_shift_cents) > far_off_cents;
  if (far_off) out.push_back(scale_far_off(home_shift_cents, compromise.home_a4_hz));
  if (!far_off && !head.out_mm && compromise.slide_mm < -finest_move_mm) out.push_back(head_position_unknown());
  const bool in_tune_as_fixed = !head.moves && std::abs(left_cents) < worth_a_word_cents;
  if (compromise.limit && !in_tune_as_fixed) {
    out.push_back(limit_warning(*compromise.limit, what_is_left(left_cents, hz_at_cents(a4_hz, left_cents))));
  }
  return out;
}

bool is_of_the_head(WarningCode code) {
  constexpr std::array of_the_head{WarningCode::scale_far_off, WarningCode::head_position_unknown,
                                   WarningCode::fully_in, WarningCode::end_of_travel, WarningCode::fixed_head};
  return std::ranges::find(of_the_head, code) != of_the_head.end();
}

}  // namespace windway
