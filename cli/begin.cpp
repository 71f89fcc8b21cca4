// SPDX-License-Identifier: GPL-3.0-or-later
#include "begin.hpp"

#include <algorithm>

#include "commands.hpp"
#include "recording/telephone.hpp"
#include "units/nearest_word.hpp"

namespace windway::cli {
std::string shell_word(const std::string& word) {
  static constexpr auto plain = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_-+./:=@%";
  if (!word.empty() && word.find_first_not_of(plain) == std::string::npos) return word;
  return shell_quoted(word);
}

std::string how_to_begin() {
  return "windway finds from a recorded scale of held notes how far to draw out or push in a flute's head.\n"
         "\n"
         "  1. Warm the flute. Turn the recorder's level control and voice filters off; keep one distance.\n"
         "  2. Hold each note of the scale about a second, three times: soft, moderate, hard. Talk is fine.\n"
         "  3. Save it as WAV or FLAC, and ask:\n"
         "\n"
         "       windway measure my-scale.wav --kind whistle --lowest D\n"
         "\n"
         "  The first line of the answer says what to do with the head, the table what is left for the breath.\n"
         "  All options: windway measure --help. A partner, a check, a tune, an instrument of your own: windway "
         "--help\n";
}

std::optional<std::string> did_you_mean(const std::vector<std::string>& words) {
  const std::string& word = words.front();
  if (word.starts_with('-') || std::count(command_names().begin(), command_names().end(), word) > 0)
    return std::nullopt;
  std::vector<std::string> known = command_names();
  const std::vector<std::string> options{"help", "version"};
  known.insert(known.end(), options.begin(), options.end());
  std::string meant = "windway ";
  const auto command = nearest_word(word, known);
  const bool is_option = command && std::ranges::find(options, *command) != options.end();
  meant += command ? (is_option ? "--" : "") + *command : "measure " + shell_word(word);
  for (std::size_t at = 1; at < words.size(); ++at) meant += " " + shell_word(words[at]);
  return "'" + word + "' is not a command; did you mean: " + meant;
}

}  // namespace windway::cli
