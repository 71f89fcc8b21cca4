// SPDX-License-Identifier: GPL-3.0-or-later
#include "suggestions.hpp"

#include <algorithm>
#include <cctype>
#include <string_view>

#include "units/nearest_word.hpp"

namespace windway::cli {
namespace {

struct Meaning {
  std::string_view typed;
  std::string_view meant;  ///< without dashes; may go on with a value
};

/// What one would type who does not know the names, and what it means here; the first that the command has.
constexpr Meaning option_meanings[] = {
    {"pitch", "a4"},
    {"reference", "a4"},
    {"reference-pitch", "a4"},
    {"ref", "a4"},
    {"tuning", "a4"},
    {"concert-pitch", "a4"},
    {"hz", "a4"},
    {"frequency", "a4"},
    {"a", "a4"},
    {"piano", "partner"},
    {"accompaniment", "partner"},
    {"intonation", "temperament"},
    {"temper", "temperament"},
    {"key", "lowest"},
    {"tonic", "lowest"},
    {"root", "lowest"},
    {"lowest-note", "lowest"},
    {"low", "lowest"},
    {"base", "lowest"},
    {"flute", "instrument"},
    {"model", "instrument"},
    {"type", "kind"},
    {"whistle", "kind whistle"},
    {"recorder", "kind recorder"},
    {"notes", "scale"},
    {"run", "order"},
    {"sequence", "order"},
    {"language", "note-names"},
    {"names", "note-names"},
    {"german", "note-names german"},
    {"english", "note-names english"},
    {"temp", "bore-temp"},
    {"temperature", "bore-temp"},
    {"celsius", "bore-temp"},
    {"speed", "bore-temp"},
    {"speed-of-sound", "bore-temp"},
    {"moisture", "humidity"},
    {"carbon-dioxide", "co2"},
    {"slide", "head-out"},
    {"position", "head-out"},
    {"offset", "head-out"},
    {"extension", "head-out"},
    {"head", "head-out"},
    {"closed", "fully-in"},
    {"pushed-in", "fully-in"},
    {"in", "pushed-in"},
    {"in", "fully-in"},
    {"fixed", "fixed-head"},
    {"max-out", "travel"},
    {"quiet", "soft"},
    {"loud", "hard"},
    {"strong", "hard"},
    {"medium", "moderate"},
    {"normal", "moderate"},
    {"dynamics", "blown"},
    {"strengths", "blown"},
    {"min-length", "min-hold"},
    {"min-duration", "min-hold"},
    {"shortest", "min-hold"},
    {"hold", "min-hold"},
    {"weights", "weights-from"},
    {"melody", "weights-from"},
    {"melody", "against"},
    {"out", "drawn-out"},
    {"out", "output"},
    {"o", "output"},
    {"save", "output"},
    {"outfile", "output"},
    {"text", "format text"},
    {"json", "format json"},
    {"csv", "format csv"},
    {"jsonl", "format jsonl"},
    {"junit", "format junit"},
    {"xml", "format junit"},
    {"before", "after"},
    {"earlier", "after"},
    {"since", "after"},
    {"limit", "tolerance"},
    {"threshold", "tolerance"},
    {"out-by", "drawn-out"},
    {"in-by", "pushed-in"},
    {"same", "same-setting"},
    {"repeat", "same-setting"},
    {"unchanged", "same-setting"},
    {"scale-take", "against"},
    {"duration", "seconds"},
    {"length", "seconds"},
    {"time", "seconds"},
    {"ascending", "up-only"},
    {"up", "up-only"},
    {"force", "replace"},
    {"overwrite", "replace"},
    {"take", "from"},
    {"spread", "max-spread"},
    {"octave", "max-octave"},
    {"head-range", "head-out-range"},
    {"threads", "jobs"},
    {"cores", "jobs"},
    {"workers", "jobs"},
    {"parallel", "jobs"},
    {"j", "jobs"},
    {"continue", "resume"},
    {"go-on", "resume"},
    {"serial", "serial-from"},
    {"pattern", "serial-from"},
    {"table", "manifest"},
    {"check", "check-manifest"},
    {"dry-run", "check-manifest"},
    {"part", "shard"},
    {"group", "group-by"},
    {"by", "group-by"},
    {"reference-flute", "keeper"},
    {"v", "version"},
    {"usage", "help"},
};

constexpr Meaning command_meanings[] = {
    {"analyse", "measure"},    {"analyze", "measure"},      {"tune", "measure"},      {"scale", "measure"},
    {"record", "measure"},     {"verify", "check"},         {"test", "check"},        {"diff", "compare"},
    {"piano", "partner"},      {"melody", "playing"},       {"play", "playing"},      {"tone", "drone"},
    {"beep", "drone"},         {"plan", "protocol"},        {"exercise", "protocol"}, {"flutes", "instruments"},
    {"flute", "instruments"},  {"whistles", "instruments"}, {"bench", "batch"},       {"all", "batch"},
    {"statistics", "summary"}, {"stats", "summary"},        {"log", "history"},       {"usage", "help"},
};

bool has_word(const std::vector<std::string>& known, std::string_view word) {
  return std::ranges::find(known, word) != known.end();
}

/// The first meaning of the word that is among the known ones.
template <std::size_t n>
std::optional<std::string> by_meaning(const std::string& word, const std::vector<std::string>& known,
                                      const Meaning (&meanings)[n]) {
  for (const auto& [typed, meant] : meanings)
    if (typed == word && has_word(known, meant.substr(0, meant.find(' ')))) return std::string(meant);
  return std::nullopt;
}

std::string without_dashes(const std::string& option) {
  return option.substr(std::min(option.find_first_not_of('-'), option.size()));
}

/// Small letters, and hyphens for underscores.
std::string plain(std::string word) {
  for (char& letter : word)
    letter = letter == '_' ? '-' : static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
  return word;
}

}  // namespace

std::optional<std::string> option_meant(const std::string& option, const std::vector<std::string>& known) {
  const std::string word = plain(without_dashes(option));
  std::vector<std::string> names;
  for (const std::string& each : known) names.push_back(without_dashes(each));
  auto meant = has_word(names, word) ? std::optional(word) : by_meaning(word, names, option_meanings);
  if (!meant) meant = nearest_word(word, names);
  return meant ? std::optional("--" + *meant) : std::nullopt;
}

std::optional<std::string> command_meant(const std::string& word, const std::vector<std::string>& known) {
  const auto meant = by_meaning(plain(word), known, command_meanings);
  return meant ? meant : nearest_word(word, known);
}

}  // namespace windway::cli
