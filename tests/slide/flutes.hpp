// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <vector>

#include "slide/slide.hpp"
#include "support/random.hpp"

namespace windway::test {

inline constexpr double sound_25_m_s = 346.1;  ///< near enough to 25 degrees C for any test

/// A note of MIDI key `midi` (A4 = 440 Hz) with its measured reach; u95 0 all round.
NoteBreath measured_note(int midi, double soft_cents, double moderate_cents, double hard_cents,
                         int register_number = 1);

/// The same note blown at one strength only.
NoteBreath one_blow_note(int midi, double moderate_cents, int register_number = 1);

/// The major scale from `lowest_midi` over 14 notes, every note `moderate_cents` off with 15 cents to either side.
std::vector<NoteBreath> even_scale(int lowest_midi, double moderate_cents);

/// Invented instruments, the same on every machine for one seed.
class FluteMaker {
 public:
  explicit FluteMaker(std::uint64_t seed) : random_(seed) {}

  double uniform(double low, double high) { return random_.uniform(low, high); }
  /// 14 notes of a whistle: `overall_cents` off on the whole with 6 cents from note to note, reaches of 4 to 30 cents.
  std::vector<NoteBreath> whistle(double overall_cents);
  /// The same notes as a take with this much noise tells them: every pitch drawn anew, and its u95 said.
  std::vector<NoteBreath> measured(std::vector<NoteBreath> truth, double sd_cents);

 private:
  synthesis::Random random_;
};

}  // namespace windway::test
