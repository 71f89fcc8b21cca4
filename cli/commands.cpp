// SPDX-License-Identifier: GPL-3.0-or-later
#include "commands.hpp"

#include <CLI/CLI.hpp>

#include "measure.hpp"

namespace windway::cli {

struct Commands::Calls {
  MeasureCall measure;
};

const std::vector<std::string>& command_names() {
  static const std::vector<std::string> names{"measure"};
  return names;
}

Commands::Commands(CLI::App& app) : app_(app), calls_(std::make_unique<Calls>()) { add_measure(app, calls_->measure); }

Commands::~Commands() = default;

bool Commands::run() const {
  if (app_.got_subcommand("measure")) return measure_and_report(calls_->measure), true;
  return false;
}

}  // namespace windway::cli
