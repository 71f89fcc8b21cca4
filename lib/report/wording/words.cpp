// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/words.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>

#include "report/wording/figures.hpp"
#include "report/wording/spelling.hpp"

namespace windway {
namespace {

struct NamedShare {
  double share;
  const char* name;
  const char* short_name;
};

constexpr std::array<NamedShare, 7> named_shares{{{0.1, "a little of the way", "a little"},
                                                  {0.25, "a quarter of the way", "1/4 way"},
                                                  {1.0 / 3, "a third of the way", "1/3 way"},
                                                  {0.5, "halfway", "halfway"},
                                                  {2.0 / 3, "two thirds of the way", "2/3 way"},
                                                  {0.75, "most of the way", "3/4 way"},
                                                  {1.0, "all the way", "fully"}}};

const NamedShare& nearest_share(double share) {
  return *std::ranges::min_element(named_shares, {},
                                   [share](const NamedShare& each) { return std::abs(each.share - share); });
}

/// Beats slower than this pass for none: nobody holds a note that long.
constexpr double slowest_beat_hz = 1.0 / 20;

/// More names than this in a sentence are counted, not listed.
constexpr std::size_t most_names_listed = 5;

std::vector<std::string> names_with(BreathAdvice advice, const std::vector<MovedNote>& notes,
                                    const std::vector<std::string>& names) {
  std::vector<std::string> chosen;
  for (std::size_t note = 0; note < notes.size(); ++note) {
    if (notes[note].breath == advice) chosen.push_back(names[note]);
  }
  return chosen;
}

std::string listed_or_counted(const std::vector<std::string>& chosen, std::size_t of_all) {
  if (chosen.size() == of_all) return "every note";
  if (chosen.size() <= most_names_listed) return list_in_words(chosen);
  return std::to_string(chosen.size()) + " of the " + std::to_string(of_all) + " notes";
}

}  // namespace

std::string share_in_words(double share) { return nearest_share(share).name; }

std::string beats_in_words(double beats_hz) {
  if (beats_hz < slowest_beat_hz) return "no beat that you can hear";
  if (beats_hz < 2.0 / 3) return "one beat in " + fixed(1.0 / beats_hz, 0) + " s";
  if (beats_hz < 1.25) return "one beat a second";
  if (beats_hz < 1.75) return "three beats in 2 s";
  return count_in_words(fixed(beats_hz, 0), "beat") + " a second";
}

std::string breath_in_words(const MovedNote& note) {
  const bool sharp = note.cents > 0;
  const std::string end = sharp ? "soft" : "hard";
  switch (note.breath) {
    case BreathAdvice::as_it_is:
      return "as it is";
    case BreathAdvice::out_of_reach:
      return "out of reach, even blown " + end;
    case BreathAdvice::softer:
    case BreathAdvice::harder:
      break;
  }
  std::string way = note.breath == BreathAdvice::softer ? "softer" : "harder";
  if (!note.breath_share) return way;
  return way + ", " + share_in_words(*note.breath_share) + " to " + end;
}

std::string breath_in_short(const MovedNote& note) {
  if (note.breath == BreathAdvice::as_it_is) return "as it is";
  if (note.breath == BreathAdvice::out_of_reach) return "out of reach";
  const std::string way = note.breath == BreathAdvice::softer ? "softer" : "harder";
  return note.breath_share ? way + ", " + nearest_share(*note.breath_share).short_name : way;
}

std::string deviation_in_words(double cents, double u95_cents) {
  const std::string size = fixed(std::abs(cents), places_deserved(u95_cents, 1));
  if (size.find_first_of("123456789") == std::string::npos) return "right in tune";
  return count_in_words(size, "cent") + (cents > 0 ? " sharp" : " flat");
}

std::string size_in_words(const CentsEstimate& estimate) {
  const int places = places_deserved(estimate.u95_cents, 1);
  return count_in_words(fixed(std::abs(estimate.cents), places), "cent") + " (" +
         plus_minus(estimate.u95_cents, places) + ")";
}

std::string capitalised(std::string words) {
  if (!words.empty()) words[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(words[0])));
  return words;
}

std::string list_in_words(const std::vector<std::string>& items) {
  std::string list;
  for (std::size_t item = 0; item < items.size(); ++item) {
    if (item > 0) list += item + 1 == items.size() ? " and " : ", ";
    list += items[item];
  }
  return list;
}

std::string targets_in_words(double stretch_cents_per_octave, const std::vector<NoteTarget>& targets,
                             const std::function<std::string(const NoteId&)>& spelt) {
  std::vector<std::string> notes;
  for (const NoteTarget& target : targets)
    notes.push_back(spelt(target.id) + " " + count_in_words(shortest(std::abs(target.cents)), "cent") +
                    (target.cents > 0 ? " sharp" : " flat"));
  const double stretch = stretch_cents_per_octave;
  if (notes.empty() && stretch == 0) return "";
  const std::string octaves = "octaves " + count_in_words(shortest(std::abs(stretch)), "cent") +
                              (stretch > 0 ? " wider" : " narrower") + " than pure, evenly from the lowest note up";
  return "The instrument file wants " + (stretch != 0 ? octaves : "") +
         (stretch != 0 && !notes.empty() ? "; also " : "") + list_in_words(notes) + ".";
}

std::string meant_in_words(double intended_cents) {
  if (intended_cents == 0) return "";
  return " (its target is " + count_in_words(fixed(std::abs(intended_cents), 1), "cent") +
         (intended_cents > 0 ? " sharp" : " flat") + " of the temperament)";
}

std::string a4_in_words(const MeasureSettings& settings) {
  const double a4_hz = settings.tuning.a4_hz;
  if (!settings.a4_u95_hz) return "A4 = " + shortest(a4_hz) + " Hz";
  const int places = places_deserved(*settings.a4_u95_hz, 2);
  return "A4 = " + fixed(a4_hz, places) + " Hz (" + plus_minus(*settings.a4_u95_hz, places) + ", as the partner plays)";
}

std::string instrument_in_words(const Measurement& measurement) {
  const Instrument& instrument = measurement.naming.instrument;
  const std::string lowest = spelt_for_people(instrument.lowest_midi, measurement);
  const std::string key = lowest.substr(0, lowest.find_first_of("-0123456789"));
  return instrument.name.value_or(kind_name(instrument.kind)) + " in " + key + " from " + lowest +
         (measurement.naming.inferred ? " (judged from the recording)" : "");
}

std::string breath_over_scale(const std::vector<MovedNote>& notes, const std::vector<std::string>& names,
                              const std::string& as_said) {
  const auto softer = names_with(BreathAdvice::softer, notes, names);
  const auto harder = names_with(BreathAdvice::harder, notes, names);
  const auto lost = names_with(BreathAdvice::out_of_reach, notes, names);
  std::vector<std::string> parts;
  if (!softer.empty()) parts.push_back("softer on " + listed_or_counted(softer, notes.size()));
  if (!harder.empty()) parts.push_back("harder on " + listed_or_counted(harder, notes.size()));
  std::string sentence = parts.empty() ? "" : "Blow " + list_in_words(parts) + ", " + as_said + ".";
  if (!lost.empty()) {
    sentence += (parts.empty() ? "" : " ") + std::string("The breath cannot bring ") +
                (lost.size() == notes.size() ? "any note" : listed_or_counted(lost, notes.size())) + " into tune.";
  }
  return sentence.empty() ? "Blow every note as you did." : sentence;
}

}  // namespace windway
