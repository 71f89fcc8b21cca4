// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/octave_slips.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "units/order_statistics.hpp"

namespace windway {
namespace {

constexpr double no_gap_s = 0.07;   // the change smears 0.04 to 0.05 s; the shortest breath between two blows is 0.1
constexpr double softest_db = 1.0;  // over the note's softest blow, it is as soft
constexpr int semitones_an_octave = 12;

/// Is it about the softest blow of its note in its take? One that is alone, softer than half of the take's holds?
bool is_soft(const NamedHold& blow, const std::vector<NamedHold>& holds) {
  std::vector<double> same_db;
  std::vector<double> all_db;
  for (const NamedHold& other : holds) {
    if (other.hold.take != blow.hold.take || &other == &blow) continue;
    all_db.push_back(other.hold.level_db);
    if (other.note.midi == blow.note.midi) same_db.push_back(other.hold.level_db);
  }
  if (same_db.empty()) return !all_db.empty() && blow.hold.level_db < *median_of(all_db);
  return blow.hold.level_db < *std::ranges::min_element(same_db) + softest_db;
}

bool slips(const NamedHold& upper, const NamedHold& lower) {
  return upper.hold.take == lower.hold.take && upper.note.midi == lower.note.midi + semitones_an_octave &&
         lower.hold.start_s - upper.hold.end_s < no_gap_s;
}

Warning octave_slip(int midi, const std::vector<double>& times_s, const Instrument& instrument) {
  const std::string note = spelt(midi, instrument);
  const std::string when = times_s.size() == 1 ? fmt::format("at {:.1f} s", times_s.front())
                                               : fmt::format("{} times, first at {:.1f} s", times_s.size(), times_s[0]);
  return {
      WarningCode::octave_slip,
      fmt::format("{} slipped into the lower octave when blown soft ({}): what sounds after that counts as {}. Blow "
                  "{} a little harder there and record it again; if you meant the octave, breathe before it.",
                  note, when, spelt(midi - semitones_an_octave, instrument), note)};
}

}  // namespace

Warnings octave_slips(const std::vector<NamedHold>& holds, const Instrument& instrument) {
  std::map<int, std::vector<double>> times_s;
  for (std::size_t i = 1; i < holds.size(); ++i) {
    if (slips(holds[i - 1], holds[i]) && is_soft(holds[i - 1], holds))
      times_s[holds[i - 1].note.midi].push_back(holds[i].hold.start_s);
  }
  Warnings warnings;
  for (const auto& [midi, times] : times_s) warnings.push_back(octave_slip(midi, times, instrument));
  return warnings;
}

}  // namespace windway
