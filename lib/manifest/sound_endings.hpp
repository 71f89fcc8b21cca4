// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string_view>

namespace windway {

/// True if the name ends like that of a sound file, in capitals or small letters: a format that libsndfile reads, or
/// one for ffmpeg, such as telephones record into. Without ffmpeg those are takes that cannot be measured, and the user
/// is told the remedy.
bool has_sound_ending(std::string_view name);

}  // namespace windway
