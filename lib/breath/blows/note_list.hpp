// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "instrument/instrument.hpp"

namespace windway {

/// "D5, E5 and G5": each note once, ascending, spelt in the key of the instrument. `notes` must not be empty.
std::string list_notes(std::vector<NoteId> notes, const Instrument& instrument);

}  // namespace windway
