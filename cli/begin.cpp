// SPDX-License-Identifier: GPL-3.0-or-later
#include "begin.hpp"

#include <algorithm>
#include <numeric>

#include "commands.hpp"
#include "recording/telephone.hpp"

namespace windway::cli {
namespace {

/// Letters to insert, delete or change to make one word of the other (Levenshtein 1966).
std::size_t edit_distance(const std::string& from, const std::string& to) {
  std::vector<std::size_t> distances(to.size() + 1);
  std::iota(distances.begin(), distances.end(), std::size_t{0});
  for (std::size_t row = 1; row <= from.size(); ++row) {
    std::size_t diagonal = distances[0]++;
    for (std::size_t column = 1; column <= to.size(); ++column) {
      const std::size_t changed = diagonal + (from[row - 1] == to[column - 1] ? 0 : 1);
      diagonal = distances[column];
      distances[column] = std::min({changed, distances[column] + 1, distances[column - 1] + 1});
    }
  }
  return distances.back();
}

}  // namespace

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

std::optional<std::string> nearest(const std::string& word, const std::vector<std::string>& candidates) {
  constexpr std::size_t most_slips = 2;
  std::optional<std::string> best;
  std::size_t best_distance = most_slips + 1;
  for (const std::string& candidate : candidates) {
    const std::size_t distance = edit_distance(word, candidate);
    if (distance >= best_distance || distance >= word.size()) continue;
    best = candidate;
    best_distance = distance;
  }
  return best;
}

std::optional<std::string> did_you_mean(const std::vector<std::string>& words) {
  const std::string& word = words.front();
  if (word.starts_with('-') || std::count(command_names().begin(), command_names().end(), word) > 0)
    return std::nullopt;
  std::vector<std::string> known = command_names();
  known.insert(known.end(), {"--help", "--version"});
  std::string meant = "windway ";
  const auto command = nearest(word, known);
  meant += command ? *command : "measure " + shell_word(word);
  for (std::size_t at = 1; at < words.size(); ++at) meant += " " + shell_word(words[at]);
  return "'" + word + "' is not a command; did you mean: " + meant;
}

}  // namespace windway::cli
