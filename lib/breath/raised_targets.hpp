// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "breath/response/note_breath.hpp"

namespace windway {

/// The same notes against targets that lie all `cents` higher, of another reference pitch.
std::vector<NoteBreath> with_targets_raised(std::vector<NoteBreath> notes, double cents);

}  // namespace windway
