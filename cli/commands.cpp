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
    {"measure", "how far to move the head, and a table of the notes", declare_measure},
    {"check", "is the head set right? one held note is enough", declare_check},
    {"compare", "what has changed between two takes of one flute", declare_compare},
    {"card", "where the head belongs at other A4 and temperatures", declare_card},
    {"partner", "which A4 a piano or another partner plays", declare_partner},
    {"playing", "how in tune each note is in real playing", declare_playing},
    {"drone", "write a steady note to play against", declare_drone},
    {"protocol", "what to play for a good take, in order", declare_protocol},
    {"instruments", "list, show, check, write instrument files (TOML)", declare_instruments},
    {"batch", "many takes: which instruments pass, and statistics", declare_batch},
    {"summary", "the report of batch again, from its saved results", declare_summary},
    {"sheet", "a page to print for the buyer of an instrument", declare_sheet},
    {"history", "what has changed from take to take of one flute", declare_history},
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
