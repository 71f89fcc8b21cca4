// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/figures/measurement_figures.hpp"
#include "report/page/marks.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

constexpr double head_row_px = 24.0;
constexpr double effort_px = 66.0;
constexpr double least_width_mm = 1.0;

double on_axis(const Pictured& picture, double slide_mm) { return picture.at_mm + slide_mm; }
double line_mm(const Pictured& picture) { return on_axis(picture, picture.compromise->slide_mm); }

Axis places_axis(const Pictured& picture) {
  const double u95_mm = slide_u95_mm(*picture.compromise);
  std::vector<double> places{line_mm(picture) - u95_mm, line_mm(picture) + u95_mm};
  if (!picture.is_out_of_fully_in) places.push_back(0);
  for (const PicturedNote& note : picture.notes) {
    places.push_back(on_axis(picture, note.true_mm.soft_mm));
    places.push_back(on_axis(picture, note.true_mm.hard_mm));
  }
  const auto [least, most] = std::ranges::minmax_element(places);
  const double middle = 0.5 * (*least + *most), half = std::max(0.53 * (*most - *least), least_width_mm / 2);
  const double shortest_mm =
      std::ranges::min_element(picture.found, {}, &SlideNote::effective_length_mm)->effective_length_mm;
  return {std::max(middle - half, on_axis(picture, -shortest_mm / 2)), middle + half};
}

/// What lies behind every row: where the head cannot go, the figures' lines, the best place, where the head was.
Markup behind(const Pictured& picture, const Axis& axis, double height_px) {
  const double u95_mm = slide_u95_mm(*picture.compromise);
  Markup drawn;
  if (picture.fully_in_mm) drawn += band(axis, axis.least, *picture.fully_in_mm, height_px, "beyond");
  if (picture.end_mm) drawn += band(axis, *picture.end_mm, axis.most, height_px, "beyond");
  drawn += grid_lines(axis, most_ticks_across, height_px);
  drawn += band(axis, line_mm(picture) - u95_mm, line_mm(picture) + u95_mm, height_px, "band");
  if (!picture.is_out_of_fully_in) drawn += upright(axis, 0, height_px, "was");
  return drawn;
}

std::string place_in_words(double mm) { return signed_fixed(mm, 1); }

std::string row_in_words(const Pictured& picture, const PicturedNote& note) {
  const auto& [soft_mm, moderate_mm, hard_mm] = note.true_mm;
  return fmt::format("in tune when blown soft at {} mm, moderately at {}, hard at {}{}",
                     place_in_words(on_axis(picture, soft_mm)), place_in_words(on_axis(picture, moderate_mm)),
                     place_in_words(on_axis(picture, hard_mm)), reach_doubt_in_words(note));
}

FigureRow note_row(const Pictured& picture, const PicturedNote& note, const Axis& axis) {
  const WedgeLook look{note.is_overblown, note.is_assumed};
  const Markup drawn =
      behind(picture, axis, head_row_px) +
      wedge(axis, on_axis(picture, note.true_mm.soft_mm), on_axis(picture, note.true_mm.hard_mm), head_row_px, look) +
      notch(axis, on_axis(picture, note.true_mm.moderate_mm), head_row_px) +
      upright(axis, line_mm(picture), head_row_px, "move");
  return {note.name, drawn, head_row_px, row_in_words(picture, note), breath_in_words(*note.moved)};
}

/// The cost of the whole scale over the places, the least one marked.
Markup effort_curve(const Pictured& picture, const Axis& axis) {
  constexpr int points = 81;
  constexpr double top_px = 6, bottom_px = 6;
  const auto curve = cost_curve(picture.found, axis.least - picture.at_mm, axis.most - picture.at_mm, points);
  const double most = std::ranges::max_element(curve, {}, &PlaceCost::cost)->cost;
  const auto y_px = [&](double cost) {
    return effort_px - bottom_px - (effort_px - top_px - bottom_px) * cost / std::max(most, 1e-9);
  };
  std::vector<Place> places;
  for (const PlaceCost& each : curve)
    places.push_back({axis.percent(on_axis(picture, each.slide_mm)), y_px(each.cost)});
  const Markup line =
      stretched({{"width", "100%"}}, effort_px, leaf("path", {{"class", "curve"}, {"d", path_through(places)}}));
  return line + upright(axis, line_mm(picture), effort_px, "move") +
         dot(axis.percent(line_mm(picture)), y_px(mean_cost(picture.found, picture.compromise->slide_mm)));
}

FigureRow effort_row(const Pictured& picture, const Axis& axis) {
  const Compromise& compromise = *picture.compromise;
  const std::string from_to = fixed(compromise.cost_before, 2) + " → " + fixed(compromise.cost_after, 2);
  const std::string words = "whole scale " + from_to + (compromise.limit ? "" : ": least here");
  return {
      "effort", behind(picture, axis, effort_px) + effort_curve(picture, axis), effort_px,
      fmt::format("effort of the whole scale: {} {} and {} at the line", fixed(compromise.cost_before, 2),
                  picture.is_out_of_fully_in ? fmt::format("{} mm out", fixed(picture.at_mm, 1)) : "where the head was",
                  fixed(compromise.cost_after, 2)),
      words};
}

