// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "report/measurement/measurement_fields.hpp"

namespace windway {

/// The instrument that a saved result says: the registers of its notes are those of its kind, and of the notes that
/// were `played` their own. Throws Error where it names no note.
Instrument instrument_of(const InstrumentWords& words, const std::vector<NoteBreath>& played);

}  // namespace windway
