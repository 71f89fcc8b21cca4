// SPDX-License-Identifier: GPL-3.0-or-later
#include <CLI/CLI.hpp>
#include <algorithm>
#include <exception>
#include <string>
#include <utility>
#include <vector>

#include "begin.hpp"
#include "call_words.hpp"
#include "earlier_report.hpp"
#include "exit_status.hpp"
#include "help.hpp"
#include "interrupt.hpp"
#include "options.hpp"
#include "program.hpp"
#include "results/reason.hpp"
#include "standard_streams.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

/// Parses the call and does what it asks; gives the exit status. Throws Error.
int run(const std::vector<std::string>& words) {
  CLI::App app;
  const auto commands = declare_program(app);
  try {
    app.parse(std::vector<std::string>(words.rbegin(), words.rend()));  // as CLI11 takes them
  } catch (const CLI::CallForVersion& version) {
    return print(std::string(version.what()) + "\n"), exit_measured;
  } catch (const CLI::Success&) {
    return print(help_of(app)), exit_measured;
  } catch (const CLI::ParseError& mistake) {
    remove_report_of_mistaken_call(words);
    throw Error(ErrorKind::usage, in_words(mistake, app));
  }
  for (const auto& [command, action] : commands)
    if (command->parsed()) return action();
  return print(how_to_begin()), exit_measured;
}

}  // namespace
}  // namespace windway::cli

int main(int argc, char** argv) {
  using namespace windway::cli;
  occupy_closed_streams();
  keep_messages_apart();
  watch_for_interrupts();
  try {
    const auto words = with_help_as_option({argv + std::min(argc, 1), argv + argc});
    const auto suggestion = words.empty() ? std::nullopt : did_you_mean(words);
    if (suggestion) throw windway::Error(windway::ErrorKind::usage, *suggestion);
    remember_call(words);
    return run(words);
  } catch (const windway::Error& error) {
    complain(error.what());
    return exit_status_of(error.kind());
  } catch (const std::exception& error) {  // memory ran out, or a fault of windway itself
    complain("could not be finished: " + windway::reason_of(error));
    return exit_recording;
  }
}
