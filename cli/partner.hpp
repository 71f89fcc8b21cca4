// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "partner/partner.hpp"
#include "shared_options.hpp"

namespace windway::cli {

/// `windway partner` as it was called.
struct PartnerCall {
  std::vector<std::string> recordings;
  FluteOptions flute;
  PitchOptions pitch;
  ResultOptions result;
};

/// Declares the command and its options; parsing fills `call`, which must outlive `app`.
void add_partner(CLI::App& app, PartnerCall& call);

/// Finds the partner's pitch and writes the report. Throws Error.
void partner_and_report(const PartnerCall& call);

}  // namespace windway::cli
