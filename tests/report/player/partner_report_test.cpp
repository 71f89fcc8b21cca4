// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/player/partner_report.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "report/wording/layout.hpp"
#include "report/wording/prose.hpp"
#include "support/text.hpp"

namespace windway {
namespace {

/// Invented: a piano a little sharp, one of its notes below the range.
Partner invented_partner() {
  Partner partner;
  partner.take.path = "piano.wav";
  partner.take.duration_s = 9.5;
  partner.take.sample_rate_hz = 48000.0;
  partner.take.channels = 1;
  partner.a4_hz = 441.312;
  partner.a4_u95_hz = 0.14;
  partner.lowest_midi = 65;
  partner.highest_midi = 98;
  partner.scatter_cents = 0.4;
  PartnerNote a4;
  a4.midi = 69;
  a4.frequency_hz = 441.25;
  a4.u95_cents = 0.31;
  a4.deviation_cents = -0.24;
  a4.inharmonicity = Inharmonicity{7.5e-4, 2e-5};
  a4.partials = 8;
  a4.start_s = 0.5;
  a4.duration_s = 2.0;
  a4.counts = true;
  PartnerNote b_flat = a4;
  b_flat.midi = 58;
  b_flat.frequency_hz = 233.9;
  b_flat.inharmonicity.reset();
  b_flat.beat_hz = 3.1;
  b_flat.counts = false;
  partner.notes = {a4, b_flat};
  partner.warnings = {{WarningCode::partner_one_note, "the A4 hangs on one note only."}};
  return partner;
}

TEST(PartnerText, SaysTheA4FirstWithAsManyPlacesAsItDeserves) {
  EXPECT_TRUE(text_of(partner_prose(invented_partner()))
                  .starts_with("The partner plays at A4 = 441.3 Hz (± 0.1): 5.2 cents above 440 Hz, from 1 note.\n"));
}

TEST(PartnerText, SaysWhereItCannotBeToldFromConcertPitch) {
  Partner partner = invented_partner();
  partner.a4_hz = 440.05;
  EXPECT_TRUE(has(text_of(partner_prose(partner), 100), "the same as 440 Hz within its ±"));
  partner.a4_hz = 438.0;
  EXPECT_TRUE(has(text_of(partner_prose(partner)), "7.9 cents below 440 Hz"));
}

TEST(PartnerText, SaysOfEachNoteWhetherItCounts) {
  const std::string text = text_of(partner_prose(invented_partner()));
  EXPECT_TRUE(has(text, "  A4"));
  EXPECT_TRUE(has(text, "0.00075"));
  EXPECT_TRUE(has(text, "3.1 Hz"));
  EXPECT_TRUE(has(text, "F4 to D7"));
  EXPECT_TRUE(has(text, "warning: the A4 hangs on one note only."));
}

TEST(PartnerText, LeavesOutColumnsThatNoNoteFills) {
  Partner partner = invented_partner();
  for (PartnerNote& note : partner.notes) {
    note.inharmonicity.reset();
    note.beat_hz.reset();
  }
  EXPECT_FALSE(has(text_of(partner_prose(partner)), "stiffness"));
  EXPECT_FALSE(has(text_of(partner_prose(partner)), "beats"));
}

TEST(PartnerText, KeepsToTheWidthOfAReport) {
  const std::string text = text_of(partner_prose(invented_partner()));
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = text.find('\n', at);
    EXPECT_LE(display_width(text.substr(at, end - at)), text_columns);
    at = end + 1;
  }
}

TEST(PartnerText, SpellsGermanNames) {
  Partner partner = invented_partner();
  partner.temperament.key_pitch_class = 5;
  partner.note_names = NoteNames::german;
  EXPECT_TRUE(has(text_of(partner_prose(partner)), "  B3"));
}

TEST(PartnerCsv, HasOneRowANoteAndEmptyCellsForWhatIsNotThere) {
  EXPECT_EQ(partner_csv(invented_partner()),
            "note,midi,frequency_hz,u95_cents,deviation_cents,inharmonicity,inharmonicity_u95,partials,beat_hz,start_s,"
            "duration_s,counts,a4_hz,a4_u95_hz\r\n"
            "A4,69,441.25,0.31,-0.24,0.00075,2e-05,8,,0.5,2,true,441.312,0.14\r\n"
            "Bb3,58,233.9,0.31,-0.24,,,8,3.1,0.5,2,false,441.312,0.14\r\n");
}

TEST(PartnerJson, HoldsAllAndNullForWhatIsNotThere) {
  const auto json = nlohmann::json::parse(partner_json(invented_partner(), "1.2.3"));
  EXPECT_EQ(json["schema"], "windway.partner.v1");
  EXPECT_EQ(json["program"]["version"], "1.2.3");
  EXPECT_EQ(json["a4_hz"], 441.312);
  EXPECT_EQ(json["a4_u95_hz"], 0.14);
  EXPECT_EQ(json["recording"]["path"], "piano.wav");
  EXPECT_EQ(json["temperament"]["name"], "equal");
  EXPECT_TRUE(json["temperament"]["key"].is_null());
  ASSERT_EQ(json["notes"].size(), 2U);
  EXPECT_EQ(json["notes"][0]["note"], "A4");
  EXPECT_EQ(json["notes"][0]["inharmonicity"], 7.5e-4);
  EXPECT_TRUE(json["notes"][0]["beat_hz"].is_null());
  EXPECT_TRUE(json["notes"][1]["inharmonicity"].is_null());
  EXPECT_EQ(json["notes"][1]["counts"], false);
  EXPECT_EQ(json["warnings"][0]["code"], "partner_one_note");
}

}  // namespace
}  // namespace windway
