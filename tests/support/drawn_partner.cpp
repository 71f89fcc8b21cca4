// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/drawn_partner.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

#include "units/units.hpp"

namespace windway::synthesis {
namespace {

constexpr int a4_midi = 69;
constexpr int lowest_midi = 65;   // F4
constexpr int highest_midi = 98;  // D7

int key_in_range(Random& random) { return static_cast<int>(std::floor(random.uniform(lowest_midi, highest_midi + 1))); }

/// One to three strings about their mean, as a good tuner leaves them.
std::vector<double> drawn_strings(Random& random) {
  constexpr double sd_cents = 0.2;  // common practice, no source
  std::vector<double> cents(static_cast<std::size_t>(random.uniform(1.0, 4.0)));
  for (double& string : cents) string = random.normal(0.0, sd_cents);
  const double mean = std::accumulate(cents.begin(), cents.end(), 0.0) / static_cast<double>(cents.size());
  for (double& string : cents) string -= mean;
  return cents;
}

}  // namespace

DrawnPartner drawn_partner(double scatter_cents, Random& random) {
  DrawnPartner drawn;
  drawn.a4_hz = random.uniform(430.0, 450.0);
  drawn.rate_hz = random.chance(0.5) ? 44100.0 : 48000.0;
  const double noise_db = random.uniform(-75.0, -40.0);
  const int count = static_cast<int>(random.uniform(3.0, 9.0));
  double time_s = random.uniform(0.1, 0.8);
  std::map<int, double> scatter;
  for (int i = 0; i < count; ++i) {
    const int midi = key_in_range(random);
    if (!scatter.contains(midi)) scatter[midi] = random.normal(0.0, scatter_cents);
    StruckNote note;
    note.start_s = time_s;
    note.duration_s = random.uniform(0.8, 3.0);
    note.first_hz = hz_at_cents(drawn.a4_hz, 100.0 * (midi - a4_midi) + scatter[midi]);
    note.inharmonicity = std::pow(10.0, random.uniform(-4.0, -3.0));
    note.amplitude = random.uniform(0.05, 0.2);
    note.decay_s = random.uniform(0.4, 2.0);
    note.partial_scatter_cents = 0.2;
    note.strings_cents = drawn_strings(random);
    drawn.notes.push_back(note);
    if (!random.chance(0.15)) time_s += note.duration_s + random.uniform(-0.3, 0.6);  // else the next joins it
  }
  double end_s = 0.0;
  for (const StruckNote& note : drawn.notes) end_s = std::max(end_s, note.start_s + note.duration_s);
  drawn.samples = struck_strings(drawn.notes, end_s + 0.5, drawn.rate_hz, noise_db, random);
  return drawn;
}

}  // namespace windway::synthesis
