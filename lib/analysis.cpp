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
  PitchTracker tracker(recording, pitch_rules(settings.instrument, settings.a4_hz));
  PowerCurve power;
  std::vector<Hold> holds;
  while (const auto chapter = tracker.next_chapter()) {
    power.add(*chapter);
    std::ranges::move(holds_of_chapter(*chapter, settings.hold_rules), std::back_inserter(holds));
  }
  holds = in_range(without_faint(std::move(holds)), settings.instrument, settings.a4_hz);
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
  Naming naming = name_holds(holds, settings.instrument, settings.a4_hz);
  for (std::size_t i = 0; i < curves.size(); ++i) naming.holds[i].hold.curve = std::move(curves[i]);
  return naming;
}

}  // namespace

Measurement measure(const std::vector<std::string>& paths, const MeasureSettings& settings) {
  Measurement found;
  found.settings = settings;
  found.speed_of_sound_m_s = speed_of_sound_m_s(settings.air);

  std::vector<Hold> holds;
  for (std::size_t take = 0; take < paths.size(); ++take) {
    std::ranges::move(holds_of_take(paths[take], static_cast<int>(take), settings, found), std::back_inserter(holds));
  }
  found.naming = named(std::move(holds), settings);
  found.breath = measure_breath(found.naming, settings.blows);
  std::ranges::copy(found.naming.warnings, std::back_inserter(found.warnings));
  std::ranges::copy(found.breath.warnings, std::back_inserter(found.warnings));

  if (!found.breath.notes.empty()) {
    found.compromise = find_compromise(found.breath.notes, settings.head, settings.a4_hz, found.speed_of_sound_m_s,
                                       found.breath.repeat_db);
    std::ranges::copy(found.compromise->warnings, std::back_inserter(found.warnings));
  }
  return found;
}

}  // namespace windway
