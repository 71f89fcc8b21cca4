// SPDX-License-Identifier: GPL-3.0-or-later
#include "protocol.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "begin.hpp"
#include "call_files.hpp"
#include "exit_status.hpp"
#include "options.hpp"
#include "report/player/protocol.hpp"
#include "report/wording/prose.hpp"
#include "results/output_file.hpp"
#include "shared_settings.hpp"

namespace windway::cli {
namespace {

/// `windway protocol` as it was called.
struct ProtocolCall {
  bool up_only = false;
  FluteOptions flute;
  ResultOptions result;
};

constexpr auto protocol_examples = R"(Examples:
  windway protocol --instrument 'D whistle'
  windway protocol --instrument my-flute.toml --up-only --output to-print.txt)";

Instrument instrument_said(const FluteOptions& flute) {
  const InstrumentHint hint = hint_of(flute);
  if (hint.instrument) return spelling_as(hint.note_names, *hint.instrument);
  if (!hint.kind || !hint.lowest || !hint.lowest->octave) {
    refuse(
        "for which instrument? Say --instrument 'D whistle' (windway instruments list shows all), or --kind and "
        "--lowest with its octave, as in --kind whistle --lowest D5");
  }
  return spelling_as(hint.note_names, builtin_instrument(*hint.kind, midi_of(*hint.lowest)));
}

/// The options that say the same instrument to windway measure.
std::vector<std::string> options_of(const FluteOptions& flute) {
  std::vector<std::string> options;
  const auto add = [&](const std::string& name, const std::string& value) {
    if (!value.empty()) options.push_back(name + " " + shell_word(value));
  };
  add("--instrument", flute.instrument);
  add("--kind", flute.kind);
  add("--lowest", flute.lowest);
  add("--scale", flute.scale);
  add("--note-names", flute.note_names == "english" ? "" : flute.note_names);
  return options;
}

void write_protocol(const ProtocolCall& call) {
  const Protocol protocol = protocol_of(instrument_said(call.flute), call.up_only);
  const auto file = open_result(call.result, {call.flute.instrument});
  const std::size_t columns = columns_for(call.result);
  write_result(file, call.result.format == "json"
                         ? protocol_json(protocol, WINDWAY_VERSION)
                         : text_of(protocol_prose(protocol, options_of(call.flute), columns), columns));
}

}  // namespace

Action declare_protocol(CLI::App& command) {
  const auto call = std::make_shared<ProtocolCall>();
  command
      .add_flag("--up-only", call->up_only,
                "play the scale up only: shorter, but windway cannot tell\nwarming from breath")
      ->group("The take");
  add_flute_options(command, call->flute);
  add_result_options(command, call->result, {"text", "json"});
  command.footer(protocol_examples);
  return [call] { return write_protocol(*call), exit_measured; };
}

}  // namespace windway::cli
