// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "instrument/instrument.hpp"

namespace windway {

/// Reads an instrument file (TOML 1.0). Throws Error (kind usage) where the file cannot be read or has mistakes: file,
/// line, key and remedy of the first, and how many more there are.
Instrument read_instrument(const std::string& path);

/// The same from the text of a file; `name` stands for it in errors.
Instrument instrument_from_toml(const std::string& text, const std::string& name);

/// Every mistake in the file, one line each, in the order of its lines; none: it is sound. Throws Error (kind usage)
/// where it cannot be read.
std::vector<std::string> mistakes_in_instrument(const std::string& path);

}  // namespace windway
