// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/chord.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "units/units.hpp"

namespace windway {
namespace {

void add_string(std::vector<SpectralPeak>& peaks, double first_hz, double stiffness, double first_db,
                int partials = 6) {
  for (int number = 1; number <= partials; ++number) {
    const double n = number;
    peaks.push_back({n * first_hz * std::sqrt((1.0 + stiffness * n * n) / (1.0 + stiffness)),
                     power_from_db(first_db - 5.0 * (n - 1.0))});
  }
  std::ranges::sort(peaks, {}, &SpectralPeak::hz);
}

std::vector<double> firsts(const std::vector<SpectralPeak>& peaks) {
  std::vector<double> hz;
  for (const HeardNote& note : notes_of_chord(peaks)) hz.push_back(note.first_hz());
  return hz;
}

TEST(NotesOfChord, TakesAllPartialsOfAStiffStringForOneNote) {
  std::vector<SpectralPeak> peaks;
  add_string(peaks, 440.0, 1e-3, -20.0, 12);
  EXPECT_EQ(firsts(peaks), std::vector<double>{440.0});
  EXPECT_TRUE(notes_of_chord(peaks).front().partials[9]);
}

TEST(NotesOfChord, TellsTheNotesOfATriadApart) {
  std::vector<SpectralPeak> peaks;
  add_string(peaks, 440.0, 5e-4, -20.0);
  add_string(peaks, 554.4, 6e-4, -23.0);
  add_string(peaks, 659.3, 7e-4, -18.0);
  EXPECT_EQ(firsts(peaks), (std::vector<double>{440.0, 554.4, 659.3}));
}

TEST(NotesOfChord, DoesNotTakeAThumpBelowForTheNote) {
  std::vector<SpectralPeak> peaks;
  add_string(peaks, 523.3, 5e-4, -20.0);
  peaks.insert(peaks.begin(), {104.6, power_from_db(-42.0)});
  EXPECT_EQ(firsts(peaks), std::vector<double>{523.3});
}

TEST(NotesOfChord, HearsANoteOfOneLineOnly) {
  EXPECT_EQ(firsts({{880.0, power_from_db(-20.0)}}), std::vector<double>{880.0});
}

TEST(NotesOfChord, HearsNothingInNothing) { EXPECT_TRUE(notes_of_chord({}).empty()); }

}  // namespace
}  // namespace windway
