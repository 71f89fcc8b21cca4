// SPDX-License-Identifier: GPL-3.0-or-later
#include "instrument/note.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <vector>

#include "error.hpp"

namespace windway {
namespace {

struct ReadNote {
  const char* text;
  int pitch_class;
  bool flat;
  std::optional<int> octave;
};

void expect_read(const ReadNote& expected, NoteNames names) {
  const WrittenNote note = parse_note(expected.text, names);
  EXPECT_EQ(note.pitch_class, expected.pitch_class) << expected.text;
  EXPECT_EQ(note.flat, expected.flat) << expected.text;
  EXPECT_EQ(note.octave, expected.octave) << expected.text;
}

std::string refusal(std::string_view text, NoteNames names) {
  try {
    parse_note(text, names);
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::usage);
    return error.what();
  }
  return "";
}

TEST(ParseNote, ReadsLettersSignsAndOctavesAsPlayersWriteThem) {
  const ReadNote notes[] = {
      {"D", 2, false, {}},   {"d", 2, false, {}},  {"Bb", 10, true, {}}, {"bb", 10, true, {}},
      {"B♭", 10, true, {}},  {"b", 11, false, {}}, {"F#", 6, false, {}}, {"F♯", 6, false, {}},
      {"F#5", 6, false, 5},  {"F♯5", 6, false, 5}, {"Bb4", 10, true, 4}, {" d5 ", 2, false, 5},
      {"Fis", 6, false, {}}, {"Es5", 3, true, 5},  {"as", 8, true, {}},  {"A4", 9, false, 4},
  };
  for (const ReadNote& note : notes) expect_read(note, NoteNames::english);
}

TEST(ParseNote, ReadsGermanNames) {
  const ReadNote notes[] = {
      {"H", 11, false, {}},  {"h4", 11, false, 4},  {"B", 10, true, {}},   {"b5", 10, true, 5},   {"Bb", 10, true, {}},
      {"Fis", 6, false, {}}, {"Cis5", 1, false, 5}, {"Gis", 8, false, {}}, {"Dis", 3, false, {}}, {"Es", 3, true, {}},
      {"As4", 8, true, 4},   {"F#5", 6, false, 5},  {"Des", 1, true, {}},
  };
  for (const ReadNote& note : notes) expect_read(note, NoteNames::german);
}

TEST(ParseNote, CountsTheOctaveFromTheLetter) {
  EXPECT_EQ(midi_of(parse_note("Cb5", NoteNames::english)), 71);
  EXPECT_EQ(midi_of(parse_note("B#4", NoteNames::english)), 72);
  EXPECT_EQ(midi_of(parse_note("A4", NoteNames::english)), 69);
  EXPECT_EQ(midi_of(parse_note("C4", NoteNames::english)), 60);
}

TEST(ParseNote, AsksAboutAnHWithoutGermanNames) {
  const std::string message = refusal("h5", NoteNames::english);
  EXPECT_NE(message.find("H is B natural in German names"), std::string::npos) << message;
  EXPECT_NE(message.find("write B5"), std::string::npos) << message;
  EXPECT_NE(message.find("--note-names german"), std::string::npos) << message;
}

TEST(ParseNote, RefusesWhatIsNoNoteAndSaysHowToWriteOne) {
  for (const char* text :
       {"", " ", "X", "5", "D55", "D##", "Dbb", "D 5", "Dur", "D5x", "♯F", "d''", "G#9", "-1", "C-"}) {
    const std::string message = refusal(text, NoteNames::english);
    EXPECT_NE(message.find("a letter from A to G"), std::string::npos) << text << ": " << message;
  }
  EXPECT_NE(refusal("B#", NoteNames::german).find("write H"), std::string::npos);
}

TEST(NoteName, SpellsAsTheKeyDoes) {
  struct Spelling {
    int key, midi;
    const char* name;
  };
  const Spelling spellings[] = {
      {2, 78, "F#5"},  {2, 73, "C#5"},  {2, 84, "C6"},  {2, 87, "D#6"}, {5, 70, "Bb4"}, {5, 75, "Eb5"},
      {3, 70, "Bb4"},  {3, 75, "Eb5"},  {3, 68, "Ab4"}, {0, 60, "C4"},  {0, 70, "Bb4"}, {0, 66, "F#4"},
      {7, 77, "F5"},   {10, 68, "Ab4"}, {5, 66, "F#4"}, {5, 73, "C#5"}, {5, 80, "G#5"}, {10, 66, "F#4"},
      {10, 73, "C#5"}, {10, 75, "Eb5"}, {3, 73, "Db5"}, {0, 75, "Eb5"}, {0, 73, "C#5"}, {0, 68, "G#4"},
      {2, 70, "A#4"},  {8, 73, "Db5"},  {4, 80, "G#5"}, {6, 77, "E#5"}, {1, 66, "Gb4"}, {9, 79, "G5"},
      {2, 0, "C-1"},   {2, 127, "G9"},  {2, 71, "B4"},
  };
  for (const auto& [key, midi, name] : spellings) EXPECT_EQ(note_name(midi, key), name) << "key " << key;
}

TEST(NoteName, WritesGermanNamesAsPlayersDo) {
  const auto german = [](int midi, int key) { return note_name(midi, key, NoteNames::german); };
  EXPECT_EQ(german(71, 2), "H4");
  EXPECT_EQ(german(70, 5), "B4");
  EXPECT_EQ(german(78, 2), "Fis5");
  EXPECT_EQ(german(73, 5), "Cis5");
  EXPECT_EQ(german(75, 5), "Es5");
  EXPECT_EQ(german(68, 3), "As4");
  EXPECT_EQ(german(66, 1), "Ges4");
  EXPECT_EQ(german(77, 6), "Eis5");
  EXPECT_EQ(german(74, 2), "D5");
}

TEST(NoteName, HasNoSignInGermanWhateverTheKey) {
  for (int key = 0; key < 12; ++key)
    for (int midi = 12; midi < 128; ++midi)
      EXPECT_EQ(note_name(midi, key, NoteNames::german).find_first_of("#b"), std::string::npos)
          << midi << " in " << key;
}

TEST(NoteName, IsReadBackAsTheSameNoteInEveryKey) {
  for (const NoteNames names : {NoteNames::english, NoteNames::german})
    for (int key = 0; key < 12; ++key)
      for (int midi = 12; midi < 128; ++midi)
        EXPECT_EQ(midi_of(parse_note(note_name(midi, key, names), names)), midi) << note_name(midi, key, names);
}

// ISO 16:1975 (A4 = 440 Hz) and the equal temperament of the MIDI Tuning Standard, f = A4 2^((d - 69) / 12), as printed
// in any textbook table to 0.001 Hz.
TEST(EqualTemperedHz, AgreesWithThePublishedTable) {
  struct Row {
    double midi, at_440_hz, at_442_hz, at_415_hz;
  };
  const Row rows[] = {{60, 261.626, 262.815, 246.760},    {62, 293.665, 295.000, 276.979},
                      {69, 440.000, 442.000, 415.000},    {72, 523.251, 525.630, 493.521},
                      {74, 587.330, 589.999, 553.959},    {78, 739.989, 743.352, 697.944},
                      {83, 987.767, 992.256, 931.644},    {86, 1174.659, 1179.998, 1107.917},
                      {93, 1760.000, 1768.000, 1660.000}, {98, 2349.318, 2359.997, 2215.834}};
  for (const Row& row : rows) {
    EXPECT_NEAR(equal_tempered_hz(row.midi, 440), row.at_440_hz, 0.0005);
    EXPECT_NEAR(equal_tempered_hz(row.midi, 442), row.at_442_hz, 0.0005);
    EXPECT_NEAR(equal_tempered_hz(row.midi, 415), row.at_415_hz, 0.0005);
  }
}

TEST(NoteId, StandsByPitchThenTheUsualFingeringFirst) {
  const std::vector<NoteId> ascending{{74}, {86}, {86, "forked"}, {86, "vented"}, {88}};
  EXPECT_TRUE(std::ranges::is_sorted(ascending));
  EXPECT_EQ(std::ranges::adjacent_find(ascending), ascending.end());  // no two are one
}

TEST(WithFingering, AddsTheNameOfAFurtherFingeringOnly) {
  EXPECT_EQ(with_fingering("D6", {86}), "D6");
  EXPECT_EQ(with_fingering("D6", {86, "vented"}), "D6 vented");
  EXPECT_EQ(with_fingering("D6", {86, "vented"}, ":"), "D6:vented");
}

// MIDI Tuning Standard, example frequencies as corrected in the MIDI Association's forum ("MTS frequency data examples
// in spec - are they correct"): bytes 00 00 01, 3D 00 00, 44 7F 7F, 78 00 00, 7F 00 00, 7F 7F 7E.
TEST(EqualTemperedHz, AgreesWithTheCorrectedExamplesOfTheMidiTuningStandard) {
  constexpr double step = 1.0 / 16384.0;
  EXPECT_NEAR(equal_tempered_hz(step, 440), 8.1758, 0.00005);
  EXPECT_NEAR(equal_tempered_hz(61, 440), 277.1826, 0.00005);
  EXPECT_NEAR(equal_tempered_hz(68 + 16383 * step, 440), 439.9984, 0.00005);
  EXPECT_NEAR(equal_tempered_hz(120, 440), 8372.0181, 0.00005);
  EXPECT_NEAR(equal_tempered_hz(127, 440), 12543.8540, 0.00005);
  EXPECT_NEAR(equal_tempered_hz(127 + 16382 * step, 440), 13289.6566, 0.00005);
}

}  // namespace
}  // namespace windway
