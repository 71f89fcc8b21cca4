// SPDX-License-Identifier: GPL-3.0-or-later
#include "analysis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

#include "pitch/pitch_track.hpp"
#include "recording/input_file.hpp"
#include "scale/range.hpp"

namespace windway {

namespace {

Error no_hold_error(const TakeInfo& take, const HoldRules& rules) {
  constexpr double silent_peak = 0.003;  // - 50 dB full scale
  const std::string what =
      take.peak < silent_peak
          ? "the recording is silent or nearly so; move the microphone nearer or turn the recording level up"
          : fmt::format(
                "no held note is in it; hold each note steadily for a second or so (at least {} s), and switch "
                "off whatever filters voices or noise",
                rules.min_hold_s);
  return Error(ErrorKind::recording, fmt::format("cannot measure {}: {}", take_name(take.path), what));
}

std::optional<Warning> loud_background(const TakeInfo& take, const PowerCurve& power, const std::vector<Hold>& holds) {
  constexpr double least_headroom_db = 10.0;  // with less, notes as soft again are lost
  const auto headroom = headroom_db(power, holds);
  if (!headroom || *headroom >= least_headroom_db) return std::nullopt;
  return Warning{
      "loud_background",
      fmt::format("what sounds between the notes of {} is nearly as loud as the softest of them: softer blows "
                  "may be missing, and the others taken for them. Record nearer to the flute or in a quieter "
                  "place.",
                  take_name(take.path))};
}

std::optional<Warning> voice_filter(const TakeInfo& take, const std::vector<Hold>& holds) {
  constexpr std::size_t one_in = 10;  // holds; a filter that works on every note shows in most
  const auto turned_down = std::ranges::count_if(holds, &Hold::turned_down);
  if (turned_down < 2 || one_in * static_cast<std::size_t>(turned_down) < holds.size()) return std::nullopt;
  return Warning{
      "voice_filter",
      fmt::format("in {} of the {} held notes of {} the tone is turned down while it sounds on: a voice filter "
                  "takes it for noise, and their levels and lengths mean little. Switch off voice filters and "
                  "noise suppression and record again.",
                  turned_down, holds.size(), take_name(take.path))};
}

/// The first half of the job, take by take: recording, pitch track, holds.
std::vector<Hold> holds_of_take(const std::string& path, int take, const MeasureSettings& settings,
                                Measurement& found) {
  Recording recording(path);
  PitchTracker tracker(recording, pitch_rules(settings.instrument, settings.tuning.a4_hz));
  PowerCurve power;
  std::vector<Hold> holds;
  while (const auto chapter = tracker.next_chapter()) {
    power.add(*chapter);
    std::ranges::move(holds_of_chapter(*chapter, settings.hold_rules), std::back_inserter(holds));
  }
  holds = in_range(without_faint(std::move(holds)), settings.instrument, settings.tuning.a4_hz);
  if (holds.empty()) throw no_hold_error(recording.info(), settings.hold_rules);
  for (Hold& hold : holds) hold.take = take;
  found.takes.push_back(recording.info());
  if (const auto warning = loud_background(recording.info(), power, holds)) found.warnings.push_back(*warning);
  if (const auto warning = voice_filter(recording.info(), holds)) found.warnings.push_back(*warning);
  std::ranges::copy(recording.warnings(), std::back_inserter(found.warnings));
  return holds;
}

/// Names are found from the holds' means; of a long take the curves are most of the memory, so none is copied.
Naming named(std::vector<Hold> holds, const MeasureSettings& settings) {
  std::vector<std::vector<HoldPoint>> curves;
  for (Hold& hold : holds) curves.push_back(std::exchange(hold.curve, {}));
  Naming naming = name_holds(holds, settings.instrument, settings.tuning);
  for (std::size_t i = 0; i < curves.size(); ++i) naming.holds[i].hold.curve = std::move(curves[i]);
  return naming;
}

/// The notes with the weights that the player's music gives them; a note that it does not sound weighs nothing.
std::vector<NoteBreath> weighted(std::vector<NoteBreath> notes, const std::vector<NoteWeight>& weights) {
  if (weights.empty()) return notes;
  for (NoteBreath& note : notes) {
    const auto own = std::ranges::find(weights, note.midi, &NoteWeight::midi);
    note.weight = own == weights.end() ? 0.0 : own->weight;
  }
  return notes;
}

/// The notes as they would be at the temperature of the bore that they are to be quoted at.
std::vector<NoteBreath> quoted(std::vector<NoteBreath> notes, const Air& bore, const Air& quoted_for) {
  const double change_cents = air_change_cents(bore, quoted_for);
  for (NoteBreath& note : notes) {
    note.moderate.cents += change_cents;
    if (note.soft) note.soft->cents += change_cents;
    if (note.hard) note.hard->cents += change_cents;
  }
  return notes;
}

/// The head of the instrument, as far as its file tells and the call does not say otherwise.
Head known_head(Head head, const Instrument& instrument) {
  head.moves = head.moves && instrument.head_moves;
  if (!head.travel_mm) head.travel_mm = instrument.travel_mm;
  if (!head.factor) head.factor = instrument.slide_factor;
  return head;
}

Compromise compromise_of(const Measurement& found) {
  const MeasureSettings& settings = found.settings;
  const double a4_hz = settings.tuning.a4_hz;
  Compromise compromise =
      find_compromise(found.breath.notes, settings.head, a4_hz, found.speed_of_sound_m_s, found.breath.repeat_db);
  if (!settings.a4_u95_hz) return compromise;
  return with_doubtful_reference(std::move(compromise), cents_between(a4_hz, a4_hz + *settings.a4_u95_hz));
}

}  // namespace

Measurement measure(const std::vector<std::string>& paths, const MeasureSettings& settings) {
  Measurement found;
  found.settings = settings;
  Air quoted_for = settings.air;
  quoted_for.temperature_c = settings.quote_at_c.value_or(quoted_for.temperature_c);
  found.speed_of_sound_m_s = speed_of_sound_m_s(quoted_for);

  std::vector<Hold> holds;
  for (std::size_t take = 0; take < paths.size(); ++take) {
    std::ranges::move(holds_of_take(paths[take], static_cast<int>(take), settings, found), std::back_inserter(holds));
  }
  found.naming = named(std::move(holds), settings);
  found.settings.tuning = found.naming.tuning;
  found.settings.head = known_head(settings.head, found.naming.instrument);
  found.breath = measure_breath(found.naming, settings.blows);
  found.breath.notes = weighted(quoted(std::move(found.breath.notes), settings.air, quoted_for), settings.weights);
  std::ranges::copy(found.naming.warnings, std::back_inserter(found.warnings));
  std::ranges::copy(found.breath.warnings, std::back_inserter(found.warnings));

  if (!found.breath.notes.empty()) {
    found.compromise = compromise_of(found);
    std::ranges::copy(found.compromise->warnings, std::back_inserter(found.warnings));
  }
  return found;
}

}  // namespace windway
