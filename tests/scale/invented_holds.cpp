// SPDX-License-Identifier: GPL-3.0-or-later
#include "invented_holds.hpp"

#include <array>

#include "units/units.hpp"

namespace windway::testing {
namespace {

constexpr std::array<int, 7> major = {0, 2, 4, 5, 7, 9, 11};
constexpr std::array<double, 7> soft_cents = {-8, -13, -16, -12, -32, -50, -43};
constexpr std::array<double, 7> hard_cents = {6, 9, 10, 9, 20, 30, 36};

std::size_t degree_of(int midi, int tonic) {
  std::size_t degree = 0;
  while (degree + 1 < major.size() && major[degree + 1] <= (midi - tonic) % 12) ++degree;
  return degree;
}

}  // namespace

std::vector<int> two_octaves(int lowest_midi) {
  std::vector<int> notes;
  for (const int octave : {0, 12})
    for (const int up : major) notes.push_back(lowest_midi + octave + up);
  return notes;
}

std::vector<MeantHold> steps(const std::vector<int>& notes) {
  std::vector<MeantHold> meant;
  for (const int midi : notes) {
    const std::size_t degree = degree_of(midi, notes.front());
    meant.push_back({midi, soft_cents[degree], -20});
    meant.push_back({midi, 0, -16});
    meant.push_back({midi, hard_cents[degree], -13});
  }
  return meant;
}

std::vector<MeantHold> transposed(std::vector<MeantHold> meant, double cents) {
  for (MeantHold& hold : meant) hold.cents += cents;
  return meant;
}

std::vector<Hold> holds_of(const std::vector<MeantHold>& meant, double a4_hz, double gap_s) {
  std::vector<Hold> holds;
  for (const MeantHold& one : meant) {
    Hold hold;
    hold.take = one.take;
    hold.start_s = 0.5 + static_cast<double>(holds.size()) * (1.0 + gap_s);
    hold.end_s = hold.start_s + 1.0;
    hold.frequency_hz = hz_at_cents(a4_hz, 100.0 * (one.midi - 69) + one.cents);
    hold.level_db = one.level_db;
    holds.push_back(hold);
  }
  return holds;
}

std::vector<int> midi_of_meant(const std::vector<MeantHold>& meant) {
  std::vector<int> midi;
  for (const MeantHold& hold : meant) midi.push_back(hold.midi);
  return midi;
}

std::vector<int> midi_of_named(const Naming& naming) {
  std::vector<int> midi;
  for (const NamedHold& hold : naming.holds) midi.push_back(hold.note.midi);
  return midi;
}

InstrumentHint told(Kind kind, const std::string& lowest) {
  InstrumentHint hint;
  hint.kind = kind;
  hint.lowest = parse_note(lowest, NoteNames::english);
  return hint;
}

bool has_warning(const Naming& naming, WarningCode code) { return !warning_text(naming, code).empty(); }

std::string warning_text(const Naming& naming, WarningCode code) {
  for (const Warning& warning : naming.warnings)
    if (warning.code == code) return warning.message;
  return "";
}

}  // namespace windway::testing
