// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace windway::cli {

/// Where the caller has closed standard input, output or error, the next file that is opened would get its number, and
/// then a report or a warning would go into it. In its place /dev/null is opened, the wrong way round: reading or
/// writing it fails, as it would have.
void occupy_closed_streams();

/// From now on only messages go to standard error: what decoders write there of their own goes nowhere. In debug builds
/// everything still does, for asserts and sanitizers write there too.
void keep_messages_apart();

/// Standard error as the caller gave it.
int message_stream();

}  // namespace windway::cli
