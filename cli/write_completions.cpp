// SPDX-License-Identifier: GPL-3.0-or-later
// Writes what shells read to complete a call of windway, made of the options that the program declares.
// usage: windway_write_completions FOLDER      (writes windway.bash, _windway and windway.fish)
#include <CLI/CLI.hpp>
#include <cstdio>
#include <fstream>
#include <string>

#include "completions.hpp"
#include "program.hpp"

namespace {

bool write(const std::string& path, const std::string& text) {
  std::ofstream file(path);
  file << text;
  return static_cast<bool>(file.flush());
}

}  // namespace

int main(int argc, char** argv) {
  using namespace windway::cli;
  if (argc != 2) return std::fputs("usage: windway_write_completions FOLDER\n", stderr), 2;
  CLI::App program;
  declare_program(program);
  const auto commands = completed_commands(program);
  const std::string folder = argv[1];
  const bool is_written = write(folder + "/windway.bash", bash_completion(commands)) &&
                          write(folder + "/_windway", zsh_completion(commands)) &&
                          write(folder + "/windway.fish", fish_completion(commands));
  if (!is_written) return std::fprintf(stderr, "windway_write_completions: cannot write into %s\n", folder.c_str()), 4;
  return 0;
}
