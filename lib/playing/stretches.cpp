// SPDX-License-Identifier: GPL-3.0-or-later
#include "playing/stretches.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace windway {
namespace {

constexpr double least_stretch_s = 0.04;
constexpr float step_cents = 35;             // in one hop: a change of note
constexpr float note_change_cents = 60;      // over twice note_change_s: likewise, where the window smears the step
constexpr double note_change_s = 0.03;       // a vibrato of 25 cents either way moves by 45 in twice that
constexpr float widest_cents = 55;           // range of the middle four fifths: vibrato of 25 cents either way
constexpr double most_glide_cents = 22;      // between the halves of a short stretch
constexpr double fastest_cents_per_s = 150;  // between the halves of a long one: as for holds

/// Does the pitch step about this frame? A frame beside silence is judged by what there is.
bool changes_note(const Melody& melody, std::size_t i) {
  const std::size_t reach = melody.frames_in(note_change_s);
  const std::size_t before = i - std::min(i, reach);
  const std::size_t after = std::min(i + reach, melody.frames.size() - 1);
  const MelodyFrame& from = melody.frames[before];
  const MelodyFrame& to = melody.frames[after];
  return from.sounds() && to.sounds() && std::abs(to.cents - from.cents) > note_change_cents;
}

double mean_cents(const Melody& melody, std::size_t first, std::size_t past) {
  const auto begin = melody.frames.begin() + static_cast<long>(first);
  const auto end = melody.frames.begin() + static_cast<long>(past);
  const double sum = std::accumulate(begin, end, 0.0, [](double s, const MelodyFrame& f) { return s + f.cents; });
  return sum / static_cast<double>(past - first);
}

bool stays(const Melody& melody, const Stretch& stretch, const std::vector<float>& sorted_cents) {
  const std::size_t tenth = sorted_cents.size() / 10;
  if (sorted_cents[sorted_cents.size() - 1 - tenth] - sorted_cents[tenth] > widest_cents) return false;
  const std::size_t middle = stretch.first + stretch.frames() / 2;
  const double glide =
      std::abs(mean_cents(melody, middle, stretch.last + 1) - mean_cents(melody, stretch.first, middle));
  const double half_s = 0.5 * static_cast<double>(stretch.frames()) * melody.hop_s;
  return glide < std::max(most_glide_cents, std::min(fastest_cents_per_s * half_s, 40.0));
}

/// Fills in the medians; false where it is no stretch of one note.
bool settle(const Melody& melody, Stretch& stretch) {
  if (stretch.frames() < melody.frames_in(least_stretch_s)) return false;
  std::vector<float> cents;
  double level_db = 0;
  for (std::size_t i = stretch.first; i <= stretch.last; ++i) {
    cents.push_back(melody.frames[i].cents);
    level_db += melody.frames[i].level_db;
  }
  std::sort(cents.begin(), cents.end());
  stretch.cents = cents[cents.size() / 2];
  stretch.level_db = level_db / static_cast<double>(cents.size());
  return stays(melody, stretch, cents);
}

}  // namespace

std::vector<Stretch> find_stretches(const Melody& melody) {
  std::vector<Stretch> stretches;
  bool open = false;
  for (std::size_t i = 0; i < melody.frames.size(); ++i) {
    const bool good = melody.frames[i].sounds() && !changes_note(melody, i);
    const bool goes_on = open && good && std::abs(melody.frames[i].cents - melody.frames[i - 1].cents) < step_cents;
    if (goes_on) {
      stretches.back().last = i;
    } else if (good) {
      stretches.push_back({i, i});
    }
    open = good;
  }
  std::erase_if(stretches, [&](Stretch& stretch) { return !settle(melody, stretch); });
  return stretches;
}

}  // namespace windway
