// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner.hpp"

#include <CLI/CLI.hpp>
#include <memory>

#include "call_files.hpp"
#include "call_words.hpp"
#include "exit_status.hpp"
#include "options.hpp"
#include "partner/partner.hpp"
#include "report/pages/player_pages.hpp"
#include "report/player/partner_report.hpp"
#include "report/wording/prose.hpp"
#include "results/output_file.hpp"
#include "shared_settings.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

/// `windway partner` as it was called.
struct PartnerCall {
  std::vector<std::string> recordings;
  FluteOptions flute;
  PitchOptions pitch;
  ResultOptions result;
};

constexpr auto partner_examples =
    R"(Let the partner play three or four single notes of the flute's range, such as
A4, D5, A5 and D6, each for about two seconds. The partner may be a piano, an
organ, an accordion, pipes or another flute: anything that keeps its pitch.

Examples:
  windway partner piano.wav
  windway partner spinet.wav --a4 415 --temperament meantone --key D

windway looks for A4 within half a semitone of --a4. Without --a4 415 it takes a
partner at 415 Hz for one at 440 Hz that plays a semitone lower.

Exit status: 0 measured; 2 a mistake in the call; 3 the recording could not be
read, or has no note of steady pitch; 4 the result could not be written;
130 interrupted.)";

void add_partner_pitch_options(CLI::App& command, PitchOptions& pitch) {
  const std::string group = "The partner";
  accept_numbers(command.add_option("--a4", pitch.a4_hz, "about where its A4 is (else 440)")->group(group),
                 {300, 600, "HZ", "Hz", "concert pitch is 440"});
  accept_choices(
      command.add_option("--temperament", pitch.temperament, "equal, just, pythagorean or meantone (else equal)")
          ->group(group)
          ->type_name("NAME"),
      {"equal", "just", "pythagorean", "meantone"});
  command.add_option("--key", pitch.key, "key note of the temperament (else the flute's lowest note)")
      ->group(group)
      ->type_name("NOTE");
}

std::string report_of(const Partner& partner, const ResultOptions& result) {
  if (result.format == "json") return partner_json(partner, WINDWAY_VERSION);
  if (result.format == "csv") return partner_csv(partner);
  if (result.format == "html") return partner_page(partner, page_source());
  return text_of(partner_prose(partner), columns_for(result));
}

void partner_and_report(const PartnerCall& call) {
  check_recordings(call.recordings, "which recording? as in: windway partner piano.wav");
  if (call.recordings.size() > 1) refuse("partner takes one recording: put all notes into it");
  PartnerSettings settings;
  settings.instrument = hint_of(call.flute);
  settings.tuning = tuning_of(call.pitch, settings.instrument);
  if (call.pitch.temperament.empty()) settings.tuning.temperament = {};  // the instrument file speaks of the flute
  std::vector<std::string> inputs = call.recordings;
  inputs.push_back(call.flute.instrument);
  const auto file = open_result(call.result, inputs);
  const Partner partner = find_partner(call.recordings.front(), settings);
  if (call.result.format == "csv") complain_of(partner.warnings);
  write_result(file, report_of(partner, call.result));
}

}  // namespace

Action declare_partner(CLI::App& command) {
  const auto call = std::make_shared<PartnerCall>();
  add_recordings_option(command, "RECORDING", call->recordings, "notes of the partner, any sound file");
  add_partner_pitch_options(command, call->pitch);
  add_flute_options(command, call->flute);
  add_result_options(command, call->result, {"text", "csv", "json", "html"});
  command.footer(partner_examples);
  return [call] { return partner_and_report(*call), exit_measured; };
}

}  // namespace windway::cli
