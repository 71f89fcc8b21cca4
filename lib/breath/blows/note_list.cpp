// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/blows/note_list.hpp"

#include <algorithm>

namespace windway {

std::string list_notes(std::vector<NoteId> notes, const Instrument& instrument) {
  std::sort(notes.begin(), notes.end());
  notes.erase(std::unique(notes.begin(), notes.end()), notes.end());
  std::string list = spelt(notes.front(), instrument);
  for (std::size_t i = 1; i < notes.size(); ++i)
    list += (i + 1 == notes.size() ? " and " : ", ") + spelt(notes[i], instrument);
  return list;
}

}  // namespace windway
