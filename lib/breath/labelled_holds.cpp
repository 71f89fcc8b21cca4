// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/labelled_holds.hpp"

#include <map>
#include <utility>

namespace windway {

LabelledHolds labelled_holds(const Naming& naming, const Blows& blows) {
  LabelledHolds labelled;
  std::map<std::pair<NoteId, int>, int> number;
  for (std::size_t h = 0; h < naming.holds.size(); ++h) {
    if (!blows.used[h] || !blows.strength[h]) continue;
    labelled.hold.push_back(h);
    labelled.label.push_back(*blows.strength[h]);
    const std::pair key(naming.holds[h].note, naming.holds[h].hold.take);
    labelled.group.push_back(number.try_emplace(key, static_cast<int>(number.size())).first->second);
  }
  labelled.strengths = blows.strengths;
  return labelled;
}

}  // namespace windway
