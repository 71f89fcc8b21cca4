// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/spelling.hpp"

#include <array>

namespace windway {

std::string spelt_for_people(int midi, const Measurement& measurement) {
  return note_name(midi, key_pitch_class(measurement.naming.instrument), measurement.settings.note_names);
}

std::string spelt_for_programs(int midi) {
  static constexpr std::array<const char*, 12> names{"C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"};
  return names[static_cast<std::size_t>(midi % 12)] + std::to_string(midi / 12 - 1);
}

}  // namespace windway
