// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/played_partner.hpp"

#include <unistd.h>

#include <atomic>
#include <filesystem>

#include "instrument/note.hpp"
#include "support/sound_file.hpp"

namespace windway::partner_tests {

double start_of(std::size_t i) { return 0.4 + (note_s + 0.4) * static_cast<double>(i); }

synthesis::StruckNote piano_note(int midi, double a4_hz, double start_s) {
  synthesis::StruckNote note;
  note.start_s = start_s;
  note.duration_s = note_s;
  note.first_hz = equal_tempered_hz(midi, a4_hz);
  note.inharmonicity = piano_stiffness;
  return note;
}

std::vector<float> piano(const std::vector<int>& keys, double a4_hz) {
  std::vector<synthesis::StruckNote> notes;
  for (std::size_t i = 0; i < keys.size(); ++i) notes.push_back(piano_note(keys[i], a4_hz, start_of(i)));
  synthesis::Random random(1);
  return synthesis::struck_strings(notes, start_of(keys.size()), rate_hz, -60.0, random);
}

std::vector<float> reeds(const std::vector<int>& keys, double a4_hz, double apart_hz) {
  std::vector<synthesis::HeldNote> notes;
  for (std::size_t i = 0; i < keys.size(); ++i) {
    synthesis::HeldNote note;
    note.start_s = start_of(i);
    note.duration_s = note_s;
    const double hz = equal_tempered_hz(keys[i], a4_hz);
    note.ranks_hz = apart_hz > 0 ? std::vector{hz - 0.5 * apart_hz, hz + 0.5 * apart_hz} : std::vector{hz};
    notes.push_back(note);
  }
  synthesis::Random random(2);
  return synthesis::held_reeds(notes, start_of(keys.size()), rate_hz, -60.0, random);
}

SavedPartner::SavedPartner(const std::vector<float>& samples, double file_rate_hz) {
  static std::atomic<int> count = 0;
  const std::string name = "windway_partner_" + std::to_string(getpid()) + "_" + std::to_string(count++) + ".wav";
  path_ = std::filesystem::temp_directory_path() / name;
  synthesis::write_sound(path_, samples, file_rate_hz, 1, 24);
}

SavedPartner::~SavedPartner() {
  std::error_code ignored;
  std::filesystem::remove(path_, ignored);
}

Partner partner_of(const std::vector<float>& samples, const PartnerSettings& settings, double file_rate_hz) {
  return find_partner(SavedPartner(samples, file_rate_hz).path(), settings);
}

std::vector<int> keys_of(const Partner& partner) {
  std::vector<int> keys;
  for (const PartnerNote& note : partner.notes) keys.push_back(note.midi);
  return keys;
}

std::vector<WarningCode> codes_of(const Partner& partner) {
  std::vector<WarningCode> codes;
  for (const Warning& warning : partner.warnings) codes.push_back(warning.code);
  return codes;
}

}  // namespace windway::partner_tests
