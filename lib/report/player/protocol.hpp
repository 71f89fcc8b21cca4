// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "breath/breath.hpp"
#include "instrument/instrument.hpp"
#include "report/wording/prose.hpp"

namespace windway {

/// One note to play, all its blows one after the other.
struct ProtocolStep {
  NoteId note;
  bool is_optional = false;
};

/// What to play for a good take, in order.
struct Protocol {
  Instrument instrument;
  std::vector<ProtocolStep> steps;  ///< up the scale, then down again: so warming is not taken for breath
  std::vector<Blow> blows{Blow::soft, Blow::moderate, Blow::hard};
  double hold_s = 1.5;
  double gap_s = 0.5;
  double warm_up_s = 120;
};

/// Every note of the instrument, up and (unless `up_only`) down again; a further fingering after the usual one, up
/// only.
Protocol protocol_of(const Instrument& instrument, bool up_only);

/// Seconds that the playing takes, warming up left out.
double duration_s(const Protocol& protocol);

/// The run for `windway measure --order`: "D5 E5 D6 D6:vented".
std::string order_of(const Protocol& protocol);

/// A page to print; `options` say the instrument in the command at its end, each with its value: "--kind whistle". The
/// command's lines are at most `columns` wide.
Prose protocol_prose(const Protocol& protocol, const std::vector<std::string>& options,
                     std::size_t columns = text_columns);

/// One JSON object, schema windway.protocol.v1.
std::string protocol_json(const Protocol& protocol, const std::string& program_version);

}  // namespace windway
