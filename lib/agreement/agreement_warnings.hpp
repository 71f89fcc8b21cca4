// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "agreement/take_agreement.hpp"
#include "slide/air.hpp"
#include "warning.hpp"

namespace windway {

/// What sentences about several takes need to know beside how they agree.
struct TakesInWords {
  std::vector<std::string> names;  ///< by take
  Instrument instrument;
  Air air;
  std::optional<double> common_place_mm;  ///< where all were brought to; absent: one place
  bool head_moves = true;
};

/// Codes: takes_disagree, with its causes, and the move that each take by itself asks for; take_note_apart;
/// takes_not_compared.
Warnings agreement_warnings(const TakeAgreement& agreement, const TakesInWords& words);

/// Of takes no two of which share a note.
Warning no_common_note();

}  // namespace windway
