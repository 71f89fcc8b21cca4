// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/figures/player_figures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "report/page/marks.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/spelling.hpp"

namespace windway {
namespace {

constexpr double least_width_cents = 20;

/// A note's reach about its moderate blow, as far as it was measured.
struct Reach {
  double soft_cents = 0, moderate_cents = 0, hard_cents = 0;
  bool is_known = false;
};

/// `moderate_cents` is against the target that the figure counts from; the reach is the take's own.
Reach reach_of(const std::vector<NoteBreath>& notes, const NoteId& id, double moderate_cents) {
  const auto note = std::ranges::find(notes, id, &NoteBreath::id);
  if (note == notes.end() || !note->soft || !note->hard) return {moderate_cents, moderate_cents, moderate_cents, false};
  return {moderate_cents + note->soft->cents - note->moderate.cents, moderate_cents,
          moderate_cents + note->hard->cents - note->moderate.cents, true};
}

bool is_overblown(const std::vector<NoteBreath>& notes, const NoteId& id) {
  const auto note = std::ranges::find(notes, id, &NoteBreath::id);
  return note != notes.end() && note->register_number > 1;
}

/// A reach at a height of the row; a note without one has its moderate blow alone.
Markup reach_at(const Axis& axis, const Reach& reach, double top_px, double height_px, bool overblown) {
  const Markup drawn =
      (reach.is_known ? wedge(axis, reach.soft_cents, reach.hard_cents, height_px, {overblown, false}) : Markup()) +
      notch(axis, reach.moderate_cents, height_px);
  return element("svg", {{"y", top_px}, {"width", "100%"}, {"height", height_px}}, drawn);
}

/// Both reaches of one note.
struct ComparedNote {
  const NoteChange* change = nullptr;
  Reach before, after;
  bool is_overblown = false;
};

FigureRow compared_row(const ComparedNote& note, const std::string& name, const Axis& axis) {
  constexpr double row_px = 38, half_px = 18;
  const Markup drawn = grid_lines(axis, most_ticks_across, row_px) + upright(axis, 0, row_px, "zero") +
                       reach_at(axis, note.before, 0, half_px, note.is_overblown) +
                       reach_at(axis, note.after, half_px, half_px, note.is_overblown);
  return {name, drawn, row_px,
          fmt::format("moderately blown {} cents before, {} after", signed_fixed(note.before.moderate_cents, 1),
                      signed_fixed(note.after.moderate_cents, 1)),
          signed_with_u95(note.change->change.cents, note.change->change.u95_cents) +
              (note.change->is_real ? "" : ", not sure")};
}

/// What a note of the scale take can do, as far as it was measured.
std::optional<Reach> played_reach(const PlayedPitch& note) {
  if (!note.moderate_cents) return std::nullopt;
  const bool is_known = note.reach_soft_cents && note.reach_hard_cents;
  return Reach{*note.moderate_cents - note.reach_soft_cents.value_or(0), *note.moderate_cents,
               *note.moderate_cents + note.reach_hard_cents.value_or(0), is_known};
}

FigureRow played_row(const PlayedPitch& note, const MovedNote* moved, const std::string& name, const Axis& axis,
                     bool head_moves) {
  constexpr double row_px = 34, wedge_px = 18, heard_px = 27;
  Markup drawn = grid_lines(axis, most_ticks_across, row_px) + upright(axis, 0, row_px, "zero");
  if (const auto reach = played_reach(note)) drawn += reach_at(axis, *reach, 0, wedge_px, note.register_number > 1);
  if (moved != nullptr && head_moves) drawn += upright(axis, note.median.cents - moved->cents, row_px, "move");
  drawn += interval(axis, note.lower_quartile_cents, note.upper_quartile_cents, heard_px) +
           dot(axis.percent(note.median.cents), heard_px, "reach");
  return {name, drawn, row_px,
          fmt::format("median {} cents, half of the time from {} to {}", signed_fixed(note.median.cents, 1),
                      signed_fixed(note.lower_quartile_cents, 0), signed_fixed(note.upper_quartile_cents, 0)),
          signed_with_u95(note.median.cents, note.median.u95_cents)};
}

/// The further move's word on each played note; null where it is not in the scale.
std::vector<const MovedNote*> moved_notes(const Playing& playing) {
  std::vector<const MovedNote*> moved;
  std::size_t in_scale = 0;
  for (const PlayedPitch& note : playing.notes)
    moved.push_back(note.in_scale && playing.further ? &playing.further->notes[in_scale++] : nullptr);
  return moved;
}

Axis played_axis(const Playing& playing) {
  std::vector<double> values;
  for (const PlayedPitch& note : playing.notes) {
    values.insert(values.end(), {note.lower_quartile_cents, note.upper_quartile_cents, note.median.cents});
    if (const auto reach = played_reach(note)) values.insert(values.end(), {reach->soft_cents, reach->hard_cents});
  }
  return axis_over(values, least_width_cents);
}

}  // namespace

RowsFigure compare_figure(const Comparison& comparison, const Measurement& before, const Measurement& after) {
  std::vector<ComparedNote> notes;
  std::vector<double> values;
  for (const NoteChange& change : comparison.notes) {
    notes.push_back({&change, reach_of(before.breath.notes, change.note, change.before.cents),
                     reach_of(after.breath.notes, change.note, change.after.cents),
                     is_overblown(before.breath.notes, change.note)});
    for (const Reach& reach : {notes.back().before, notes.back().after})
      values.insert(values.end(), {reach.soft_cents, reach.hard_cents});
  }
  const Axis axis = axis_over(values, least_width_cents);
  RowsFigure figure;
  figure.id = "change";
  figure.title = "Before and after";
  figure.sentences = {"The upper wedge of each note is before, the lower one after."};
  figure.keys = {wedge_key({}, "from soft to hard, notch moderate; hollow: overblown"), upright_key("zero", "in tune")};
  figure.axis_name = "cents from the target of the take before: − flat, + sharp";
  figure.axis = axis_row(axis, most_ticks_across);
  figure.words_name = "change, moderate";
  for (const ComparedNote& note : notes)
    figure.rows.push_back(compared_row(note, spelt_for_people(note.change->note, before), axis));
  return figure;
}

RowsFigure playing_figure(const Playing& playing) {
  const std::vector<const MovedNote*> moved = moved_notes(playing);
  const Axis axis = played_axis(playing);
  const bool is_doubtful = std::ranges::any_of(playing.warnings, is_deep_doubt, &Warning::code);
  const bool head_moves = playing.further && playing.further->slide_mm != 0 && !is_doubtful;
  RowsFigure figure;
  figure.id = "played";
  figure.title = "How each note comes out in playing";
  if (playing.has_scale_take)
    figure.keys.push_back(wedge_key({}, "in the scale take, from soft to hard, notch moderate; hollow: overblown"));
  figure.keys.push_back({interval({0, 1}, 0.05, 0.95, key_middle_px) + dot(50, key_middle_px, "reach"), 46,
                         "in playing: the note is within the bar half of the time; the dot is the median"});
  figure.keys.push_back(upright_key("zero", "in tune as it stands"));
  if (head_moves) figure.keys.push_back(upright_key("move", "in tune after the further move of the head"));
  figure.axis_name = "cents from the target: − flat, + sharp";
  figure.axis = axis_row(axis, most_ticks_across);
  figure.words_name = "median";
  for (std::size_t at = 0; at < playing.notes.size(); ++at)
    figure.rows.push_back(
        played_row(playing.notes[at], moved[at], spelt(playing.notes[at].midi, playing.instrument), axis, head_moves));
  return figure;
}

}  // namespace windway
