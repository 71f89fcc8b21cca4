// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/hold_warnings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

namespace windway {
namespace {

std::optional<Warning> loud_background(const std::string& take, const PowerCurve& power,
                                       const std::vector<Hold>& holds) {
  constexpr double least_headroom_db = 10.0;  // with less, notes as soft again are lost
  const auto headroom = headroom_db(power, holds);
  if (!headroom || *headroom >= least_headroom_db) return std::nullopt;
  return Warning{
      WarningCode::loud_background,
      fmt::format("the background between the notes of {} is nearly as loud as the softest of them: softer blows "
                  "may be missing, and others taken for them. Record nearer to the flute or in a quieter "
                  "place.",
                  take)};
}

std::optional<Warning> voice_filter(const std::string& take, const std::vector<Hold>& holds) {
  constexpr std::size_t one_in = 10;  // holds; a filter that works on every note shows in most
  const auto turned_down = std::ranges::count_if(holds, &Hold::turned_down);
  if (turned_down < 2 || one_in * static_cast<std::size_t>(turned_down) < holds.size()) return std::nullopt;
  return Warning{
      WarningCode::voice_filter,
      fmt::format("in {} of the {} held notes of {} the tone is turned down while it still sounds: a voice filter "
                  "takes it for noise. Their loudness and length mean little. Switch off voice filters and "
                  "noise suppression and record again.",
                  turned_down, holds.size(), take)};
}

}  // namespace

Warnings hold_warnings(const std::string& take, const PowerCurve& power, const std::vector<Hold>& holds) {
  Warnings warnings;
  if (const auto warning = loud_background(take, power, holds)) warnings.push_back(*warning);
  if (const auto warning = voice_filter(take, holds)) warnings.push_back(*warning);
  return warnings;
}

}  // namespace windway
