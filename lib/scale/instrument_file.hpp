// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "scale/instrument.hpp"

namespace windway {

/// Reads an instrument file (TOML 1.0). Throws Error (kind usage) with file, line, key and remedy for the first mistake
/// in it; kind recording where the file cannot be read.
Instrument read_instrument(const std::string& path);

/// The same from the text of a file; `name` stands for it in errors.
Instrument instrument_from_toml(const std::string& text, const std::string& name);

/// An instrument file that reads back as the same instrument, with a word beside each key.
std::string instrument_toml(const Instrument& instrument);

}  // namespace windway
