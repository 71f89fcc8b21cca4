// SPDX-License-Identifier: GPL-3.0-or-later
#include "analysis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

#include "holds/hold_warnings.hpp"
#include "holds/source.hpp"
#include "input/input_file.hpp"
#include "pitch/pitch_track.hpp"
#include "rival_answer.hpp"
#include "scale/range.hpp"
#include "scale_in_two.hpp"
#include "several_takes.hpp"
#include "slide/slide_warnings.hpp"

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

constexpr std::size_t frames_a_point = 5;  // 50 ms: what a figure of the take can show

/// Leaves out of the holds what `keep` does not keep.
template <typename Keep>
BlownStretches without(BlownStretches blown, NotHeld why, Keep keep) {
  const std::vector<LeftOut> all = stretches_of(blown.holds, why);
  blown.holds = keep(std::move(blown.holds));
  std::ranges::move(left_out_of(all, blown.holds), std::back_inserter(blown.left_out));
  return blown;
}

/// The first half of the job, take by take: recording, pitch track, holds.
std::vector<Hold> holds_of_take(const std::string& path, int take, const MeasureSettings& settings,
                                Measurement& found) {
  Recording recording(path, settings.digest);
  PitchTracker tracker(recording, pitch_rules(settings.instrument, settings.tuning.a4_hz));
  PowerCurve power;
  BlownStretches blown;
  while (const auto chapter = tracker.next_chapter()) {
    power.add(*chapter);
    auto [held, left_out] = holds_of_chapter(*chapter, settings.hold_rules);
    std::ranges::move(held, std::back_inserter(blown.holds));
    std::ranges::move(left_out, std::back_inserter(blown.left_out));
  }
  blown = without(std::move(blown), NotHeld::too_faint, without_faint);
  auto [holds, left_out] = without(std::move(blown), NotHeld::out_of_range, [&](std::vector<Hold> all) {
    return in_range(std::move(all), settings.instrument, settings.tuning.a4_hz);
  });
  if (holds.empty()) throw no_hold_error(recording.info(), settings.hold_rules);
  for (Hold& hold : holds) hold.take = take;
  for (LeftOut& each : left_out) each.take = take;
  std::ranges::stable_sort(left_out, {}, &LeftOut::start_s);
  std::ranges::move(left_out, std::back_inserter(found.left_out));
  found.takes.push_back(recording.info());
  found.loudness.push_back(thinned(power, frames_a_point));
  std::ranges::move(hold_warnings(take_name(path), power, holds), std::back_inserter(found.warnings));
  std::ranges::move(source_warnings(take_name(path), holds), std::back_inserter(found.warnings));
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

/// How far a scale is off whose notes do not fit is not known.
Warnings warnings_of_move(const Measurement& found) {
  Warnings warnings = found.compromise->warnings;
  const bool all_fit = std::ranges::all_of(found.naming.holds, &NamedHold::in_scale);
  if (!all_fit && find_warning(found.warnings, WarningCode::scale_doubtful))
    std::erase_if(warnings, [](const Warning& warning) { return warning.code == WarningCode::scale_far_off; });
  return warnings;
}

/// The second half of the job: notes of a scale, breath response, compromise. `found` has settings and takes.
Measurement answered(Measurement found, std::vector<Hold> holds) {
  const MeasureSettings settings = found.settings;
  found.naming = named(std::move(holds), settings);
  found.settings.tuning = found.naming.tuning;
  found.settings.head = known_head(settings.head, found.naming.instrument);
  const std::vector<TakeNotes> takes = brought_to_one_place(found);
  found.breath = as_asked(measure_breath(found.naming, settings.blows), settings);
  std::ranges::copy(found.naming.warnings, std::back_inserter(found.warnings));
  std::ranges::copy(found.breath.warnings, std::back_inserter(found.warnings));
  std::ranges::move(cold_take_warnings(found, takes), std::back_inserter(found.warnings));
  compare_takes(found, takes);

  if (!found.breath.notes.empty()) {
    found.compromise = compromise_of(found);
    std::ranges::move(warnings_of_move(found), std::back_inserter(found.warnings));
    if (const auto warning = scale_in_two(found)) found.warnings.push_back(*warning);
  }
  return found;
}

/// The same holds as of the other instrument that explains them about as well.
Measurement as_of_rival(const Measurement& found, const MeasureSettings& settings) {
  Measurement rival;
  rival.settings = settings;
  rival.settings.instrument.instrument = *found.naming.rival;
  rival.speed_of_sound_m_s = found.speed_of_sound_m_s;
  rival.takes = found.takes;
  std::vector<Hold> holds;
  for (const NamedHold& named : found.naming.holds) holds.push_back(named.hold);
  return answered(std::move(rival), std::move(holds));
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
  refuse_same_sound(found.takes, holds);
  found = answered(std::move(found), std::move(holds));
  if (!found.naming.rival) return found;
  if (const auto warning = rival_warning(found, as_of_rival(found, settings))) found.warnings.push_back(*warning);
  return found;
}

Measurement retargeted(Measurement found, const MeasureSettings& settings) {
  found.settings = settings;
  Temperament& temperament = found.settings.tuning.temperament;
  if (temperament.name != TemperamentName::equal && !temperament.key_pitch_class)
    temperament.key_pitch_class = key_pitch_class(found.naming.instrument);
  found.naming.tuning = found.settings.tuning;
  for (NamedHold& named : found.naming.holds) {
    const double hz = target_hz(named.note, found.naming.instrument, found.settings.tuning);
    named.deviation_cents += cents_between(hz, named.target_hz);
    named.target_hz = hz;
  }
  for (NoteBreath& note : found.breath.notes) {
    const double hz = target_hz(note.id, found.naming.instrument, found.settings.tuning);
    note = shifted(std::move(note), cents_between(hz, note.target_hz));
    note.target_hz = hz;
  }
  if (found.agreement)  // what each take asked for was against the old targets
    for (TakeOffset& take : found.agreement->takes) take.slide_mm.reset(), take.slide_u95_mm.reset();
  if (found.breath.notes.empty()) return found;
  std::erase_if(found.warnings, [](const Warning& warning) { return is_of_the_head(warning.code); });
  found.compromise = compromise_of(found);
  std::ranges::move(warnings_of_move(found), std::back_inserter(found.warnings));
  return found;
}

}  // namespace windway
