// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "scale/instrument.hpp"

namespace windway {

/// Reads an instrument file (TOML 1.0). Throws Error (kind usage) where the file cannot be read or has mistakes: file,
/// line, key and remedy of the first, and how many more there are.
Instrument read_instrument(const std::string& path);

/// The same from the text of a file; `name` stands for it in errors.
Instrument instrument_from_toml(const std::string& text, const std::string& name);

/// Every mistake in the file, one line each, in the order of its lines; none: it is sound. Throws Error (kind usage)
/// where it cannot be read.
std::vector<std::string> mistakes_in_instrument(const std::string& path);

/// An instrument file that reads back as the same instrument, with a word beside each key.
std::string instrument_toml(const Instrument& instrument);

/// The same to begin with: which notes were heard of it (`heard_midi`, empty: none was played), and below it, marked as
/// comments, what else such a file can say.
std::string begun_instrument_toml(const Instrument& instrument, const std::vector<int>& heard_midi);

}  // namespace windway
