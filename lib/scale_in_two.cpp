// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale_in_two.hpp"

#include <fmt/format.h>

#include <cmath>

#include "instrument/note.hpp"
#include "slide/head_step.hpp"
#include "statistics/moments.hpp"

namespace windway {
namespace {

double mean_time_s(const Naming& naming, const NoteId& note) {
  Moments times_s;
  for (const NamedHold& named : naming.holds)
    if (named.note == note) add(times_s, 0.5 * (named.hold.start_s + named.hold.end_s));
  return times_s.mean;
}

std::vector<TimedNote> timed_notes(const Measurement& found) {
  std::vector<TimedNote> notes;
  for (std::size_t i = 0; i < found.breath.notes.size(); ++i) {
    const NoteBreath& note = found.breath.notes[i];
    notes.push_back(
        {note.id, mean_time_s(found.naming, note.id), note.moderate.cents, found.compromise->notes[i].cents_per_mm});
  }
  return notes;
}

}  // namespace

std::optional<Warning> scale_in_two(const Measurement& found) {
  const bool is_told_by_repeats = found.breath.drift.has_value();
  if (found.takes.size() != 1 || !found.compromise || is_told_by_repeats) return std::nullopt;
  const auto step = find_head_step(timed_notes(found));
  if (!step) return std::nullopt;
  return Warning{WarningCode::scale_in_two,
                 fmt::format("the notes from {} on, and those before, differ as if the head had been {} by {:.1f} mm "
                             "there. Did it move? Then record again. If not, the flute is so, and no place of the head "
                             "suits both parts.",
                             spelt(step->first.midi, found.naming.instrument),
                             step->slide_mm > 0 ? "drawn out" : "pushed in", std::abs(step->slide_mm))};
}

}  // namespace windway
