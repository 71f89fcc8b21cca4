// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "instrument/instrument.hpp"

namespace windway {

/// An instrument file that reads back as the same instrument, with a word beside each key.
std::string instrument_toml(const Instrument& instrument);

/// The same to begin with: which notes were heard of it (`heard_midi`, empty: none was played), and below it, marked as
/// comments, what else such a file can say.
std::string begun_instrument_toml(const Instrument& instrument, const std::vector<int>& heard_midi);

}  // namespace windway
