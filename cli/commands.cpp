// SPDX-License-Identifier: GPL-3.0-or-later
#include "commands.hpp"

#include <CLI/CLI.hpp>

#include "check.hpp"
#include "compare.hpp"
#include "exit_status.hpp"
#include "measure.hpp"

namespace windway::cli {

struct Commands::Calls {
  MeasureCall measure;
  CheckCall check;
  CompareCall compare;
};

const std::vector<std::string>& command_names() {
  static const std::vector<std::string> names{"measure", "check", "compare"};
  return names;
}

Commands::Commands(CLI::App& app) : app_(app), calls_(std::make_unique<Calls>()) {
  add_measure(app, calls_->measure);
  add_check(app, calls_->check);
  add_compare(app, calls_->compare);
}

Commands::~Commands() = default;

std::optional<int> Commands::run() const {
  if (app_.got_subcommand("measure")) return measure_and_report(calls_->measure), exit_measured;
  if (app_.got_subcommand("check")) return check_and_report(calls_->check);
  if (app_.got_subcommand("compare")) return compare_and_report(calls_->compare), exit_measured;
  return std::nullopt;
}

}  // namespace windway::cli
