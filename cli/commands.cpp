// SPDX-License-Identifier: GPL-3.0-or-later
#include "commands.hpp"

#include <CLI/CLI.hpp>

#include "batch.hpp"
#include "card.hpp"
#include "check.hpp"
#include "compare.hpp"
#include "drone.hpp"
#include "history.hpp"
#include "instruments.hpp"
#include "measure.hpp"
#include "partner.hpp"
#include "playing.hpp"
#include "protocol.hpp"
#include "sheet.hpp"
#include "summary.hpp"

namespace windway::cli {
namespace {

/// Every command, in the order of the help. A new one needs a line here and a file of its own.
constexpr Command commands[] = {
    {"measure", "what to do with the head, and a table of the notes", declare_measure},
    {"check", "is the head set now? one held note is enough", declare_check},
    {"compare", "what a move of the head, or an hour, has changed", declare_compare},
    {"card", "where the head belongs at other A4 and temperatures", declare_card},
    {"partner", "which A4 the partner plays", declare_partner},
    {"playing", "the scale as it comes out in real playing", declare_playing},
    {"drone", "write a steady target note to play against", declare_drone},
    {"protocol", "what to play for a good take, in order", declare_protocol},
    {"instruments", "list, show, check, write instrument files (TOML)", declare_instruments},
    {"batch", "many takes: verdicts, statistics of the bench", declare_batch},
    {"summary", "the statistics again from saved results, merged", declare_summary},
    {"sheet", "one printed page for the buyer of an instrument", declare_sheet},
    {"history", "takes of one flute in order, and what has changed", declare_history},
};

}  // namespace

const std::vector<std::string>& command_names() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> all;
    for (const Command& command : commands) all.emplace_back(command.name);
    return all;
  }();
  return names;
}

std::vector<std::pair<const CLI::App*, Action>> declare_commands(CLI::App& app) {
  std::vector<std::pair<const CLI::App*, Action>> declared;
  for (const auto& [name, purpose, declare] : commands) {
    CLI::App& command = *app.add_subcommand(name, purpose);
    command.group("Commands");
    command.option_defaults()->always_capture_default();
    declared.emplace_back(&command, declare(command));
  }
  return declared;
}

}  // namespace windway::cli
