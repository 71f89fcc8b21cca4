// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "instrument/note.hpp"
#include "partner/partner.hpp"
#include "partner/played_partner.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using synthesis::HeldNote;
using synthesis::Random;
using synthesis::StruckNote;
using namespace partner_tests;

TEST(FindPartner, FindsTheA4OfAPianoWithinATenthOfAHertz) {
  for (const double a4_hz : {431.0, 440.0, 441.3, 449.0}) {
    const Partner partner = partner_of(piano({69, 74, 76, 81}, a4_hz));
    EXPECT_NEAR(partner.a4_hz, a4_hz, 0.1);
    EXPECT_LE(std::abs(partner.a4_hz - a4_hz), partner.a4_u95_hz);
    EXPECT_EQ(keys_of(partner), (std::vector<int>{69, 74, 76, 81}));
    for (const PartnerNote& note : partner.notes) {
      ASSERT_TRUE(note.inharmonicity);
      EXPECT_NEAR(note.inharmonicity->value, piano_stiffness, 0.1 * piano_stiffness);
      EXPECT_TRUE(note.counts);
    }
    EXPECT_TRUE(codes_of(partner).empty());
  }
}

TEST(FindPartner, SaysWhenEachNoteSounded) {
  const Partner partner = partner_of(piano({69, 74, 76}, 440.0));
  for (std::size_t i = 0; i < partner.notes.size(); ++i) {
    EXPECT_NEAR(partner.notes[i].start_s, start_of(i), 0.15);
    EXPECT_NEAR(partner.notes[i].duration_s, note_s, 0.3);
  }
}

TEST(FindPartner, TransposedByCentsMovesA4ByAsMuch) {
  const double before_hz = partner_of(piano({69, 74, 78}, 440.0)).a4_hz;
  const double after_hz = partner_of(piano({69, 74, 78}, hz_at_cents(440.0, 13.0))).a4_hz;
  EXPECT_NEAR(cents_between(before_hz, after_hz), 13.0, 0.1);
}

TEST(FindPartner, TellsTheNotesOfAChord) {
  std::vector<StruckNote> notes;
  for (const int key : {69, 73, 76}) notes.push_back(piano_note(key, 442.0, 0.5));
  Random random(3);
  const Partner partner = partner_of(synthesis::struck_strings(notes, 3.5, rate_hz, -60.0, random));
  std::vector<int> keys = keys_of(partner);
  std::ranges::sort(keys);
  EXPECT_EQ(keys, (std::vector<int>{69, 73, 76}));
  EXPECT_NEAR(partner.a4_hz, 442.0, 0.15);
  EXPECT_EQ(codes_of(partner), std::vector<WarningCode>{WarningCode::partner_chords});
}

TEST(FindPartner, MeasuresNotesThatRingIntoEachOther) {
  std::vector<StruckNote> notes;
  const std::vector<int> keys{69, 73, 76, 80};
  for (std::size_t i = 0; i < keys.size(); ++i) {
    notes.push_back(piano_note(keys[i], 439.0, 0.5 + 1.2 * static_cast<double>(i)));
    notes.back().duration_s = 6.0;  // the pedal is down
  }
  Random random(4);
  const Partner partner = partner_of(synthesis::struck_strings(notes, 6.5, rate_hz, -60.0, random));
  EXPECT_EQ(keys_of(partner), keys);
  EXPECT_NEAR(partner.a4_hz, 439.0, 0.1);
}

TEST(FindPartner, CountsANoteStruckAgainAnew) {
  std::vector<StruckNote> notes{piano_note(74, 440.0, 0.5), piano_note(74, 440.0, 2.0)};
  notes[0].duration_s = 1.5;
  Random random(5);
  const Partner partner = partner_of(synthesis::struck_strings(notes, 4.5, rate_hz, -60.0, random));
  EXPECT_EQ(keys_of(partner), (std::vector<int>{74, 74}));
  EXPECT_NEAR(partner.a4_hz, 440.0, 0.1);
  EXPECT_EQ(codes_of(partner), std::vector<WarningCode>{WarningCode::partner_one_note});
}

TEST(FindPartner, TakesTheMiddleOfReedsTunedApart) {
  const Partner partner = partner_of(reeds({69, 74, 76}, 441.0, 4.0));
  EXPECT_NEAR(partner.a4_hz, 441.0, 0.1);
  for (const PartnerNote& note : partner.notes) {
    ASSERT_TRUE(note.beat_hz);
    EXPECT_NEAR(*note.beat_hz, 4.0, 0.1);
    EXPECT_FALSE(note.inharmonicity);
  }
  EXPECT_EQ(codes_of(partner), std::vector<WarningCode>{WarningCode::partner_beats});
}

TEST(FindPartner, HearsOneReedWhereThereIsOne) {
  const Partner partner = partner_of(reeds({69, 74, 76}, 441.0, 0.0));
  EXPECT_NEAR(partner.a4_hz, 441.0, 0.1);
  for (const PartnerNote& note : partner.notes) {
    EXPECT_FALSE(note.beat_hz);
    EXPECT_FALSE(note.inharmonicity);
  }
  EXPECT_TRUE(codes_of(partner).empty());
}

