// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "measurement.hpp"
#include "report/wording/prose.hpp"
#include "slide/head_check.hpp"

namespace windway {

/// Why a check without notes says nothing of the head, and what to do.
std::string why_no_check(const HeadCheck& check, const Measurement& earlier);

/// For people: is the head set, and if not, how much farther which way. `earlier` is the take that the move comes from.
Prose check_prose(const HeadCheck& check, const Measurement& earlier);

/// For programs: one JSON object, schema windway.check.v1.
std::string check_json(const HeadCheck& check, const Measurement& earlier, const std::string& program_version);

}  // namespace windway
