// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "instrument/instrument.hpp"

namespace windway {

/// A built-in instrument under the name that the list shows.
struct NamedInstrument {
  std::string name;
  Kind kind = Kind::whistle;
  int lowest_midi = 0;
};

/// The built-in instruments, whistles from low to high, then recorders (names and pitches: common practice, no source).
const std::vector<NamedInstrument>& builtin_instruments();

/// The built-in instrument that people call so: "D whistle", "whistle in D", "low D whistle", "Bb whistle", "descant",
/// "treble recorder", "alto", "B flat whistle", "Altblockflöte", "tiefe D-Whistle"; case, order and hyphens do not
/// matter. Empty where none is meant.
std::optional<Instrument> instrument_called(const std::string& name);

/// What to do about a name that means none: "a whistle in which key? As in 'D whistle'", "did you mean 'descant
/// recorder'?"
std::string remedy_for_name(const std::string& name);

}  // namespace windway
