// SPDX-License-Identifier: GPL-3.0-or-later
// Names and pitches of duct flutes: common practice, no source.
#include "instrument/instrument_names.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

int lowest_of(const std::string& name) {
  const auto instrument = instrument_called(name);
  return instrument ? instrument->lowest_midi : -1;
}

TEST(InstrumentNames, ThatPeopleUseAreUnderstood) {
  for (const char* name : {"D whistle", "whistle in D", "d Whistle", "high D whistle", "D-whistle", "tin whistle in D",
                           "whistle D5", "penny whistle in D"})
    EXPECT_EQ(lowest_of(name), 74) << name;
  for (const char* name : {"low D whistle", "Low-D whistle", "whistle low D", "low whistle in D"})
    EXPECT_EQ(lowest_of(name), 62) << name;
  EXPECT_EQ(lowest_of("Bb whistle"), 70);
  EXPECT_EQ(lowest_of("C whistle"), 72);
  EXPECT_EQ(lowest_of("low F whistle"), 65);
  EXPECT_EQ(lowest_of("low G whistle"), 67);
  for (const char* name : {"descant", "soprano recorder", "recorder in C"}) EXPECT_EQ(lowest_of(name), 72) << name;
  for (const char* name : {"treble", "alto recorder", "recorder in F", "Alt-Blockflöte"})
    EXPECT_EQ(lowest_of(name), 65) << name;
  EXPECT_EQ(lowest_of("alto in G"), 67);
  EXPECT_EQ(lowest_of("tenor recorder"), 60);
  EXPECT_EQ(lowest_of("bass"), 53);
  EXPECT_EQ(lowest_of("sopranino"), 77);
  EXPECT_EQ(lowest_of("garklein"), 84);
}

TEST(InstrumentNames, ThatMeanNothingAreNotGuessed) {
  for (const char* name : {"", "whistle", "recorder", "D", "low descant", "H whistle", "oboe", "recorder in B",
                           "low high D whistle", "soprano whistle", "my-flute.toml"})
    EXPECT_FALSE(instrument_called(name)) << name;
}

TEST(InstrumentNames, AreUnderstoodInWordsAndInGerman) {
  EXPECT_EQ(lowest_of("B flat whistle"), 70);
  EXPECT_EQ(lowest_of("E-flat whistle"), 75);
  EXPECT_EQ(lowest_of("Es-Whistle"), 75);
  EXPECT_EQ(lowest_of("tiefe D-Whistle"), 62);
  for (const char* name : {"Altblockflöte", "ALTBLOCKFLÖTE", "Altblockfloete", "Altflöte"})
    EXPECT_EQ(lowest_of(name), 65) << name;
  EXPECT_EQ(lowest_of("Sopraninoblockflöte"), 77);
  EXPECT_EQ(lowest_of("Sopranblockflöte"), 72);
  EXPECT_FALSE(instrument_called("D G whistle"));
  EXPECT_FALSE(instrument_called("alto tenor"));
}

TEST(InstrumentNames, ThatAreNotKnownGetARemedy) {
  const auto remedy_says = [](const char* name, const char* words) {
    return remedy_for_name(name).find(words) != std::string::npos;
  };
  EXPECT_TRUE(remedy_says("descnt", "did you mean 'descant'?"));
  EXPECT_TRUE(remedy_says("low D wistle", "did you mean 'low D whistle'?"));
  EXPECT_TRUE(remedy_says("whistle", "in which key?"));
  EXPECT_TRUE(remedy_says("recorder", "of which size?"));
  EXPECT_TRUE(remedy_says("D", "a whistle or a recorder?"));
  EXPECT_FALSE(remedy_says("oboe", "did you mean"));
}

TEST(InstrumentNames, OfTheListAreTheirOwn) {
  EXPECT_GE(builtin_instruments().size(), 20U);
  for (const NamedInstrument& each : builtin_instruments()) {
    const auto instrument = instrument_called(each.name);
    ASSERT_TRUE(instrument) << each.name;
    EXPECT_EQ(instrument->lowest_midi, each.lowest_midi) << each.name;
    EXPECT_EQ(instrument->kind, each.kind) << each.name;
  }
}

}  // namespace
}  // namespace windway
