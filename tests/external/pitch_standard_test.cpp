// SPDX-License-Identifier: GPL-3.0-or-later
// Reference pitch, equal temperament and cents against standards.
#include <gtest/gtest.h>

#include <array>

#include "instrument/note.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

struct PitchRow {
  int midi;
  double a440_hz, a442_hz, a415_hz;
};

// ISO 16:1975 (A4 = 440 Hz) in equal temperament, as in any textbook table; 442 and 415 Hz by the same arithmetic.
constexpr std::array<PitchRow, 19> equal_temperament{{
    {60, 261.626, 262.815, 246.760},    {62, 293.665, 295.000, 276.979},    {69, 440.000, 442.000, 415.000},
    {72, 523.251, 525.630, 493.521},    {74, 587.330, 589.999, 553.959},    {76, 659.255, 662.252, 621.797},
    {77, 698.456, 701.631, 658.771},    {78, 739.989, 743.352, 697.944},    {79, 783.991, 787.554, 739.446},
    {81, 880.000, 884.000, 830.000},    {83, 987.767, 992.256, 931.644},    {84, 1046.502, 1051.259, 987.042},
    {86, 1174.659, 1179.998, 1107.917}, {88, 1318.510, 1324.503, 1243.595}, {90, 1479.978, 1486.705, 1395.888},
    {91, 1567.982, 1575.109, 1478.892}, {93, 1760.000, 1768.000, 1660.000}, {95, 1975.533, 1984.513, 1863.287},
    {98, 2349.318, 2359.997, 2215.834},
}};

TEST(EqualTemperament, IsTheTableOfIso16) {
  for (const PitchRow& row : equal_temperament) {
    EXPECT_NEAR(equal_tempered_hz(row.midi, 440), row.a440_hz, 6e-4) << row.midi;
    EXPECT_NEAR(equal_tempered_hz(row.midi, 442), row.a442_hz, 6e-4) << row.midi;
    EXPECT_NEAR(equal_tempered_hz(row.midi, 415), row.a415_hz, 6e-4) << row.midi;
  }
}

TEST(EqualTemperament, IsTheMidiTuningStandards) {
  // MIDI Tuning Standard: 440 * 2^((d - 69) / 12), a semitone in 16384 parts. Right values (some that the standard
  // prints are wrong): "MTS frequency data examples in spec - are they correct", midi.org.
  const auto mts_hz = [](int key, int coarse, int fine) {
    return equal_tempered_hz(key + (coarse * 128 + fine) / 16384.0, 440);
  };
  EXPECT_NEAR(mts_hz(0, 0, 0), 8.1758, 5e-5);
  EXPECT_NEAR(mts_hz(0, 0, 1), 8.1758, 5e-5);
  EXPECT_NEAR(mts_hz(0x3d, 0, 0), 277.1826, 5e-5);
  EXPECT_NEAR(mts_hz(0x44, 0x7f, 0x7f), 439.9984, 5e-5);
  EXPECT_EQ(mts_hz(0x45, 0, 0), 440.0);
  EXPECT_NEAR(mts_hz(0x78, 0, 0), 8372.0181, 5e-5);
  EXPECT_NEAR(mts_hz(0x7f, 0, 0), 12543.8540, 5e-5);
  EXPECT_NEAR(mts_hz(0x7f, 0x7f, 0x7e), 13289.6566, 5e-5);
}

TEST(Cents, OfReferencePitchesInUse) {
  // Offsets from ISO 16's 440 Hz; 415 and 466 Hz are not exact semitones.
  EXPECT_NEAR(cents_between(440, 435), -19.7857, 5e-5);
  EXPECT_NEAR(cents_between(440, 442), 7.8514, 5e-5);
  EXPECT_NEAR(cents_between(440, 443), 11.7638, 5e-5);
  EXPECT_NEAR(cents_between(440, 415), -101.2706, 5e-5);
  EXPECT_NEAR(cents_between(440, 466), 99.3917, 5e-5);
}

TEST(Cents, AreEllissHundredthsOfASemitone) {
  // A. J. Ellis, J. Soc. Arts 33 (1885) 485: 1200 log2; constants as in any textbook, arithmetic.
  EXPECT_NEAR(cents_per_neper, 1731.2340490667561, 1e-12);
  EXPECT_NEAR(hz_at_cents(1.0, 1.0), 1.0005777895, 5e-11);
  EXPECT_NEAR(cents_between(2.0, 3.0), 701.9550, 5e-5);
  EXPECT_NEAR(cents_between(440, 441), 3.9302, 5e-5);
  EXPECT_NEAR(hz_at_cents(440, 1) - 440, 0.25423, 5e-6);
  // His rule for the hand, 3477 (n - d) / (n + d): a formula of quite another shape.
  EXPECT_NEAR(cents_between(440, 441), 3477.0 / 881.0, 0.02);
  EXPECT_NEAR(cents_between(8.0, 9.0), 3477.0 / 17.0, 0.7);
}

TEST(Cents, OfAMistakenSampleRate) {
  EXPECT_NEAR(cents_between(44100, 48000), 146.7069, 5e-5);  // arithmetic
}

}  // namespace
}  // namespace windway
