// SPDX-License-Identifier: GPL-3.0-or-later
#include "instrument/instrument_names.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <utility>

#include "error.hpp"
#include "units/nearest_word.hpp"

namespace windway {
namespace {

// Sounding pitches; all names here are common practice, no source.
constexpr std::array<std::pair<const char*, int>, 10> recorder_sizes{{{"garklein", 84},
                                                                      {"sopranino", 77},
                                                                      {"descant", 72},
                                                                      {"soprano", 72},
                                                                      {"sopran", 72},
                                                                      {"treble", 65},
                                                                      {"alto", 65},
                                                                      {"alt", 65},
                                                                      {"tenor", 60},
                                                                      {"bass", 53}}};
constexpr std::array<const char*, 7> recorder_words{"recorder",    "recorders", "blockflute", "blockflöte",
                                                    "blockfloete", "flöte",     "floete"};
constexpr std::array<const char*, 7> whistle_words{"whistle",    "whistles",    "tinwhistle", "pennywhistle",
                                                   "blechflöte", "blechfloete", "flageolet"};
constexpr std::array<const char*, 4> low_words{"low", "tief", "tiefe", "tiefes"};
constexpr std::array<const char*, 4> high_words{"high", "hoch", "hohe", "hohes"};
constexpr std::array<const char*, 8> idle_words{"in", "key", "of", "tin", "penny", "the", "irish", "major"};
constexpr std::array<std::pair<const char*, const char*>, 5> german_keys{
    {{"es", "Eb"}, {"as", "Ab"}, {"des", "Db"}, {"fis", "F#"}, {"cis", "C#"}}};
constexpr int usual_whistles_from_midi = 69;  // A4; low ones are an octave below
constexpr int recorder_in_c_midi = 72;
constexpr int recorder_in_f_midi = 65;

template <typename Words>
bool is_one_of(const std::string& word, const Words& words) {
  return std::ranges::find(words, word) != words.end();
}

/// Small letters, also of Ö in UTF-8.
std::string lower_case(const std::string& name) {
  std::string lower;
  for (const char letter : name) {
    const bool is_umlaut = letter == '\x96' && lower.ends_with('\xC3');
    lower += is_umlaut ? '\xB6' : static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
  }
  return lower;
}

/// "altblockflöte" is two words; others are one.
std::vector<std::string> parts_of(const std::string& word) {
  for (const auto& [size, midi] : recorder_sizes)
    if (word.starts_with(size) && is_one_of(word.substr(std::string(size).size()), recorder_words))
      return {size, word.substr(std::string(size).size())};
  return {word};
}

std::vector<std::string> words_of(const std::string& name) {
  constexpr auto gaps = " -_,()\t";
  const std::string lower = lower_case(name);
  std::vector<std::string> words;
  for (std::size_t at = lower.find_first_not_of(gaps); at != std::string::npos;
       at = lower.find_first_not_of(gaps, at)) {
    const std::size_t end = std::min(lower.find_first_of(gaps, at), lower.size());
    for (std::string& part : parts_of(lower.substr(at, end - at))) {
      // "B flat" is one key.
      const bool is_sign = (part == "flat" || part == "sharp") && !words.empty() && words.back().size() == 1;
      is_sign ? void(words.back() += part == "flat" ? 'b' : '#') : words.push_back(std::move(part));
    }
    at = end;
  }
  return words;
}

/// A key as a name has it: "d", "bb", "d5", "es".
std::optional<WrittenNote> key_in(const std::string& word) {
  const auto german = std::ranges::find_if(german_keys, [&](const auto& each) { return word == each.first; });
  try {
    return parse_note(german == german_keys.end() ? word : german->second, NoteNames::english);
  } catch (const Error&) {
    return std::nullopt;
  }
}

/// What the words of a name say.
struct Said {
  std::optional<Kind> kind;
  std::optional<int> size_midi;  ///< of a recorder by its size
  std::optional<WrittenNote> key;
  bool low = false;
  bool high = false;
  bool strange = false;  ///< a word that says nothing here
};

Said said_by(const std::vector<std::string>& words) {
  Said said;
  for (const std::string& word : words) {
    const auto size = std::ranges::find_if(recorder_sizes, [&](const auto& each) { return word == each.first; });
    if (is_one_of(word, recorder_words)) {
      said.kind = Kind::recorder;
    } else if (is_one_of(word, whistle_words)) {
      said.kind = Kind::whistle;
    } else if (size != recorder_sizes.end()) {
      said.strange |= said.size_midi.has_value();
      said.size_midi = size->second;
    } else if (is_one_of(word, low_words)) {
      said.low = true;
    } else if (is_one_of(word, high_words)) {
      said.high = true;
    } else if (!is_one_of(word, idle_words)) {
      const auto key = key_in(word);
      said.strange |= !key || said.key;  // two keys say neither
      said.key = key;
    }
  }
  return said;
}

/// Names of one instrument each, to suggest.
std::vector<std::string> names_to_suggest() {
  std::vector<std::string> names;
  for (const NamedInstrument& each : builtin_instruments()) names.push_back(each.name);
  for (const auto& [size, midi] : recorder_sizes) names.emplace_back(size);
  for (const char* name : {"descant recorder", "treble recorder"}) names.emplace_back(name);
  return names;
}

std::optional<int> lowest_of_whistle(const Said& said) {
  if (!said.key) return std::nullopt;
  if (said.key->octave) return midi_of(*said.key);
  const int from = usual_whistles_from_midi - (said.low ? 12 : 0);
  return from + (said.key->pitch_class - from % 12 + 12) % 12;
}

std::optional<int> lowest_of_recorder(const Said& said) {
  if (said.key && said.key->octave) return midi_of(*said.key);
  if (!said.key) return said.size_midi;
  if (!said.size_midi) {
    if (said.key->pitch_class == 0) return recorder_in_c_midi;
    return said.key->pitch_class == 5 ? std::optional(recorder_in_f_midi) : std::nullopt;
  }
  // A size in another key than its usual one: the nearest to it.
  const int up = (said.key->pitch_class - *said.size_midi % 12 + 12) % 12;
  return *said.size_midi + (up > 6 ? up - 12 : up);
}

}  // namespace

const std::vector<NamedInstrument>& builtin_instruments() {
  static const std::vector<NamedInstrument> all = [] {
    std::vector<NamedInstrument> list;
    for (const char* key : {"C", "D", "Eb", "E", "F", "G"}) {
      const std::string name = std::string("low ") + key + " whistle";
      list.push_back({name, Kind::whistle, instrument_called(name)->lowest_midi});
    }
    for (const char* key : {"A", "Bb", "B", "C", "D", "Eb", "E", "F", "G"}) {
      const std::string name = std::string(key) + " whistle";
      list.push_back({name, Kind::whistle, instrument_called(name)->lowest_midi});
    }
    for (const char* size : {"bass", "tenor", "alto", "soprano", "sopranino", "garklein"})
      list.push_back({std::string(size) + " recorder", Kind::recorder, instrument_called(size)->lowest_midi});
    return list;
  }();
  return all;
}

std::optional<Instrument> instrument_called(const std::string& name) {
  const Said said = said_by(words_of(name));
  const bool is_recorder = said.kind ? said.kind == Kind::recorder : said.size_midi.has_value();
  if (said.strange || (said.low && said.high) || (!said.kind && !said.size_midi)) return std::nullopt;
  const auto lowest_midi = is_recorder ? lowest_of_recorder(said) : lowest_of_whistle(said);
  if (!lowest_midi || (is_recorder && (said.low || said.high)) || (!is_recorder && said.size_midi)) return std::nullopt;
  return builtin_instrument(is_recorder ? Kind::recorder : Kind::whistle, *lowest_midi);
}

std::string remedy_for_name(const std::string& name) {
  std::string all = "windway instruments list shows the names";
  const Said said = said_by(words_of(name));
  if (said.strange) {
    const auto meant = nearest_word(name, names_to_suggest());
    return meant ? "did you mean '" + *meant + "'? " + all : all;
  }
  if (said.kind == Kind::whistle && !said.key)
    return "a whistle in which key? As in 'D whistle', 'low D whistle'; " + all;
  if (said.kind == Kind::recorder) return "a recorder of which size? As in 'descant', 'treble', 'alto in G'; " + all;
  if (said.key && !said.kind) return "a whistle or a recorder? As in 'D whistle'; " + all;
  return all;
}

}  // namespace windway
