// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/instrument_names.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <utility>

#include "error.hpp"

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
constexpr std::array<const char*, 4> recorder_words{"recorder", "blockflute", "blockflöte", "blockfloete"};
constexpr std::array<const char*, 4> whistle_words{"whistle", "tinwhistle", "pennywhistle", "flageolet"};
constexpr std::array<const char*, 6> idle_words{"in", "key", "of", "tin", "penny", "the"};
constexpr int usual_whistles_from_midi = 69;  // A4; low ones are an octave below
constexpr int recorder_in_c_midi = 72;
constexpr int recorder_in_f_midi = 65;

template <typename Words>
bool is_one_of(const std::string& word, const Words& words) {
  return std::ranges::find(words, word) != words.end();
}

std::vector<std::string> words_of(const std::string& name) {
  std::vector<std::string> words(1);
  for (const char letter : name) {
    if (letter == ' ' || letter == '-' || letter == '_' || letter == ',') {
      if (!words.back().empty()) words.emplace_back();
    } else {
      words.back() += static_cast<char>(std::tolower(static_cast<unsigned char>(letter)));
    }
  }
  if (words.back().empty()) words.pop_back();
  return words;
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
    if (is_one_of(word, recorder_words))
      said.kind = Kind::recorder;
    else if (is_one_of(word, whistle_words))
      said.kind = Kind::whistle;
    else if (size != recorder_sizes.end())
      said.size_midi = size->second;
    else if (word == "low")
      said.low = true;
    else if (word == "high")
      said.high = true;
    else if (is_one_of(word, idle_words))
      continue;
    else {
      try {
        said.key = parse_note(word, NoteNames::english);
      } catch (const Error&) {
        said.strange = true;
      }
    }
  }
  return said;
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
    for (const char* key : {"D", "Eb", "E", "F", "G"}) {
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

}  // namespace windway
