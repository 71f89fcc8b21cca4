// SPDX-License-Identifier: GPL-3.0-or-later
#include "card.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "call_files.hpp"
#include "call_words.hpp"
#include "card/head_card.hpp"
#include "exit_status.hpp"
#include "options.hpp"
#include "report/measurement/advice.hpp"
#include "report/measurement/saved.hpp"
#include "report/pages/player_pages.hpp"
#include "report/player/card_report.hpp"
#include "report/wording/prose.hpp"
#include "results/output_file.hpp"
#include "shared_settings.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

/// `windway card` as it was called.
struct CardCall {
  std::vector<std::string> takes;
  TakeOptions take;
  ResultOptions result;
};

constexpr auto card_examples = R"(Examples:
  windway card before.json
  windway card scale.wav --instrument 'D whistle' --fully-in --travel 12

A result is saved with windway measure TAKE --format json --output before.json

Exit status: 0 written; 2 a mistake in the call; 3 a recording could not be
read, or cannot show where the head belongs; 4 the result could not be
written; 130 interrupted.)";

std::string report_of(const HeadCard& card, const Measurement& measurement, const std::string& format) {
  if (format == "json") return card_json(card, measurement, WINDWAY_VERSION);
  if (format == "html") return card_page(card, measurement, page_source());
  return format == "csv" ? card_csv(card, measurement) : text_of(card_prose(card, measurement));
}

/// What is doubtful about the take, for formats that have no place for it; what the card says itself is left out.
void complain_of_take(const Measurement& measurement) {
  Warnings doubts;
  for (const Warning& warning : measurement.warnings)
    if (!is_said_already(warning)) doubts.push_back(warning);
  complain_of(doubts);
}

void write_card(const CardCall& call, const CLI::App& command) {
  check_recordings(call.takes, "which result? as in: windway card before.json");
  if (call.takes.size() != 1) refuse("card takes one result, or one recording: a card is of one flute");
  if (is_saved_result(call.takes.front())) refuse_options_with_saved(command, call.takes.front());
  std::vector<std::string> inputs = files_of(call.take);
  inputs.push_back(call.takes.front());
  const auto file = open_result(call.result, inputs);
  MeasureSettings settings = settings_of(call.take);
  if (call.result.format != "json") settings.digest = Digest::left_out;
  const Measurement measurement = measured_or_saved(call.takes.front(), call.take, settings);
  const HeadCard card = head_card(measurement);
  if (call.result.format != "json") complain_of_take(measurement);
  write_result(file, report_of(card, measurement, call.result.format));
}

}  // namespace

Action declare_card(CLI::App& command) {
  const auto call = std::make_shared<CardCall>();
  add_recordings_option(command, "RESULT", call->takes,
                        "a result saved with windway measure --format json, or the\nrecording");
  add_scale_take_options(command, call->take);
  add_result_options(command, call->result, {"text", "csv", "json", "html"}, {{"csv", "csv with a row for each cell"}});
  command.footer(card_examples);
  return [call, &command] { return write_card(*call, command), exit_measured; };
}

}  // namespace windway::cli
