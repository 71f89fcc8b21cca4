// SPDX-License-Identifier: GPL-3.0-or-later
#include "commands.hpp"

#include <CLI/CLI.hpp>

#include "batch.hpp"
#include "check.hpp"
#include "compare.hpp"
#include "drone.hpp"
#include "exit_status.hpp"
#include "instruments.hpp"
#include "measure.hpp"
#include "partner.hpp"
#include "playing.hpp"
#include "protocol.hpp"
#include "summary.hpp"

namespace windway::cli {

struct Commands::Calls {
  MeasureCall measure;
  CheckCall check;
  CompareCall compare;
  PartnerCall partner;
  PlayingCall playing;
  DroneCall drone;
  ProtocolCall protocol;
  InstrumentsCall instruments;
  BatchCall batch;
  SummaryCall summary;
  HistoryCall history;
};

const std::vector<std::string>& command_names() {
  static const std::vector<std::string> names{"measure",  "check",       "compare", "partner", "playing", "drone",
                                              "protocol", "instruments", "batch",   "summary", "history"};
  return names;
}

Commands::Commands(CLI::App& app) : app_(app), calls_(std::make_unique<Calls>()) {
  add_measure(app, calls_->measure);
  add_check(app, calls_->check);
  add_compare(app, calls_->compare);
  add_partner(app, calls_->partner);
  add_playing(app, calls_->playing);
  add_drone(app, calls_->drone);
  add_protocol(app, calls_->protocol);
  add_instruments(app, calls_->instruments);
  add_batch(app, calls_->batch);
  add_summary(app, calls_->summary);
  add_history(app, calls_->history);
}

Commands::~Commands() = default;

std::optional<int> Commands::run() const {
  if (app_.got_subcommand("measure")) return measure_and_report(calls_->measure), exit_measured;
  if (app_.got_subcommand("check")) return check_and_report(calls_->check);
  if (app_.got_subcommand("compare")) return compare_and_report(calls_->compare), exit_measured;
  if (app_.got_subcommand("partner")) return partner_and_report(calls_->partner), exit_measured;
  if (app_.got_subcommand("playing")) return playing_and_report(calls_->playing), exit_measured;
  if (app_.got_subcommand("drone")) return write_drone_file(calls_->drone), exit_measured;
  if (app_.got_subcommand("protocol")) return write_protocol(calls_->protocol), exit_measured;
  if (app_.got_subcommand("instruments")) return do_instruments(calls_->instruments), exit_measured;
  if (app_.got_subcommand("batch")) return batch_and_report(calls_->batch);
  if (app_.got_subcommand("summary")) return summarise(calls_->summary);
  if (app_.got_subcommand("history")) return tell_history(calls_->history);
  return std::nullopt;
}

}  // namespace windway::cli
