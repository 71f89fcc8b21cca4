// SPDX-License-Identifier: GPL-3.0-or-later
#include "instrument/instrument_file.hpp"

#include <gtest/gtest.h>

#include "error.hpp"
#include "instrument/instrument_toml.hpp"

namespace windway {
namespace {

constexpr auto whole_file = R"(name = "HW-0412"
kind = "whistle"
lowest = "D5"
notes = ["D5", "E5", "F#5", "C6", "D6"]
a4_hz = 441.5
tolerance_cents = 8
max_spread_cents = 40
max_octave_cents = 14

[head]
travel_mm = 7.5
out_range_mm = [1, 5.5]
slide_factor = 0.97
slide_factor_u95 = 0.02

[temperament]
name = "own"
key = "D"
cents = [0, 111, 204, 316, 386, 498, 590, 702, 814, 884, 996, 1088]

[[note]]
note = "C6"
optional = true

[[note]]
note = "D6"
fingering = "vented"
register = 1
weight = 0.5
tolerance_cents = 12
)";

std::string mistake_in(const std::string& text) {
  try {
    instrument_from_toml(text, "flute.toml");
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::usage);
    return error.what();
  }
  return "none";
}

TEST(InstrumentFile, SaysAllThatAnInstrumentIs) {
  const Instrument instrument = instrument_from_toml(whole_file, "flute.toml");
  EXPECT_EQ(instrument.name, "HW-0412");
  EXPECT_EQ(instrument.lowest_midi, 74);
  ASSERT_EQ(instrument.scale.size(), 6U);
  EXPECT_EQ(instrument.scale[3].weight, 0.0);  // C6 is optional: it neither weighs nor checks
  EXPECT_FALSE(instrument.scale[3].can_check);
  EXPECT_EQ(instrument.scale[4].register_number, 2);
  const ScaleNote& vented = instrument.scale[5];
  EXPECT_EQ(vented.id.midi, 86);
  EXPECT_EQ(vented.id.fingering, "vented");
  EXPECT_EQ(vented.register_number, 1);
  EXPECT_EQ(vented.weight, 0.5);
  EXPECT_EQ(vented.tolerance_cents, 12.0);
  EXPECT_EQ(instrument.travel_mm, 7.5);
  EXPECT_EQ(instrument.head_out_range_mm->min_mm, 1.0);
  EXPECT_EQ(instrument.head_out_range_mm->max_mm, 5.5);
  EXPECT_EQ(instrument.a4_hz, 441.5);
  EXPECT_EQ(instrument.slide_factor->factor, 0.97);
  EXPECT_EQ(instrument.slide_factor->u95, 0.02);
  EXPECT_EQ(instrument.temperament->own_cents[4], 386.0);
  EXPECT_EQ(instrument.tolerance_cents, 8.0);
  EXPECT_EQ(instrument.max_spread_cents, 40.0);
  EXPECT_EQ(instrument.max_octave_cents, 14.0);
}

TEST(InstrumentFile, WrittenReadsBackAsTheSame) {
  const std::string once = instrument_toml(instrument_from_toml(whole_file, "flute.toml"));
  const std::string twice = instrument_toml(instrument_from_toml(once, "written.toml"));
  EXPECT_EQ(once, twice);
  EXPECT_NE(once.find("fingering = \"vented\""), std::string::npos);
  Instrument odd = builtin_instrument(Kind::recorder, 70);
  odd.name = "a \"quoted\\ name\"\t\u00e9";
  odd.note_names = NoteNames::german;
  odd.head_moves = false;
  const Instrument again = instrument_from_toml(instrument_toml(odd), "odd.toml");
  EXPECT_EQ(again.name, odd.name);
  EXPECT_EQ(again.scale.size(), odd.scale.size());
  EXPECT_FALSE(again.head_moves);
  EXPECT_EQ(again.note_names, NoteNames::german);
}

constexpr auto meant_file = R"(kind = "whistle"
lowest = "D5"
stretch_cents_per_octave = 4.5

[[note]]
note = "G5"
target_cents = -8
max_spread_cents = 25

[[note]]
note = "D6"
target_cents = 3

[[note]]
note = "D6"
fingering = "vented"

[[note]]
note = "D6"
fingering = "closed"
target_cents = 0
)";

TEST(InstrumentFile, SaysWhereItsMakerMeansTheNotes) {
  const Instrument instrument = instrument_from_toml(meant_file, "flute.toml");
  EXPECT_EQ(instrument.stretch_cents_per_octave, 4.5);
  EXPECT_EQ(scale_note(instrument, {79})->target_cents, -8.0);
  EXPECT_EQ(scale_note(instrument, {79})->max_spread_cents, 25.0);
  EXPECT_FALSE(scale_note(instrument, {76})->max_spread_cents);
  EXPECT_EQ(scale_note(instrument, {86, "vented"})->target_cents, 3.0);  // as the usual fingering, unless it says so
  EXPECT_EQ(scale_note(instrument, {86, "closed"})->target_cents, 0.0);
}

