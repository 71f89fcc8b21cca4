// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "scale/naming.hpp"

namespace windway::testing {

/// A hold to be: which note is meant and how many cents off it sounds.
struct MeantHold {
  int midi = 0;
  double cents = 0;
  double level_db = 0;
  int take = 0;
};

/// Two octaves of the major scale from `lowest_midi` without the last octave: 14 notes.
std::vector<int> two_octaves(int lowest_midi);

/// Each note soft, moderate, hard; bends by degree of an invented whistle, the soft sixth degree 50 cents flat.
std::vector<MeantHold> steps(const std::vector<int>& notes);

std::vector<MeantHold> transposed(std::vector<MeantHold> meant, double cents);

/// The holds at A4 = `a4_hz`, a second each with `gap_s` between, in the order given.
std::vector<Hold> holds_of(const std::vector<MeantHold>& meant, double a4_hz = 440, double gap_s = 0.3);

std::vector<int> midi_of_meant(const std::vector<MeantHold>& meant);
std::vector<int> midi_of_named(const Naming& naming);

InstrumentHint told(Kind kind, const std::string& lowest);

bool has_warning(const Naming& naming, WarningCode code);
std::string warning_text(const Naming& naming, WarningCode code);

}  // namespace windway::testing
