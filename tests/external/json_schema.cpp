// SPDX-License-Identifier: GPL-3.0-or-later
#include "external/json_schema.hpp"

#include <filesystem>
#include <regex>
#include <sstream>

#include "cli/run_program.hpp"

namespace windway::external_tests {
namespace {

constexpr auto library = WINDWAY_TESTS_DIR "/../lib";
constexpr auto ending = ".schema.json";

std::string path_of(const std::string& schema) { return std::string(library) + "/report/schemas/" + schema + ending; }

std::vector<std::string> validator(const std::string& schema) {
  return {"/usr/bin/python3", WINDWAY_TESTS_DIR "/external/validate_json.py", path_of(schema)};
}

}  // namespace

std::set<std::string> shipped_schemas() {
  std::set<std::string> names;
  for (const auto& file : std::filesystem::directory_iterator(std::string(library) + "/report/schemas")) {
    const std::string name = file.path().filename().string();
    names.insert(name.ends_with(ending) ? name.substr(0, name.size() - std::string(ending).size()) : name);
  }
  return names;
}

std::set<std::string> schemas_in_sources() {
  static const std::regex name(R"re("(windway\.[a-z_]+\.v[0-9]+)")re");
  std::set<std::string> names;
  for (const auto& file : std::filesystem::recursive_directory_iterator(library)) {
    if (file.path().extension() != ".cpp" && file.path().extension() != ".hpp") continue;
    const std::string text = cli_tests::read_file(file.path().string());
    for (std::sregex_iterator found(text.begin(), text.end(), name); found != std::sregex_iterator(); ++found)
      names.insert((*found)[1]);
  }
  return names;
}

Judgement judge(const std::string& schema, const std::vector<std::string>& texts, Keys keys) {
  const cli_tests::ScratchFolder folder;
  std::string lines;
  for (const std::string& text : texts) lines += text + "\n";
  cli_tests::write_file(folder.path("texts.json"), lines);
  std::vector<std::string> words = validator(schema);
  if (keys != Keys::more_may_come) words.emplace_back("--strict");
  if (keys == Keys::as_described) words.emplace_back("--ordered");
  const auto run = cli_tests::run_program(words, {.in_path = folder.path("texts.json")});
  Judgement judgement{run.exit_status, {}, run.out + run.err};
  std::istringstream mistakes(run.out);
  for (std::string mistake; std::getline(mistakes, mistake);) judgement.refused.insert(std::stoi(mistake));
  return judgement;
}

int judge_schema(const std::string& schema) {
  std::vector<std::string> words = validator(schema);
  words.emplace_back("--schema-only");
  return cli_tests::run_program(words).exit_status;
}

bool validator_is_there() {
  return cli_tests::run_program({"/usr/bin/python3", "-c", "import jsonschema"}).exit_status == 0;
}

}  // namespace windway::external_tests
