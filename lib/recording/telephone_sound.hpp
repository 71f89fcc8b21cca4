// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <span>
#include <string>

#include "input/decoder.hpp"
#include "input/input_file.hpp"
#include "recording/coding.hpp"

namespace windway {

/// ffmpeg at work on a file that libsndfile does not read, by its first bytes `head`. Throws Error (kind recording)
/// with `path` and the remedy: there is no ffmpeg, it finds no sound in it, it does not know it.
std::unique_ptr<Decoder> decoder_of(const InputFile& input, const std::string& path,
                                    std::span<const unsigned char> head);

Coding coding_by(const Decoder& decoder, std::span<const unsigned char> head);

/// "moov atom not found" and 2 more
std::string quoted_errors(const std::vector<std::string>& errors);

}  // namespace windway
