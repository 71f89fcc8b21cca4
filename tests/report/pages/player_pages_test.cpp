// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/player_pages.hpp"

#include <gtest/gtest.h>

#include "report/page/parsed_page.hpp"

namespace windway {
namespace {

using report_tests::ParsedPage;

TEST(PlayerPages, SayOfARecordingWhatEveryPageSays) {
  Partner partner;
  partner.a4_hz = 441;
  partner.a4_u95_hz = 0.1;
  partner.notes = {{69, 441, 0.4}};
  partner.take.path = "piano.wav";
  partner.take.duration_s = 12.4;
  partner.take.sample_rate_hz = 44100;
  partner.take.recorded_at = "2026-03-02";
  partner.take.sha256 = "00ff";
  const ParsedPage page(partner_page(partner, {"0.1.0", "windway partner piano.wav"}));
  EXPECT_EQ(page.words("//dt[.='recording']/following-sibling::dd[1]"),
            "piano.wav, 12 s, 44.1 kHz, recorded 2026-03-02");
  EXPECT_EQ(page.words("//dt[.='SHA-256']/following-sibling::dd[1]"), "00ff");
}

}  // namespace
}  // namespace windway
