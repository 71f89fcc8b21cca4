// SPDX-License-Identifier: GPL-3.0-or-later
#include "analysis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

#include "holds/hold_warnings.hpp"
#include "pitch/pitch_track.hpp"
#include "recording/input_file.hpp"
#include "scale/range.hpp"
#include "several_takes.hpp"

namespace windway {

namespace {

Error no_hold_error(const TakeInfo& take, const HoldRules& rules) {
  const std::string otherwise = fmt::format(
      "no held note is in it; hold each note steadily for a second or so (at least {} s), and switch off whatever "
      "filters voices or noise",
      rules.min_hold_s);
  return Error(ErrorKind::recording,
               fmt::format("cannot measure {}: {}", take_name(take.path), why_nothing(take, otherwise)));
}

/// The first half of the job, take by take: recording, pitch track, holds.
std::vector<Hold> holds_of_take(const std::string& path, int take, const MeasureSettings& settings,
                                Measurement& found) {
  Recording recording(path, settings.digest);
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
  std::ranges::move(hold_warnings(take_name(path), power, holds), std::back_inserter(found.warnings));
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

}  // namespace

Measurement measure(const std::vector<std::string>& paths, const MeasureSettings& settings) {
  Measurement found;
  found.settings = settings;
  const Air quoted_for = quoted_air(settings);
  found.speed_of_sound_m_s = speed_of_sound_m_s(quoted_for);

  if (const auto warning = air_warning(quoted_for)) found.warnings.push_back(*warning);
  std::vector<Hold> holds;
  for (std::size_t take = 0; take < paths.size(); ++take) {
    std::ranges::move(holds_of_take(paths[take], static_cast<int>(take), settings, found), std::back_inserter(holds));
  }
  found.naming = named(std::move(holds), settings);
  found.settings.tuning = found.naming.tuning;
  found.settings.head = known_head(settings.head, found.naming.instrument);
  const std::vector<TakeNotes> takes = brought_to_one_place(found);
  found.breath = measure_breath(found.naming, settings.blows);
  found.breath.notes = as_asked(std::move(found.breath.notes), settings);
  std::ranges::copy(found.naming.warnings, std::back_inserter(found.warnings));
  std::ranges::copy(found.breath.warnings, std::back_inserter(found.warnings));
  std::ranges::move(cold_take_warnings(found, takes), std::back_inserter(found.warnings));
  compare_takes(found, takes);

  if (!found.breath.notes.empty()) {
    found.compromise = compromise_of(found);
    std::ranges::copy(found.compromise->warnings, std::back_inserter(found.warnings));
  }
  return found;
}

}  // namespace windway
