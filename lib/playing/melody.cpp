// SPDX-License-Identifier: GPL-3.0-or-later
#include "playing/melody.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "segmentation/segmentation.hpp"
#include "segmentation/steady.hpp"
#include "units/order_statistics.hpp"

namespace windway {
namespace {

constexpr double shortest_note_s = 0.08;     // grace notes, cuts and taps last 40 to 60 ms
constexpr double fall_sd_db_per_s = 100.0;   // a slope is read over as long as a short note lasts, release and all
constexpr double tenth_of_power_db = -10.0;  // from where to where a note sounds; what is softer is its echo
constexpr double faint_under_db = 30.0;      // a melody's softest notes stand nearer to its usual ones

std::vector<double> within(const FrameSeries& series, const Piece& piece, const auto& value) {
  std::vector<double> values;
  for (const FrameSpan& span : piece.spans)
    for (std::size_t i = span.first; i <= span.last; ++i)
      if (series.cents[i]) values.push_back(value(i));
  return values;
}

/// A span without the frames whose window reaches over its ends; of a short one its middle.
FrameSpan unsmeared(const FrameSpan& span, std::size_t window_frames) {
  const std::size_t margin = std::min((window_frames + 1) / 2, (span.frames() - 1) / 3);
  return {span.first + margin, span.last - margin};
}

/// From the change points of attack and release. Where a third and more of the note should be its attack, it is none:
/// the same note blown twice, or one too short to tell.
std::vector<FrameSpan> steady_spans(const FrameSeries& series, const Piece& piece) {
  const auto part = steady_part(series, piece);
  if (part && part->spans.front().first - piece.first() < piece.spans.front().frames() / 3) return part->spans;
  std::vector<FrameSpan> spans;
  for (const FrameSpan& span : piece.spans) spans.push_back(unsmeared(span, series.frames_in(series.window_s)));
  return spans;
}

std::optional<MelodyNote> note_of(const PitchTrack& track, const FrameSeries& series, const Piece& piece) {
  MelodyNote note;
  note.start_s = track.time_s(piece.first());
  note.end_s = track.time_s(piece.last());
  note.cents = *median_of(within(series, piece, [&](std::size_t i) { return *series.cents[i]; }));
  note.level_db = *median_of(within(series, piece, [&](std::size_t i) { return series.level_db[i]; }));
  const auto sounds = [&](std::size_t i) {
    return series.cents[i] && std::abs(*series.cents[i] - note.cents) < half_semitone_cents &&
           series.level_db[i] > note.level_db + tenth_of_power_db;
  };
  for (const FrameSpan& span : piece.spans)
    for (std::size_t i = span.first; i <= span.last; ++i) note.sounded_s += sounds(i) ? series.hop_s : 0.0;
  for (const FrameSpan& span : steady_spans(series, piece)) {
    for (std::size_t i = span.first; i <= span.last; ++i) {
      if (!sounds(i)) continue;
      const double at_s = track.time_s(i) - note.start_s;
      note.steady.push_back({static_cast<float>(at_s), static_cast<float>(*series.cents[i])});
    }
  }
  return note.steady.empty() ? std::nullopt : std::optional(std::move(note));
}

/// The segmentation's parameters that differ from those of held notes: a melody begins and changes its notes more
/// often, what interrupts one is sooner a note itself, and slopes tell less.
SegmentationModel melody_model() {
  SegmentationModel model;
  model.shortest_blow_s = shortest_note_s;
  model.pitch_sd_cents = 18.0;
  model.fall_sd_db_per_s = model.noise_fall_sd_db_per_s = model.echo_fall_sd_db_per_s = fall_sd_db_per_s;
  model.begin = 5.0;
  model.change = 12.6;
  model.bend = 5.6;
  model.interrupt = 8.0;
  return model;
}

}  // namespace

void Melody::add(const PitchTrack& chapter) {
  const FrameSeries series = series_of(chapter);
  const auto tonal = std::ranges::count_if(series.cents, [](const auto& cents) { return cents.has_value(); });
  tonal_s += static_cast<double>(tonal) * series.hop_s;
  for (const Piece& piece : find_pieces(series, melody_model()))
    if (auto note = note_of(chapter, series, piece)) notes.push_back(std::move(*note));
}

Melody without_faint(Melody melody) {
  std::vector<double> levels_db;
  for (const MelodyNote& note : melody.notes) levels_db.push_back(note.level_db);
  const auto usual_db = median_of(std::move(levels_db));
  std::erase_if(melody.notes, [&](const MelodyNote& note) { return note.level_db < *usual_db - faint_under_db; });
  return melody;
}

}  // namespace windway