TEST(FindPartner, NamesTheStringThatIsOut) {
  std::vector<StruckNote> notes;
  const std::vector<int> keys{69, 71, 74, 76, 78};
  for (std::size_t i = 0; i < keys.size(); ++i) notes.push_back(piano_note(keys[i], 440.0, start_of(i)));
  notes[2].first_hz = hz_at_cents(notes[2].first_hz, -18.0);
  Random random(6);
  const Partner partner = partner_of(synthesis::struck_strings(notes, start_of(keys.size()), rate_hz, -60.0, random));
  EXPECT_NEAR(partner.a4_hz, 440.0, 0.1);
  ASSERT_EQ(partner.notes.size(), keys.size());
  EXPECT_FALSE(partner.notes[2].counts);
  EXPECT_NEAR(partner.notes[2].deviation_cents, -18.0, 0.6);
  EXPECT_EQ(codes_of(partner), std::vector<WarningCode>{WarningCode::partner_far_off});
}

TEST(FindPartner, CountsNotesBelowTheRangeOnlyWhereThereAreNoOthers) {
  const Partner low = partner_of(piano({50, 54, 57}, 440.0));
  EXPECT_NEAR(low.a4_hz, 440.0, 0.2);
  EXPECT_EQ(codes_of(low), std::vector<WarningCode>{WarningCode::partner_out_of_range});
  const Partner both = partner_of(piano({50, 57, 69, 74}, 440.0));
  EXPECT_EQ(codes_of(both), std::vector<WarningCode>{});
  for (const PartnerNote& note : both.notes) EXPECT_EQ(note.counts, note.midi >= 65) << note.midi;
}

TEST(FindPartner, TakesTheRangeOfTheInstrumentItIsTold) {
  PartnerSettings settings;
  settings.instrument.kind = Kind::recorder;
  settings.instrument.lowest = parse_note("C5", NoteNames::english);
  const Partner partner = partner_of(piano({69, 74, 76}, 440.0), settings);
  EXPECT_EQ(partner.lowest_midi, 72);
  EXPECT_FALSE(partner.notes[0].counts);
  EXPECT_TRUE(partner.notes[1].counts);
}

TEST(FindPartner, FollowsTheGuessOfAnotherPitch) {
  PartnerSettings settings;
  settings.tuning.a4_hz = 415.0;
  const Partner partner = partner_of(piano({69, 74, 76}, 415.8), settings);
  EXPECT_NEAR(partner.a4_hz, 415.8, 0.1);
  EXPECT_EQ(keys_of(partner), (std::vector<int>{69, 74, 76}));
}

TEST(FindPartner, WarnsHalfwayBetweenTwoNotes) {
  const Partner partner = partner_of(piano({69, 74, 76}, 451.5));
  EXPECT_EQ(codes_of(partner), std::vector<WarningCode>{WarningCode::partner_pitch_ambiguous});
}

TEST(FindPartner, HearsTenMinutesAndSaysThatTheRestWasLeftOut) {
  constexpr double file_rate_hz = 8000.0;
  std::vector<StruckNote> notes{piano_note(69, 440.0, 0.5), piano_note(74, 440.0, 2.5), piano_note(76, 440.0, 601.0)};
  Random random(8);
  const auto samples = synthesis::struck_strings(notes, 604.0, file_rate_hz, -60.0, random);
  const Partner partner = partner_of(samples, {}, file_rate_hz);
  EXPECT_EQ(keys_of(partner), (std::vector<int>{69, 74}));
  EXPECT_EQ(codes_of(partner), std::vector<WarningCode>{WarningCode::partner_cut});
}

TEST(FindPartner, FollowsATemperament) {
  PartnerSettings settings;
  settings.tuning.temperament = {TemperamentName::meantone, 2, {}};
  std::vector<StruckNote> notes;
  const std::vector<int> keys{69, 73, 74, 78};
  for (std::size_t i = 0; i < keys.size(); ++i) {
    notes.push_back(piano_note(keys[i], 440.0, start_of(i)));
    notes.back().first_hz = target_hz(keys[i], {443.0, settings.tuning.temperament});
  }
  Random random(7);
  const auto samples = synthesis::struck_strings(notes, start_of(keys.size()), rate_hz, -60.0, random);
  EXPECT_NEAR(partner_of(samples, settings).a4_hz, 443.0, 0.1);
  EXPECT_TRUE(std::ranges::count(codes_of(partner_of(samples)), WarningCode::partner_notes_disagree));
}

TEST(FindPartner, AsksForTheKeyOfATemperament) {
  PartnerSettings settings;
  settings.tuning.temperament.name = TemperamentName::just;
  try {
    partner_of(piano({69}, 440.0), settings);
    FAIL();
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::usage);
    EXPECT_NE(std::string(error.what()).find("--key"), std::string::npos);
  }
}

TEST(PartnerPitch, IsThatOfThePartner) {
  const auto samples = piano({69, 74, 76}, 441.3);
  const SavedPartner saved(samples);
  const PartnerPitch pitch = partner_pitch(saved.path(), {});
  EXPECT_EQ(pitch.a4_hz, find_partner(saved.path(), {}).a4_hz);
  EXPECT_EQ(pitch.a4_u95_hz, find_partner(saved.path(), {}).a4_u95_hz);
}

}  // namespace
}  // namespace windway