TEST(InstrumentFile, KeepsWhereNotesAreMeantWhenWritten) {
  const Instrument instrument = instrument_from_toml(meant_file, "flute.toml");
  const std::string once = instrument_toml(instrument);
  const Instrument again = instrument_from_toml(once, "written.toml");
  EXPECT_EQ(instrument_toml(again), once);
  EXPECT_EQ(again.stretch_cents_per_octave, 4.5);
  EXPECT_EQ(own_targets(again), own_targets(instrument));
  EXPECT_EQ(scale_note(again, {79})->max_spread_cents, 25.0);
  EXPECT_EQ(scale_note(again, {86, "closed"})->target_cents, 0.0);
  const std::string plain = instrument_toml(builtin_instrument(Kind::whistle, 74));
  EXPECT_NE(plain.find("\n# stretch_cents_per_octave = 4 "), std::string::npos) << plain;
  EXPECT_EQ(plain.find("target_cents"), std::string::npos) << plain;
}

TEST(InstrumentFile, OfAKindAndALowestNoteHasTheNotesOfItsKind) {
  const Instrument instrument = instrument_from_toml("kind = \"recorder\"\nlowest = \"F4\"\n", "treble.toml");
  EXPECT_EQ(instrument.scale.size(), builtin_instrument(Kind::recorder, 65).scale.size());
  EXPECT_FALSE(instrument.name || instrument.travel_mm || instrument.temperament || instrument.slide_factor);
}

constexpr auto made_file = R"(kind = "whistle"
lowest = "D5"

[maker]
name = "Hesper \"H\" Wrackle"
address = ["3 Osier Lane", "Quillhaven"]
model = "Wrackle whistle in D"
)";

TEST(InstrumentFile, SaysWhoMakesIt) {
  const Maker maker = *instrument_from_toml(made_file, "flute.toml").maker;
  EXPECT_EQ(maker, (Maker{"Hesper \"H\" Wrackle", {"3 Osier Lane", "Quillhaven"}, "Wrackle whistle in D"}));
  const std::string one_text =
      "kind = \"whistle\"\nlowest = \"D5\"\n[maker]\naddress = \"3 Osier Lane\\n\\nQuillhaven\"\n";
  EXPECT_EQ(instrument_from_toml(one_text, "flute.toml").maker->address, maker.address);
  EXPECT_FALSE(instrument_from_toml("kind = \"whistle\"\nlowest = \"D5\"\n[maker]\n", "flute.toml").maker);
}

TEST(InstrumentFile, KeepsItsMakerWhenWritten) {
  const Instrument instrument = instrument_from_toml(made_file, "flute.toml");
  const std::string once = instrument_toml(instrument);
  EXPECT_EQ(instrument_from_toml(once, "written.toml").maker, instrument.maker) << once;
  EXPECT_EQ(instrument_toml(instrument_from_toml(once, "written.toml")), once);
  EXPECT_EQ(instrument_toml(builtin_instrument(Kind::whistle, 74)).find("maker"), std::string::npos);
}

struct Mistake {
  const char* text;
  const char* place;  ///< file and line
  const char* says;
};

class InstrumentFileMistake : public testing::TestWithParam<Mistake> {};

TEST_P(InstrumentFileMistake, IsSaidWithFileLineKeyAndRemedy) {
  const std::string said = mistake_in(GetParam().text);
  EXPECT_NE(said.find(GetParam().place), std::string::npos) << said;
  EXPECT_NE(said.find(GetParam().says), std::string::npos) << said;
  EXPECT_EQ(said.find('\n'), std::string::npos) << said;
}

