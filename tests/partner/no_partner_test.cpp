// SPDX-License-Identifier: GPL-3.0-or-later
// Recordings without a note of fixed pitch: never a number.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "partner/played_partner.hpp"
#include "support/noise.hpp"
#include "support/tones.hpp"

namespace windway {
namespace {

using namespace partner_tests;

void expect_no_answer(const std::vector<float>& samples, const std::string& remedy) {
  try {
    const Partner partner = partner_of(samples);
    ADD_FAILURE() << "A4 = " << partner.a4_hz << " by " << partner.notes.size() << " notes, the first "
                  << partner.notes.front().frequency_hz << " Hz for " << partner.notes.front().duration_s << " s";
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::recording);
    EXPECT_NE(std::string(error.what()).find(remedy), std::string::npos) << error.what();
  }
}

TEST(NoPartner, InSilence) { expect_no_answer(synthesis::silence(rate_hz, 3.0), "nearer"); }

TEST(NoPartner, InAConstantOffset) { expect_no_answer(std::vector<float>(144000, 0.3F), "single notes"); }

TEST(NoPartner, InOneSample) { expect_no_answer({0.5F}, "single notes"); }

TEST(NoPartner, InNoiseWhiteOrPink) {
  for (unsigned seed = 1; seed <= 10; ++seed) {
    synthesis::Random random(seed);
    expect_no_answer(synthesis::to_float(synthesis::white_noise(240000, 0.1, random)), "single notes");
    expect_no_answer(synthesis::to_float(synthesis::pink_noise(240000, rate_hz, 0.1, random)), "single notes");
  }
}

TEST(NoPartner, InTalk) {
  for (unsigned seed = 1; seed <= 20; ++seed) {
    synthesis::Random random(seed);
    expect_no_answer(synthesis::to_float(synthesis::babble(12.0, rate_hz, random)), "single notes");
  }
}

TEST(NoPartner, InTheHumOfTheMains) {
  for (const double mains_hz : {50.0, 60.0}) {
    synthesis::ToneSpec spec{.rate_hz = rate_hz, .duration_s = 6.0, .f0_hz = mains_hz};
    spec.harmonic_amplitudes = {0.05, 0.02, 0.03, 0.01, 0.02, 0.005, 0.01};
    expect_no_answer(synthesis::steady_tone(spec), "single notes");
  }
}

TEST(NoPartner, InAGlide) {
  synthesis::ToneSpec spec{.rate_hz = rate_hz, .duration_s = 4.0, .f0_hz = 400.0};
  expect_no_answer(synthesis::glide_tone(spec, 1200.0), "single notes");
}

}  // namespace
}  // namespace windway
