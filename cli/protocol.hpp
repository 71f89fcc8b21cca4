// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "shared_options.hpp"

namespace windway::cli {

/// `windway protocol` as it was called.
struct ProtocolCall {
  bool up_only = false;
  FluteOptions flute;
  ResultOptions result;
};

/// Declares the command and its options; parsing fills `call`, which must outlive `app`.
void add_protocol(CLI::App& app, ProtocolCall& call);

/// Writes what to play. Throws Error.
void write_protocol(const ProtocolCall& call);

}  // namespace windway::cli
