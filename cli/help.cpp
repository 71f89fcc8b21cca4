// SPDX-License-Identifier: GPL-3.0-or-later
#include "help.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <memory>
#include <sstream>

#include "report/wording/layout.hpp"

namespace windway::cli {
namespace {

constexpr std::size_t name_columns = 30;

std::string described(std::string description) {
  std::ranges::replace(description, '\n', ' ');
  std::string lines = wrapped(description, 0, text_columns - name_columns);
  lines.pop_back();  // its line feed
  return lines;
}

/// Breaks what is described into the columns that are left of the page beside the names.
class HelpPage : public CLI::Formatter {
 public:
  HelpPage() { column_width(name_columns); }
  std::string make_option_desc(const CLI::Option* option) const override {
    return described(option->get_description());
  }
  std::string make_subcommand(const CLI::App* command) const override {
    std::ostringstream lines;
    CLI::detail::format_help(lines, command->get_name(), described(command->get_description()), name_columns);
    return lines.str();
  }
  std::string make_description(const CLI::App* app) const override { return wrapped(app->get_description()); }
};

}  // namespace

void lay_out_help(CLI::App& app) { app.formatter(std::make_shared<HelpPage>()); }

void add_help_option(CLI::App& command) { command.set_help_flag("-h,--help", "print this help")->group("Help"); }

std::string help_of(const CLI::App& app) {
  std::string help = app.help();
  // CLI11 leaves two empty lines between groups where one does.
  for (auto at = help.find("\n\n\n"); at != std::string::npos; at = help.find("\n\n\n")) help.erase(at, 1);
  return help;
}

std::vector<std::string> with_help_as_option(const std::vector<std::string>& words) {
  if (words.empty() || words.front() != "help") return words;
  std::vector<std::string> asked(words.begin() + 1, words.end());
  std::erase(asked, "help");
  asked.emplace_back("--help");
  return asked;
}

}  // namespace windway::cli
