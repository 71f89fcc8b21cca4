// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "support/plan.hpp"
#include "support/take.hpp"

namespace windway::samples {

enum class Order { note_by_note, there_and_back, round_by_round };

/// One take from the invented bench: which flute, where its head stood, how it was played and recorded.
struct SampleTake {
  std::string name;           ///< of the file, without its ending
  std::string serial;         ///< takes of one serial number are of one flute
  std::string flute;          ///< in words
  std::string played;         ///< in words
  synthesis::FluteDraw draw;  ///< with its head fully in, warm
  bool head_moves = true;
  bool one_microphone_dead = false;  ///< two channels, the left one dead
  double head_out_mm = 0.0;          ///< how far out of fully in
  int semitones = 21;                ///< how far up the major scale is played
  Order order = Order::note_by_note;
  std::vector<Blow> blows = {Blow::soft, Blow::moderate, Blow::hard};
  synthesis::Timing timing;
  synthesis::Performance performance;
};

/// Every take of the scenario, in the order of the README.
std::vector<SampleTake> bench_takes();

}  // namespace windway::samples
