// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/note_list.hpp"

#include <algorithm>

namespace windway {

std::string list_notes(std::vector<int> midi, const Instrument& instrument) {
  std::sort(midi.begin(), midi.end());
  midi.erase(std::unique(midi.begin(), midi.end()), midi.end());
  std::string list = spelt(midi.front(), instrument);
  for (std::size_t i = 1; i < midi.size(); ++i)
    list += (i + 1 == midi.size() ? " and " : ", ") + spelt(midi[i], instrument);
  return list;
}

}  // namespace windway
