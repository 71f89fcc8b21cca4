// SPDX-License-Identifier: GPL-3.0-or-later
// The move of the head against the open pipe of the textbooks: f = n c / (2 L), so that a millimetre is K / L cents
// (A. H. Benade, Fundamentals of Musical Acoustics (1976); N. H. Fletcher & T. D. Rossing, The Physics of Musical
// Instruments (2nd ed. 1998), ch. 8; from memory). The figures are arithmetic from that law, made independently.
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <vector>

#include "slide/law_of_slide.hpp"
#include "slide/slide.hpp"

namespace windway {
namespace {

constexpr double sound_20_m_s = 343.200;   // ISO 9613-1:1993, formula A.5
constexpr double sound_25_m_s = 346.1145;  // the same at 25 degrees C

struct LengthRow {
  double hz;
  double length_20_mm, cents_per_mm_20, one_mm_cents, five_mm_cents;
  double length_25_mm, cents_per_mm_25;
};

constexpr std::array<LengthRow, 9> lengths{{
    {523.2511306, 327.950, 5.2790, -5.2709, -26.196, 330.735, 5.2345},     // C5
    {587.3295358, 292.170, 5.9254, -5.9153, -29.377, 294.651, 5.8755},     // D5
    {659.2551138, 260.294, 6.6511, -6.6383, -32.940, 262.504, 6.5951},     // E5
    {739.9888454, 231.895, 7.4656, -7.4495, -36.931, 233.865, 7.4027},     // F#5
    {783.9908720, 218.880, 7.9095, -7.8915, -39.103, 220.739, 7.8429},     // G5
    {880.0000000, 195.000, 8.8781, -8.8554, -43.831, 196.656, 8.8034},     // A5
    {987.7666025, 173.725, 9.9654, -9.9368, -49.123, 175.201, 9.8814},     // B5
    {1108.730524, 154.772, 11.1857, -11.1498, -55.044, 156.086, 11.0915},  // C#6
    {1174.659072, 146.085, 11.8509, -11.8105, -58.263, 147.325, 11.7511},  // D6, first register
}};

/// A note that sounds at `hz` now, `cents` above its target, and bends so easily that the cost is least squares.
NoteBreath easy_note(double hz, double cents, int register_number = 1) {
  NoteBreath note;
  note.register_number = register_number;
  note.target_hz = hz_at_cents(hz, -cents);
  note.moderate.cents = cents;
  note.reach_soft_cents = 100.0;
  note.reach_hard_cents = 100.0;
  return note;
}

/// D5 E5 F#5 G5 A5 B5 C#6, each at its equal-tempered frequency and `cents` above its target.
std::vector<NoteBreath> seven_notes(double cents) {
  std::vector<NoteBreath> notes;
  for (std::size_t i = 1; i <= 7; ++i) notes.push_back(easy_note(lengths[i].hz, cents));
  return notes;
}

Compromise found(const std::vector<NoteBreath>& notes, double speed_of_sound_m_s = sound_20_m_s) {
  return find_compromise(notes, Head{}, 440.0, speed_of_sound_m_s, {});
}

double rms_cents(const Compromise& compromise) {
  double sum = 0;
  for (const MovedNote& note : compromise.notes) sum += note.cents * note.cents;
  return std::sqrt(sum / static_cast<double>(compromise.notes.size()));
}

TEST(CentsPerMillimetre, IsThatOfAnOpenPipe) {
  for (const LengthRow& row : lengths) {
    const MovedNote at_20 = found({easy_note(row.hz, 0)}).notes[0];
    EXPECT_NEAR(at_20.effective_length_mm, row.length_20_mm, 6e-4) << row.hz;
    EXPECT_NEAR(at_20.cents_per_mm, row.cents_per_mm_20, 6e-5) << row.hz;
    EXPECT_NEAR(slide_change_cents(at_20.effective_length_mm, 1.0), row.one_mm_cents, 6e-5) << row.hz;
    EXPECT_NEAR(slide_change_cents(at_20.effective_length_mm, 5.0), row.five_mm_cents, 6e-4) << row.hz;
    const MovedNote at_25 = found({easy_note(row.hz, 0)}, sound_25_m_s).notes[0];
    EXPECT_NEAR(at_25.effective_length_mm, row.length_25_mm, 1.1e-3) << row.hz;
    EXPECT_NEAR(at_25.cents_per_mm, row.cents_per_mm_25, 6e-5) << row.hz;
  }
}

TEST(CentsPerMillimetre, OfAnOverblownNoteIsThatOfItsLowerOctave) {
  const MovedNote d6 = found({easy_note(1174.659072, 0, 2)}).notes[0];
  EXPECT_NEAR(d6.cents_per_mm, 5.9254, 6e-5);
  EXPECT_NEAR(d6.effective_length_mm, 292.170, 6e-4);
}

TEST(SlideGoldens, ATubeTwoMillimetresShortIsDrawnOutByTwo) {
  const std::array<double, 7> sharp_cents{11.892, 13.354, 14.996, 15.892, 17.848, 20.046, 22.517};
  std::vector<NoteBreath> notes;
  for (std::size_t i = 1; i <= 7; ++i) {
    const double target_hz = lengths[i].hz;
    const double short_hz = sound_20_m_s * 1000 / (2 * (sound_20_m_s * 1000 / (2 * target_hz) - 2.0));
    notes.push_back(easy_note(short_hz, cents_between(target_hz, short_hz)));
    EXPECT_NEAR(notes.back().moderate.cents, sharp_cents[i - 1], 6e-4);
  }
  const Compromise compromise = found(notes);
  EXPECT_NEAR(compromise.slide_mm, 2.0, 1e-6);
  for (const MovedNote& note : compromise.notes) EXPECT_NEAR(note.cents, 0.0, 1e-5);
  EXPECT_FALSE(compromise.limit);
}

TEST(SlideGoldens, AUniformOffsetIsSolvedByLeastSquaresWhereTheBreathIsEasy) {
  // The linear golden: 1.1575 mm and RMS 2.0299 cents for 10 cents. At a hundredth of it the law is linear.
  const Compromise small = found(seven_notes(0.1));
  EXPECT_NEAR(100 * small.slide_mm, 1.1575, 1e-4);
  EXPECT_NEAR(100 * rms_cents(small), 2.0299, 2e-4);
}

TEST(SlideGoldens, TheExactLawAsksForALittleMoreThanTheLinear) {
  // Drawing out lengthens the tube, so each further mm does less: by about s / 2L, 1.1575 / 400 = 0.3 %.
  const Compromise compromise = found(seven_notes(10));
  EXPECT_GT(compromise.slide_mm, 1.1575);
  EXPECT_NEAR(compromise.slide_mm / 1.1575, 1.003, 5e-4);
  EXPECT_NEAR(rms_cents(compromise), 2.0299, 0.02);
  const std::array<double, 7> linear_cents{3.141, 2.301, 1.358, 0.844, -0.277, -1.535, -2.948};
  for (std::size_t i = 0; i < 7; ++i) EXPECT_NEAR(compromise.notes[i].cents, linear_cents[i], 0.03);
  EXPECT_NEAR(found(seven_notes(20)).slide_mm / 2.3151, 1.006, 1e-3);
}

TEST(SlideGoldens, PushingInDoesMoreThanTheLinearLaw) {
  const Compromise compromise = found(seven_notes(-10));
  EXPECT_NEAR(compromise.slide_mm / -1.1575, 0.997, 5e-4);
}

TEST(SlideGoldens, WarmingByFiveDegreesIsAnsweredByDrawingOut) {
  // 20 to 25 degrees C: + 14.640 cents, 1.6946 mm by the linear law.
  EXPECT_NEAR(found(seven_notes(14.640)).slide_mm / 1.6946, 1.0045, 1e-3);
}

}  // namespace
}  // namespace windway
