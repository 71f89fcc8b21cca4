// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/naming_warnings.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>

#include "scale/octave_slips.hpp"
#include "units/count_in_words.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

constexpr double doubtful_share = 0.15;  // of the holds outside the scale
constexpr std::size_t doubtful_holds = 3;
constexpr double doubtful_offset_cents = 65;
constexpr double doubtful_log_score = 8.0;

std::string rival(const std::vector<Hypothesis>& ranked) {
  const Hypothesis* other = rival_of_first(ranked);
  return other ? " (a " + described(other->model.instrument) + " fits nearly as well)" : "";
}

Warning instrument_inferred(const Naming& naming, const InstrumentHint& hint, const std::vector<Hypothesis>& ranked) {
  const std::string remedy = hint.kind ? "say --lowest" : hint.lowest ? "say --kind" : "say --kind and --lowest";
  return {WarningCode::instrument_inferred, "judged from the recording alone, the flute is a " +
                                                described(naming.instrument) + rival(ranked) + ". If it is another, " +
                                                remedy + "."};
}

Warning octave_inferred(const Naming& naming) {
  const std::string key = key_name(naming.instrument);
  return {WarningCode::octave_inferred, "the lowest note " + key + " was not played and is taken as " +
                                            spelt(naming.instrument.lowest_midi, naming.instrument) +
                                            ". If it sounds in another octave, give it with --lowest."};
}

std::set<int> played_notes(const Naming& naming) {
  std::set<int> played;
  for (const NamedHold& hold : naming.holds) played.insert(hold.note.midi);
  return played;
}

bool many_outside(const Naming& naming, std::size_t outside) {
  return outside >= doubtful_holds &&
         static_cast<double>(outside) > doubtful_share * static_cast<double>(naming.holds.size());
}

/// So far that the next key would fit.
bool far_off(const ScaleFit& fit) {
  return std::all_of(fit.offset_cents.begin(), fit.offset_cents.end(),
                     [](double cents) { return std::abs(cents) > doubtful_offset_cents; });
}

/// ", or with A4 at about 440 Hz like a whistle in D from D5": the reference pitch at which the one that was said fits
/// as well as the one that is heard; nothing where it is the same.
std::string at_another_a4(const Naming& naming, const Hypothesis& heard) {
  constexpr int furthest_semitones = 3;  // reference pitches in use lie within these
  const Instrument &said = naming.instrument, &its = heard.model.instrument;
  const int semitones = its.lowest_midi - said.lowest_midi;
  if (its.kind != said.kind || semitones == 0 || std::abs(semitones) > furthest_semitones) return "";
  const double cents = 100.0 * semitones + heard.fit.offset_cents.front();
  return ", or with A4 at about " + std::to_string(std::lround(hz_at_cents(naming.tuning.a4_hz, cents))) +
         " Hz like a " + described(said);
}

/// `heard`: what the same recording would be taken for if nothing had been said.
Warning scale_doubtful(const Naming& naming, std::size_t outside, const Hypothesis& heard) {
  std::string message = "the recording does not fit a " + described(naming.instrument);
  if (outside > 0)
    message += ": " + count_in_words(outside, "hold") + " of " + std::to_string(naming.holds.size()) +
               " would not be in its scale";
  if (heard.model.instrument.lowest_midi != naming.instrument.lowest_midi)
    message += "; it sounds like a " + described(heard.model.instrument) + at_another_a4(naming, heard);
  return {WarningCode::scale_doubtful,
          message +
              ". Check the kind, the lowest note, the reference pitch and the sample rate of "
              "the file (48 kHz marked as 44.1 kHz is 147 cents)."};
}

/// A run of the range of a whole instrument that never comes down to the lowest note. A tune in another key has less.
bool lowest_is_missing(const Naming& naming) {
  constexpr int whole_range_semitones = 21;
  const std::set<int> played = played_notes(naming);
  return *played.rbegin() - *played.begin() >= whole_range_semitones && !played.contains(naming.instrument.lowest_midi);
}

Warnings out_of_scale(const Naming& naming, const InstrumentHint& hint, const std::vector<Hypothesis>& ranked,
                      const std::vector<HeardTake>& takes) {
  std::map<int, std::size_t> holds_of;
  std::size_t outside = 0;
  for (const NamedHold& hold : naming.holds)
    if (!hold.in_scale) ++holds_of[hold.note.midi], ++outside;
  const ScaleFit& told = ranked.front().fit;
  const bool lowest_was_said = hint.instrument || hint.lowest;
  if (lowest_was_said && (many_outside(naming, outside) || far_off(told) || lowest_is_missing(naming))) {
    InstrumentHint nothing_said;
    nothing_said.note_names = naming.instrument.note_names;
    const Hypothesis heard = ranked_hypotheses(nothing_said, takes).front();
    if (many_outside(naming, outside) || heard.fit.log_score > told.log_score + doubtful_log_score)
      return {scale_doubtful(naming, outside, heard)};
  }
  Warnings warnings;
  for (const auto& [midi, holds] : holds_of)
    warnings.push_back({WarningCode::not_in_scale, spelt(midi, naming.instrument) + " (" +
                                                       count_in_words(holds, "hold") + ") is not in the scale of a " +
                                                       described(naming.instrument) +
                                                       ": it was left out when placing the head."});
  return warnings;
}

}  // namespace

Warnings naming_warnings(const Naming& naming, const InstrumentHint& hint, const std::vector<Hypothesis>& ranked,
                         const std::vector<HeardTake>& takes) {
  Warnings warnings;
  const std::set<int> played = played_notes(naming);
  if (naming.inferred) warnings.push_back(instrument_inferred(naming, hint, ranked));
  const bool octave_open = !hint.instrument && hint.lowest && !hint.lowest->octave;
  if (octave_open && !played.count(naming.instrument.lowest_midi)) warnings.push_back(octave_inferred(naming));
  if (played.size() == 1)
    warnings.push_back(
        {WarningCode::one_note_played, "only " + spelt(*played.begin(), naming.instrument) +
                                           " was played: for the whole scale, hold each of its notes, soft, "
                                           "moderate and hard."});
  const Warnings outside = out_of_scale(naming, hint, ranked, takes);
  warnings.insert(warnings.end(), outside.begin(), outside.end());
  const Warnings slipped = octave_slips(naming.holds, naming.instrument);
  warnings.insert(warnings.end(), slipped.begin(), slipped.end());
  return warnings;
}

}  // namespace windway