std::string how_to_read(const Pictured& picture) {
  return std::string("The place where the line cuts a wedge shows how hard to blow that note.") +
         (any_reach_measured(picture) ? " If the line misses a wedge, you did not blow that note so far."
                                      : " How far the breath bends the notes was not measured.");
}

RowsFigure places_figure(const Pictured& picture) {
  const Axis axis = places_axis(picture);
  RowsFigure figure;
  figure.id = "head";
  figure.title = "Where the head puts each note in tune";
  figure.sentences = {how_to_read(picture) +
                      " The curve below shows how hard it is to blow the whole scale in tune: lower is easier."};
  if (!picture.is_told && !picture.compromise->limit)
    figure.sentences.emplace_back(
        "This recording cannot show whether the best place is elsewhere than where the head was.");
  figure.keys = wedge_keys(picture);
  figure.keys.push_back({band({0, 1}, 0.2, 0.8, key_px, "band") + upright({0, 1}, 0.5, key_px, "move"), 16,
                         picture.compromise->limit ? "as near to the best place as the head goes"
                                                   : "the best place, and how surely it is known"});
  if (!picture.is_out_of_fully_in) figure.keys.push_back(upright_key("was", "where the head was"));
  if ((picture.fully_in_mm && *picture.fully_in_mm > axis.least) || (picture.end_mm && *picture.end_mm < axis.most))
    figure.keys.push_back(band_key("beyond", "where it cannot go"));
  figure.axis_name = picture.is_out_of_fully_in ? "how far the head is drawn out, mm"
                                                : "the head, mm from where it was recorded: − in, + out";
  figure.axis = axis_row(axis, most_ticks_across);
  figure.words_name = "then blow";
  figure.words_stay_on_phone = false;
  for (const PicturedNote& note : picture.notes) figure.rows.push_back(note_row(picture, note, axis));
  figure.rows.push_back(effort_row(picture, axis));
  return figure;
}

/// Of a fixed head: how far each note can be bent, in cents, and whether "in tune" lies in it.
FigureRow fixed_row(const PicturedNote& note, const Axis& axis, double home_cents) {
  const SlideNote& found = note.found;
  const double soft = found.moderate_cents - found.reach_soft_cents,
               hard = found.moderate_cents + found.reach_hard_cents;
  const Markup drawn = grid_lines(axis, most_ticks_across, head_row_px) +
                       upright(axis, home_cents, head_row_px, "was") +
                       wedge(axis, soft, hard, head_row_px, {note.is_overblown, note.is_assumed}) +
                       notch(axis, found.moderate_cents, head_row_px) + upright(axis, 0, head_row_px, "move");
  return {note.name, drawn, head_row_px,
          fmt::format("soft {} cents, moderately {}, hard {}{}", signed_fixed(soft, 0),
                      signed_fixed(found.moderate_cents, 0), signed_fixed(hard, 0), reach_doubt_in_words(note)),
          breath_in_words(*note.moved)};
}

RowsFigure fixed_head_figure(const Pictured& picture) {
  const double home_cents = picture.home_cents;
  std::vector<double> values{home_cents};
  for (const PicturedNote& note : picture.notes) {
    values.push_back(note.found.moderate_cents - note.found.reach_soft_cents);
    values.push_back(note.found.moderate_cents + note.found.reach_hard_cents);
  }
  constexpr double least_width_cents = 20;
  const Axis axis = axis_over(values, least_width_cents);
  RowsFigure figure;
  figure.id = "head";
  figure.title = "Where each note can be blown";
  figure.sentences = {how_to_read(picture)};
  figure.keys = wedge_keys(picture);
  figure.keys.push_back(upright_key("move", "in tune", 16));
  figure.keys.push_back(upright_key("was", "where the whole scale is at home"));
  figure.axis_name = "cents from the target: − flat, + sharp";
  figure.axis = axis_row(axis, most_ticks_across);
  figure.words_name = "blow";
  figure.words_stay_on_phone = false;
  for (const PicturedNote& note : picture.notes) figure.rows.push_back(fixed_row(note, axis, home_cents));
  return figure;
}

}  // namespace

std::vector<FigureKey> wedge_keys(const Pictured& pictured) {
  const auto any = [&](bool PicturedNote::*is) { return std::ranges::any_of(pictured.notes, is); };
  std::vector<FigureKey> keys{
      wedge_key({}, "a note: thin end blown soft, notch blown moderately, thick end blown hard")};
  if (any(&PicturedNote::is_overblown)) keys.push_back(wedge_key({true, false}, "an overblown note"));
  if (any(&PicturedNote::is_assumed))
    keys.push_back(
        wedge_key({false, true}, any_reach_measured(pictured)
                                     ? "how far the breath bends it was not measured: assumed as for the other notes"
                                     : "how far the breath bends it was not measured: 5 cents are assumed"));
  return keys;
}

RowsFigure head_figure(const Pictured& pictured) {
  return pictured.head_moves ? places_figure(pictured) : fixed_head_figure(pictured);
}

}  // namespace windway
