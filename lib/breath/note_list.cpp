// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/note_list.hpp"

#include <algorithm>

#include "scale/note.hpp"

namespace windway {

std::string list_notes(std::vector<int> midi, const Instrument& instrument) {
  std::sort(midi.begin(), midi.end());
  midi.erase(std::unique(midi.begin(), midi.end()), midi.end());
  const int key = instrument.lowest_midi % 12;
  std::string list = note_name(midi.front(), key, instrument.note_names);
  for (std::size_t i = 1; i < midi.size(); ++i)
    list += (i + 1 == midi.size() ? " and " : ", ") + note_name(midi[i], key, instrument.note_names);
  return list;
}

}  // namespace windway