INSTANTIATE_TEST_SUITE_P(
    All, InstrumentFileMistake,
    testing::Values(
        Mistake{"kind = whistle\n", "flute.toml, line 1", "quotes"},
        Mistake{"lowest = \"D5\"\n", "flute.toml, line 1", "kind: is missing"},
        Mistake{"kind = \"fife\"\nlowest = \"D5\"\n", "line 1, kind", "\"whistle\" or \"recorder\""},
        Mistake{"kind = \"whistle\"\n", "lowest", "is missing"},
        Mistake{"kind = \"whistle\"\nlowest = \"D\"\n", "line 2, lowest", "has no octave"},
        Mistake{"kind = \"whistle\"\nlowest = 5\n", "line 2, lowest", "in quotes"},
        Mistake{"kind = \"whistle\"\nlowest = \"H4\"\n", "line 2, lowest", "H is B natural"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\ntravel = 3\n", "line 3, travel", "unknown key"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\nnotes = \"D5\"\n", "line 3, notes", "list in brackets"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\nnotes = [\"D5\", \"D5\"]\n", "line 3, notes",
                "D5 is there twice"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\nnotes = [\"C5\"]\n", "line 3, notes", "below the lowest"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\na4_hz = \"440\"\n", "line 3, a4_hz", "not a number"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\na4_hz = nan\n", "line 3, a4_hz", "out of range"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\nhead = 1\n", "line 3, head", "[head]"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[head]\ntravel_mm = -1\n", "line 4, travel_mm", "out of range"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[head]\nmoves = 1\n", "line 4, moves", "true or false"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[head]\nmoves = false\ntravel_mm = 3\n", "line 5, travel_mm",
                "does not move"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[head]\nslide_factor_u95 = 0.1\n", "line 4, slide_factor_u95",
                "slide_factor, which is missing"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[temperament]\nname = \"ours\"\n", "line 4, name", "meantone"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[temperament]\nname = \"own\"\ncents = [0, 100]\n",
                "line 5, cents", "twelve"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\nstretch_cents_per_octave = 21\n",
                "line 3, stretch_cents_per_octave", "out of range"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\nstretch_cent_per_octave = 4\n", "line 3, stretch_cent_per_octave",
                "did you mean stretch_cents_per_octave?"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[[note]]\nnote = \"G5\"\ntarget_cents = -101\n",
                "line 5, target_cents", "out of range"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[[note]]\nnote = \"G5\"\ntarget_cent = -8\n",
                "line 5, target_cent", "did you mean target_cents?"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[[note]]\nnote = \"G5\"\nmax_spread_cents = 0\n",
                "line 5, max_spread_cents", "out of range"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\nmaker = \"Wrackle\"\n", "line 3, maker", "[maker]"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[maker]\nname = 5\n", "line 4, name", "in quotes"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[maker]\nadress = \"x\"\n", "line 4, adress",
                "did you mean address?"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[maker]\naddress = 5\n", "line 4, address", "in a list"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[maker]\naddress = []\n", "line 4, address", "is empty"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[maker]\naddress = [\"a\", 5]\n", "line 4, address", "in quotes"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[maker]\nmodel = \"\"\n", "line 4, model", "is empty"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\na4hz = 440\n", "line 3, a4hz", "did you mean a4_hz?"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\nnotes = [\"D5\", \"F5\", \"E5\"]\n", "line 3, notes",
                "E5 is out of order"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[head]\nout_range_mm = [5, 1]\n", "line 4, out_range_mm",
                "the least and the most"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[head]\ntravel_mm = 4\nout_range_mm = [1, 5]\n",
                "line 5, out_range_mm", "beyond travel_mm"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[[note]]\nnote = \"D6\"\n[[note]]\nnote = \"D6\"\n",
                "line 6, note", "is there twice"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[[note]]\nweight = 1\n", "note", "which note"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[[note]]\nnote = \"F5\"\n", "line 4, note", "not one of"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[[note]]\nnote = \"D6\"\nfingering = \"a b\"\n",
                "line 5, fingering", "one word"},
        Mistake{"kind = \"whistle\"\nlowest = \"D5\"\n[[note]]\nnote = \"D6\"\nregister = 1.5\n", "line 5, register",
                "whole number"}));

TEST(InstrumentFile, WithSeveralMistakesSaysTheFirstAndHowManyMore) {
  const std::string said =
      mistake_in("kind = \"whistle\"\nlowest = \"D5\"\nnots = 1\na4_hz = 4\n[head]\nmove = true\n");
  EXPECT_NE(said.find("line 3, nots"), std::string::npos) << said;
  EXPECT_NE(said.find("(and 2 more mistakes)"), std::string::npos) << said;
}

TEST(InstrumentFile, BegunFromATakeReadsBackAndSaysWhatWasHeard) {
  const Instrument whistle = builtin_instrument(Kind::whistle, 74);
  const std::string begun = begun_instrument_toml(whistle, {74, 76});
  EXPECT_NE(begun.find("# Heard: D5, E5. Not heard"), std::string::npos) << begun;
  EXPECT_EQ(instrument_toml(instrument_from_toml(begun, "begun.toml")), instrument_toml(whistle));
}

TEST(InstrumentFile, ThatIsNotThereIsSaid) { EXPECT_THROW(read_instrument("/no/such/flute.toml"), Error); }

TEST(InstrumentFile, RefusesTablesNestedWithoutEnd) {
  std::string parts = "a";
  for (int part = 0; part < 50000; ++part) parts += ".a";
  for (const std::string& deep : {parts + " = 1", "[" + parts + "]", "x = {" + parts + " = 1}"})
    EXPECT_NE(mistake_in("kind = \"whistle\"\n" + deep + "\n").find("line 2: more than 2000 dots"), std::string::npos);
  const std::string dots(50000, '.');
  EXPECT_EQ(mistake_in("name = \"" + dots + "\"\nkind = \"whistle\"\nlowest = \"D5\" # " + dots), "none");
}

}  // namespace
}  // namespace windway
