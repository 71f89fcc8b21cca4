// SPDX-License-Identifier: GPL-3.0-or-later
#include "program.hpp"

#include <CLI/CLI.hpp>

#include "commands.hpp"
#include "help.hpp"

namespace windway::cli {

std::vector<std::pair<const CLI::App*, Action>> declare_program(CLI::App& app) {
  app.name("windway");
  app.description("Measures recorded scales of duct flutes: where to set the head, and how to blow each note.");
  lay_out_help(app);
  app.set_help_flag("-h,--help", "print this help");
  app.set_version_flag("-V,--version", "windway " WINDWAY_VERSION, "print the version");
  app.require_subcommand(0, 1);
  app.get_formatter()->label("Positionals", "Recordings");
  app.get_formatter()->label("SUBCOMMAND", "COMMAND");
  app.footer("windway COMMAND --help explains a command. windway alone says how to begin.");
  return declare_commands(app);
}

}  // namespace windway::cli
