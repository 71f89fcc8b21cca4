// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "measurement.hpp"

namespace windway {

/// The measurement for people: what to do with the head, the table of the notes, what is doubtful and what to do about
/// it. UTF-8, at most 100 columns wide, ends with a line feed.
std::string text_report(const Measurement& measurement);

}  // namespace windway
