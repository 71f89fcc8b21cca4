// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <iterator>
#include <map>
#include <random>

#include "invented_holds.hpp"

namespace windway::testing {
namespace {

/// An invented whistle and player: the flute as a whole, its notes and its player's bends are drawn at random.
struct Player {
  std::mt19937 random;
  double furthest_offset_cents;

  double between(double low, double high) { return std::uniform_real_distribution(low, high)(random); }
  double normal(double sd) { return std::normal_distribution(0.0, sd)(random); }

  /// Every note soft, moderate and hard, bends from -50 to +40 cents; in rounds, by whim with notes skipped, or a note
  /// after the other.
  std::vector<MeantHold> play(int lowest_midi) {
    auto notes = two_octaves(lowest_midi);
    const double offset = between(-furthest_offset_cents, furthest_offset_cents);
    const double bend = between(0.5, 1.1);
    std::map<int, double> error;
    for (const int midi : notes) error[midi] = offset + normal(8);
    auto meant = steps(notes);
    for (MeantHold& hold : meant) {
      hold.cents = std::clamp(bend * hold.cents, -50.0, 40.0) + error[hold.midi] + normal(2.5);
      hold.level_db += normal(2);
    }
    return in_some_order(meant, notes);
  }

  std::vector<MeantHold> in_some_order(const std::vector<MeantHold>& meant, std::vector<int> notes) {
    const int order = std::uniform_int_distribution(0, 2)(random);
    std::vector<MeantHold> played;
    if (order == 0)
      for (std::size_t blow = 0; blow < 3; ++blow)
        for (std::size_t i = blow; i < meant.size(); i += 3) played.push_back(meant[i]);
    if (order == 1) {
      std::shuffle(notes.begin(), notes.end(), random);
      notes.resize(notes.size() - 2);
      for (const int midi : notes)
        std::copy_if(meant.begin(), meant.end(), std::back_inserter(played),
                     [=](const MeantHold& hold) { return hold.midi == midi; });
    }
    return order == 2 ? meant : played;
  }
};

/// Share of the holds of 150 players that are rightly named.
double share_named(double furthest_offset_cents, bool is_told) {
  Player player{std::mt19937(2718), furthest_offset_cents};
  std::size_t right = 0, all = 0;
  for (int trial = 0; trial < 150; ++trial) {
    const int lowest = 60 + trial % 20;
    const auto meant = player.play(lowest);
    const InstrumentHint hint = is_told ? told(Kind::whistle, note_name(lowest, 2)) : InstrumentHint{};
    const auto named = midi_of_named(name_holds(holds_of(meant), hint, {440}));
    for (std::size_t i = 0; i < meant.size(); ++i) right += named[i] == meant[i].midi;
    all += meant.size();
  }
  return static_cast<double>(right) / static_cast<double>(all);
}

TEST(NameHoldsOfManyPlayers, NamesRightlyWithTheInstrumentTold) { EXPECT_GE(share_named(70, true), 0.999); }

TEST(NameHoldsOfManyPlayers, NamesRightlyWithNothingTold) { EXPECT_GE(share_named(30, false), 0.995); }

}  // namespace
}  // namespace windway::testing
