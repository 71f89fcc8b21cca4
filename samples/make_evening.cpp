// SPDX-License-Identifier: GPL-3.0-or-later
// Makes what an invented player records in one evening, as the head stands at the time, and says what is true of it:
// see samples/evening. The same call gives the same sound.
#include <fmt/format.h>

#include <cmath>
#include <cstdio>
#include <exception>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <vector>

#include "support/melodies.hpp"
#include "support/sound_file.hpp"
#include "support/struck_strings.hpp"
#include "support/truth.hpp"
#include "units/units.hpp"

namespace {

using namespace windway;
using namespace windway::synthesis;

constexpr const char* help =
    "usage: make_evening partner|cold|scale|note|melody|truth FILE [HEAD_OUT_MM]\n\n"
    "Writes the sound of an invented evening as FLAC, or what is true of it as JSON: a piano, the scale of a whistle "
    "in\n"
    "D cold and warm, one held D5, a melody; the whistle's head drawn out so far.\n";

constexpr int lowest_midi = 74;  // D5
constexpr double partner_a4_hz = 441.3;
constexpr double rate_hz = 24000.0;
constexpr double warming_cents = 9.0;
constexpr Strengths strengths{-1.2, 1.0};
const std::vector<Blow> blows{Blow::soft, Blow::moderate, Blow::hard};
constexpr MelodyDraw tune{MelodyKind::ornaments, 60.0, 1.0};  // the upper octave as hard as a hard blow

/// The player's whistle, warm.
FluteModel whistle(double head_out_mm) {
  Random random(437);
  return drawn_out(draw_flute({Kind::whistle, lowest_midi, 440.0, 19.0, 4.5, 32.0}, random), head_out_mm);
}

Performance performance() {
  Performance performance;
  performance.rate_hz = rate_hz;
  performance.chain.peak = 0.1;
  performance.chain.floor_db = -80.0;
  return performance;
}

std::vector<float> piano(Random& random) {
  std::vector<StruckNote> notes;
  double start_s = 0.5;
  for (const int midi : {69, 74, 76, 81, 86}) {
    const double hz = partner_a4_hz * std::exp2((midi - 69) / 12.0);
    notes.push_back({.start_s = start_s, .duration_s = 2.2, .first_hz = hz, .inharmonicity = 7.5e-4, .amplitude = 0.1});
    start_s += 2.8;
  }
  return struck_strings(notes, start_s + 0.5, rate_hz, -70.0, random);
}

/// No two blows are quite alike.
std::vector<Blowing> as_a_player_blows(std::vector<Blowing> blowings, Random& random) {
  for (Blowing& blowing : blowings) {
    const double off = random.normal(0.0, 0.03);
    blowing.from_doublings += off;
    blowing.to_doublings += off;
  }
  return blowings;
}

std::vector<float> scale(double head_out_mm, bool is_cold, Random& random) {
  FluteModel flute = whistle(head_out_mm);
  Performance how = performance();
  const auto up = major_scale(lowest_midi, is_cold ? 11 : 21);
  const auto blowings = as_a_player_blows(
      note_by_note(is_cold ? there_and_back(up) : up, blows, strengths, {{0.7, 0.9}, {0.15, 0.25}}, random), random);
  if (is_cold) {
    for (NoteModel& note : flute.notes) note.error_cents -= warming_cents;
    how.warming_cents = warming_cents;
  }
  return synthesise_take(flute, blowings, how, random).samples;
}

std::vector<float> held_note(double head_out_mm, Random& random) {
  Blowing blowing;
  blowing.midi = lowest_midi;
  blowing.duration_s = 2.0;
  blowing.from_doublings = blowing.to_doublings = random.normal(0.0, 0.03);
  return synthesise_take(whistle(head_out_mm), {blowing}, performance(), random).samples;
}

RenderedMelody melody(double head_out_mm, Random& random) {
  return play_melody_on(whistle(head_out_mm), lowest_midi, tune, random);
}

/// The notes of the warm scale against the partner's A4.
std::vector<TrueNote> notes_of_scale(double head_out_mm) {
  Random random(1);
  const auto blowings = note_by_note(major_scale(lowest_midi, 21), blows, strengths, {}, random);
  std::vector<TrueNote> notes = true_notes(whistle(head_out_mm), blowings, strengths);
  const double raised_cents = cents_between(440.0, partner_a4_hz);
  for (TrueNote& note : notes) {
    note.target_hz = hz_at_cents(note.target_hz, raised_cents);
    note.moderate_cents -= raised_cents;
    *note.soft_cents -= raised_cents;
    *note.hard_cents -= raised_cents;
  }
  return notes;
}

/// The notes as the melody has them: blown as hard as meant there, each counting by its time.
std::vector<TrueNote> notes_of_melody(double head_out_mm, Random& random) {
  const RenderedMelody played = melody(head_out_mm, random);
  std::vector<TrueNote> notes;
  for (const TrueMelodyNote& sounded : true_melody_notes(played)) {
    for (TrueNote note : notes_of_scale(head_out_mm)) {
      if (note.midi != sounded.midi) continue;
      const double harder_cents = sounded.meant_cents - cents_at(note_of(played.flute, note.midi), 0.0);
      note.moderate_cents += harder_cents;
      *note.soft_cents += harder_cents;
      *note.hard_cents += harder_cents;
      note.weight = sounded.sounded_s;
      notes.push_back(note);
    }
  }
  return notes;
}

std::string truth(double head_out_mm, Random& random) {
  nlohmann::ordered_json json{{"invented", true}, {"a4_hz", partner_a4_hz}, {"head_out_mm", head_out_mm}};
  json["slide_mm"] = least_cost(notes_of_scale(head_out_mm), -head_out_mm, 30.0).slide_mm;
  json["playing_slide_mm"] = least_cost(notes_of_melody(head_out_mm, random), -head_out_mm, 30.0).slide_mm;
  for (const TrueNote& note : notes_of_scale(head_out_mm))
    json["moderate_cents"][std::to_string(note.midi)] = note.moderate_cents;
  return json.dump(1) + "\n";
}

/// A seed for each recording: the head's place is part of it, for no two takes are blown alike.
Random random_for(const std::string& what, double head_out_mm) {
  static const std::map<std::string, std::uint64_t> seeds{{"partner", 1}, {"cold", 2},   {"scale", 3},
                                                          {"note", 4},    {"melody", 5}, {"truth", 5}};
  return Random(seeds.at(what) * 100000 + static_cast<std::uint64_t>(std::llround(100.0 * head_out_mm)));
}

void make(const std::string& what, const std::string& file, double head_out_mm) {
  Random random = random_for(what, head_out_mm);
  if (what == "truth") {
    std::ofstream out(file);
    out << truth(head_out_mm, random);
    if (!out.flush()) throw std::runtime_error("cannot write " + file);
    return;
  }
  const auto samples = what == "partner"  ? piano(random)
                       : what == "note"   ? held_note(head_out_mm, random)
                       : what == "melody" ? melody(head_out_mm, random).sound.samples
                                          : scale(head_out_mm, what == "cold", random);
  write_sound(file, samples, rate_hz);
}

}  // namespace

int main(int argc, char** argv) {
  const std::vector<std::string> words(argv + 1, argv + argc);
  try {
    if (words.size() < 2 || words.size() > 3) throw std::out_of_range("");
    make(words[0], words[1], words.size() == 3 ? std::stod(words[2]) : 0.0);
  } catch (const std::logic_error&) {  // no such recording, no number
    fmt::print(stderr, "{}", help);
    return 2;
  } catch (const std::exception& e) {
    fmt::print(stderr, "make_evening: {}\n", e.what());
    return 4;
  }
}
