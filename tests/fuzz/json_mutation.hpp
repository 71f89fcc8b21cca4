// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>

namespace windway::fuzz {

/// The JSON text with one of its values, at any depth, changed, left out or told twice; empty where it is no JSON.
std::string with_one_value_changed(const std::string& json, unsigned seed);

/// Half of the time a value is changed, so that the text stays JSON; else bytes are, as libFuzzer does it.
std::size_t mutated_json(std::uint8_t* bytes, std::size_t count, std::size_t most, unsigned seed);

}  // namespace windway::fuzz
