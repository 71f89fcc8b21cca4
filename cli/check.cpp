// SPDX-License-Identifier: GPL-3.0-or-later
#include "check.hpp"

#include <CLI/CLI.hpp>
#include <cmath>
#include <memory>
#include <set>

#include "analysis.hpp"
#include "call_files.hpp"
#include "call_words.hpp"
#include "exit_status.hpp"
#include "options.hpp"
#include "report/pages/player_pages.hpp"
#include "report/player/check_report.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/spelling.hpp"
#include "report/wording/words.hpp"
#include "results/output_file.hpp"
#include "shared_settings.hpp"

namespace windway::cli {
namespace {

/// `windway check` as it was called.
struct CheckCall {
  std::vector<std::string> takes;
  std::string after;
  std::optional<double> tolerance_cents;
  TakeOptions take;
  ResultOptions result;
};

constexpr auto check_examples = R"(Examples:
  windway measure scale.wav --fully-in --format json --output before.json
  windway check one-note.wav --after before.json

Hold one note, blown moderately. windway measure says which note is best.

Exit status: 0 measured; 1 farther off than --tolerance; 2 a mistake in the
call; 3 a recording could not be read or judged; 4 the result could not be
written; 130 interrupted.)";

/// The flute and the pitch of the earlier take hold for the later one; so does the air, where the call does not say
/// that it is another now. Its notes are given for the temperature of the earlier ones.
MeasureSettings settings_after(const Measurement& earlier, const PitchOptions& pitch) {
  MeasureSettings settings = earlier.settings;
  settings.quote_at_c = quoted_air(earlier.settings).temperature_c;
  settings.air = air_of(pitch, earlier.settings.air);
  settings.instrument = InstrumentHint{};
  settings.instrument.instrument = earlier.naming.instrument;
  settings.instrument.note_names = earlier.settings.note_names;
  settings.hold_rules.min_hold_s = HoldRules{}.min_hold_s;
  settings.blows = {};
  return settings;
}

/// "F5 and G5"
std::string heard_in_words(const Measurement& later) {
  std::set<NoteId> notes;
  for (const NamedHold& named : later.naming.holds) notes.insert(named.note);
  std::vector<std::string> names;
  for (const NoteId& note : notes) names.push_back(spelt_for_people(note, later));
  return list_in_words(names);
}

HeadCheck checked(const Measurement& earlier, const Measurement& later) {
  for (const WarningCode code : deep_doubts)
    if (const Warning* doubt = find_warning(earlier.warnings, code))
      throw Error(ErrorKind::recording, "cannot check the head, as the earlier take is doubtful: " + doubt->message);
  const auto check = earlier.compromise ? check_head(earlier.breath.notes, *earlier.compromise, earlier.settings.head,
                                                     later.breath.notes, earlier.breath.repeat_db)
                                        : std::nullopt;
  if (check && check->notes.empty())
    throw Error(ErrorKind::recording, "cannot check the head: " + why_no_check(*check, earlier));
  if (check) return *check;
  throw Error(ErrorKind::recording, earlier.compromise
                                        ? "cannot check the head: " + heard_in_words(later) +
                                              " was heard, which is not in the earlier take; record one of its "
                                              "notes, blown moderately"
                                        : "cannot check the head: the earlier take gives no place for it; record the "
                                          "whole scale, measure it, and then check");
}

std::string report_of(const HeadCheck& check, const Measurement& earlier, const ResultOptions& result) {
  if (result.format == "json") return check_json(check, earlier, WINDWAY_VERSION);
  if (result.format == "html") return check_page(check, earlier, page_source());
  return text_of(check_prose(check, earlier), columns_for(result));
}

int check_and_report(const CheckCall& call) {
  check_recordings(call.takes, "which recording? as in: windway check one-note.wav --after before.json");
  if (call.after.empty()) refuse("which take gave the move? as in: --after before.json");
  std::vector<std::string> inputs = files_of(call.take);
  inputs.push_back(call.after);
  inputs.insert(inputs.end(), call.takes.begin(), call.takes.end());
  const auto file = open_result(call.result, inputs);
  const Measurement earlier = measured_or_saved(call.after, call.take, settings_of(call.take));
  const Measurement later = measure(call.takes, settings_after(earlier, call.take.pitch));
  const HeadCheck check = checked(earlier, later);
  write_result(file, report_of(check, earlier, call.result));
  return call.tolerance_cents && std::abs(check.off_cents) > *call.tolerance_cents ? exit_out_of_tolerance
                                                                                   : exit_measured;
}

}  // namespace

Action declare_check(CLI::App& command) {
  const auto call = std::make_shared<CheckCall>();
  add_recordings_option(command, "TAKE", call->takes,
                        "one note held after the move; several notes are judged\ntogether");
  command
      .add_option("--after", call->after,
                  "the take that gave the move: the recording, or a result\nsaved with --format json --output FILE")
      ->group("The recording")
      ->type_name("EARLIER");
  accept_numbers(
      command.add_option("--tolerance", call->tolerance_cents, "exit status 1 if the notes are farther off than this")
          ->group("The recording"),
      {0, 100, "CENTS", "cents", ""});
  add_take_options(command, call->take);
  add_result_options(command, call->result, {"text", "json", "html"});
  command.footer(check_examples);
  return [call] { return check_and_report(*call); };
}

}  // namespace windway::cli
