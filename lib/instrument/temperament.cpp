// SPDX-License-Identifier: GPL-3.0-or-later
#include "instrument/temperament.hpp"

#include <array>
#include <cassert>
#include <cmath>
#include <utility>

#include "instrument/note.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

constexpr std::array<std::pair<TemperamentName, const char*>, 5> words{{{TemperamentName::equal, "equal"},
                                                                        {TemperamentName::just, "just"},
                                                                        {TemperamentName::pythagorean, "pythagorean"},
                                                                        {TemperamentName::meantone, "meantone"},
                                                                        {TemperamentName::own, "own"}}};

int pitch_class_of(int midi) { return ((midi % 12) + 12) % 12; }

std::array<double, 12> equal_cents() {
  std::array<double, 12> cents{};
  for (std::size_t up = 0; up < cents.size(); ++up) cents[up] = 100.0 * static_cast<double>(up);
  return cents;
}

std::array<double, 12> just_cents() {
  constexpr std::array<std::pair<int, int>, 12> ratios{
      {{1, 1}, {16, 15}, {9, 8}, {6, 5}, {5, 4}, {4, 3}, {45, 32}, {3, 2}, {8, 5}, {5, 3}, {9, 5}, {15, 8}}};
  std::array<double, 12> cents{};
  for (std::size_t up = 0; up < cents.size(); ++up) cents[up] = cents_between(ratios[up].second, ratios[up].first);
  return cents;
}

std::array<double, 12> chain_of_fifths_cents(double fifth_cents) {
  constexpr int fifths_below = 3;
  std::array<double, 12> cents{};
  for (int fifths = -fifths_below; fifths < 12 - fifths_below; ++fifths) {
    const double above = fifth_cents * fifths;
    cents[static_cast<std::size_t>(pitch_class_of(7 * fifths))] = above - 1200.0 * std::floor(above / 1200.0);
  }
  return cents;
}

}  // namespace

std::array<double, 12> cents_above_key(const Temperament& temperament) {
  switch (temperament.name) {
    case TemperamentName::equal:
      return equal_cents();
    case TemperamentName::just:
      return just_cents();
    case TemperamentName::pythagorean:
      return chain_of_fifths_cents(cents_between(2, 3));
    case TemperamentName::meantone:  // four fifths make a just third and two octaves
      return chain_of_fifths_cents(cents_between(1, 5) / 4.0);
    case TemperamentName::own:
      break;
  }
  return temperament.own_cents;
}

double cents_from_equal(int midi, const Temperament& temperament) {
  if (temperament.name == TemperamentName::equal) return 0.0;
  assert(temperament.key_pitch_class);
  const std::array<double, 12> cents = cents_above_key(temperament);
  const auto off = [&](int pitch_class) {
    const int up = pitch_class_of(pitch_class - *temperament.key_pitch_class);
    return cents[static_cast<std::size_t>(up)] - 100.0 * up;
  };
  constexpr int a = 9;
  return off(pitch_class_of(midi)) - off(a);
}

double target_hz(int midi, const Tuning& tuning) {
  return equal_tempered_hz(midi + cents_from_equal(midi, tuning.temperament) / 100.0, tuning.a4_hz);
}

std::string temperament_word(TemperamentName name) {
  for (const auto& [known, word] : words)
    if (known == name) return word;
  return "own";
}

std::optional<TemperamentName> temperament_called(const std::string& word) {
  for (const auto& [name, known] : words)
    if (word == known) return name;
  return std::nullopt;
}

std::string temperament_in_words(const Temperament& temperament, NoteNames names) {
  if (temperament.name == TemperamentName::equal) return "equal temperament";
  std::string name = temperament.name == TemperamentName::own           ? "own temperament"
                     : temperament.name == TemperamentName::pythagorean ? "Pythagorean"
                     : temperament.name == TemperamentName::meantone    ? "quarter-comma meantone"
                                                                        : "just";
  if (temperament.key_pitch_class) {
    const std::string key = note_name(60 + *temperament.key_pitch_class, *temperament.key_pitch_class, names);
    name += " on " + key.substr(0, key.size() - 1);
  }
  return name;
}

}  // namespace windway
