// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace windway::external_tests {

/// One key of a General MIDI recorder, held 2 s, and how far it is to be tuned from where the soundfont has it.
struct TunedKey {
  int key = 0;
  int offset_cents = 0;  ///< whole cents, -99 to 99
};

/// A Standard MIDI File (format 0) that plays the keys one after the other with program 74 (counted from 0), tuned by
/// the MIDI Tuning Standard (MIDI 1.0 Detailed Specification, universal real-time message 08 02; RPN 3 and 4).
std::string midi_file(const std::vector<TunedKey>& keys);

}  // namespace windway::external_tests
