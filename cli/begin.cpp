// SPDX-License-Identifier: GPL-3.0-or-later
#include "begin.hpp"

#include <algorithm>

#include "commands.hpp"
#include "recording/telephone.hpp"
#include "suggestions.hpp"

namespace windway::cli {
std::string shell_word(const std::string& word) {
  static constexpr auto plain = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-+./:=@%";
  if (!word.empty() && word.find_first_not_of(plain) == std::string::npos) return word;
  return shell_quoted(word);
}

std::string how_to_begin() {
  return "windway measures a recorded scale of held notes, and tells you how far to draw\n"
         "out or push in the head of your flute.\n"
         "\n"
         "  1. Warm the flute. Switch off the recorder's level control and voice filters.\n"
         "  2. Hold each note a second, three times: soft, moderate, hard. Talk is fine.\n"
         "  3. Save it as WAV or FLAC, and run:\n"
         "       windway measure my-scale.wav --kind whistle --lowest D --warm\n"
         "\n"
         "The first line is for the head. The table says how to blow each note.\n"
         "All options: windway measure --help. All commands: windway --help\n";
}

std::optional<std::string> did_you_mean(const std::vector<std::string>& words) {
  const std::string& word = words.front();
  if (word.starts_with('-') || std::count(command_names().begin(), command_names().end(), word) > 0)
    return std::nullopt;
  std::vector<std::string> known = command_names();
  known.insert(known.end(), {"help", "version"});
  std::string meant = "windway ";
  const auto command = command_meant(word, known);
  meant += !command ? "measure " + shell_word(word) : *command == "version" ? "--version" : *command;
  for (std::size_t at = 1; at < words.size(); ++at) meant += " " + shell_word(words[at]);
  return "'" + word + "' is not a command; did you mean: " + meant;
}

}  // namespace windway::cli
