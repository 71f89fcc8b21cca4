// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "shared_options.hpp"

namespace windway::cli {

/// `windway instruments` as it was called.
struct InstrumentsCall {
  std::vector<std::string> words;  ///< what to do, then names or files
  std::string from;                ///< write: a take or a built-in name
  bool replace = false;
  FluteOptions flute;
};

/// Declares the command and its options; parsing fills `call`, which must outlive `app`.
void add_instruments(CLI::App& app, InstrumentsCall& call);

/// Lists, shows, checks or writes. Throws Error.
void do_instruments(const InstrumentsCall& call);

}  // namespace windway::cli
