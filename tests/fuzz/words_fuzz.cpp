// SPDX-License-Identifier: GPL-3.0-or-later
// Names of notes and dates.
#include "fuzz_input.hpp"
#include "input/recorded_at.hpp"
#include "instrument/note.hpp"
#include "manifest/recorded_cell.hpp"

namespace windway::fuzz {
namespace {

void read_note(const std::string& text, NoteNames names) {
  const WrittenNote note = parse_note(text, names);
  require(note.pitch_class >= 0 && note.pitch_class < 12, "a pitch class is one of twelve");
  if (!note.octave) return;
  const int midi = midi_of(note);
  require(midi >= 0 && midi < 128, "a note is a MIDI key");
  for (int key = 0; key < 12; ++key) {
    const std::string name = note_name(midi, key, names);
    require(midi < 12 || midi_of(parse_note(name, names)) == midi, name + " reads back as the same note");
  }
}

void read_date(const std::string& text) {
  const auto date = recorded_at_in(text);
  if (const auto in_file = iso_8601(text)) require(recorded_at_in(*in_file) == in_file, *in_file + " is a date");
  if (!date) return;
  require(recorded_at_in(*date) == date, *date + " reads back as the same date");
  require(!is_recorded_before(*date, *date), *date + " is not before itself");
  for (const std::string& day : {day_of(*date), monday_of(*date), month_of(*date)})
    require(day.empty() || recorded_at_in(day) == day, day + " is a date");
}

}  // namespace
}  // namespace windway::fuzz

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  using namespace windway;
  const std::string text = fuzz::text_of(bytes, count);
  fuzz::unless_refused([&] { fuzz::read_note(text, NoteNames::english); });
  fuzz::unless_refused([&] { fuzz::read_note(text, NoteNames::german); });
  fuzz::read_date(text);
  return 0;
}
