// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/figures/measurement_figures.hpp"
#include "report/page/marks.hpp"
#include "report/wording/figures.hpp"
#include "slide/law_of_slide.hpp"

namespace windway {
namespace {

constexpr double holes_row_px = 20.0;

/// Notes that sound the same tube, in one register or another.
using OneLength = std::vector<const PicturedNote*>;

/// The longest tube first. Notes within a quarter tone of length are of one hole.
std::vector<OneLength> by_length(const Pictured& picture) {
  static const double quarter_tone = std::exp2(1.0 / 24.0);
  std::vector<const PicturedNote*> notes;
  for (const PicturedNote& note : picture.notes) notes.push_back(&note);
  const auto length_mm = [](const PicturedNote* note) { return note->found.effective_length_mm; };
  std::ranges::stable_sort(notes, std::greater{}, length_mm);
  std::vector<OneLength> lengths;
  for (const PicturedNote* note : notes) {
    const bool is_next = lengths.empty() || length_mm(lengths.back().front()) > length_mm(note) * quarter_tone;
    if (is_next) lengths.emplace_back();
    lengths.back().push_back(note);
  }
  for (OneLength& length : lengths)
    std::ranges::stable_sort(length, {}, [](const PicturedNote* note) { return note->read->id.midi; });
  return lengths;
}

double soft_cents(const PicturedNote& note) {
  return note.read->soft ? note.read->soft->cents : note.found.moderate_cents - note.found.reach_soft_cents;
}

double hard_cents(const PicturedNote& note) {
  return note.read->hard ? note.read->hard->cents : note.found.moderate_cents + note.found.reach_hard_cents;
}

/// Soft or hard were not blown.
bool is_assumed(const PicturedNote& note) { return !note.read->soft || !note.read->hard; }

double mean_asked_cents(const OneLength& length, double slide_mm) {
  double sum = 0;
  for (const PicturedNote* note : length) sum += asked_cents(*note, slide_mm);
  return sum / static_cast<double>(length.size());
}

std::string cents_per_mm(const OneLength& length) {
  double sum = 0;
  for (const PicturedNote* note : length) sum += note->moved->cents_per_mm;
  return fixed(sum / static_cast<double>(length.size()), 1) + " cents a mm";
}

/// Where the line of the move stands above and below a row.
struct MoveLine {
  double at_top = 0;
  double at_bottom = 0;
};

FigureRow row_of(const PicturedNote& note, const Axis& axis, double slide_mm, const MoveLine& move,
                 const std::string& words) {
  Markup drawn = grid_lines(axis, most_ticks_across, holes_row_px) + upright(axis, 0, holes_row_px, "zero") +
                 wedge(axis, soft_cents(note), hard_cents(note), holes_row_px, {note.is_overblown, is_assumed(note)}) +
                 notch(axis, note.found.moderate_cents, holes_row_px);
  std::string said = fmt::format("soft {} cents, moderately {}, hard {}", signed_fixed(soft_cents(note), 0),
                                 signed_fixed(note.found.moderate_cents, 0), signed_fixed(hard_cents(note), 0));
  if (is_assumed(note)) said += "; how far the breath bends it was not measured";
  if (slide_mm != 0) {
    drawn += slanting(axis, move.at_top, move.at_bottom, holes_row_px, "move");
    said += fmt::format("; what reads {} now is in tune after the move", signed_fixed(asked_cents(note, slide_mm), 0));
  }
  return {note.name, drawn, holes_row_px, said, words};
}

Axis cents_axis(const Pictured& picture, double slide_mm) {
  constexpr double least_width_cents = 20;
  std::vector<double> values;
  for (const PicturedNote& note : picture.notes)
    for (const double cents : {soft_cents(note), hard_cents(note), asked_cents(note, slide_mm)})
      values.push_back(cents);
  return axis_over(values, least_width_cents);
}

/// Line positions from length to length: halfway between neighbours, so that it is unbroken.
std::vector<MoveLine> move_lines(const std::vector<OneLength>& lengths, double slide_mm) {
  std::vector<double> asked;
  for (const OneLength& length : lengths) asked.push_back(mean_asked_cents(length, slide_mm));
  std::vector<MoveLine> lines;
  for (std::size_t at = 0; at < asked.size(); ++at)
    lines.push_back({at == 0 ? asked[at] : 0.5 * (asked[at - 1] + asked[at]),
                     at + 1 == asked.size() ? asked[at] : 0.5 * (asked[at] + asked[at + 1])});
  return lines;
}

/// The part of a line that falls to one of several rows.
MoveLine part_of(const MoveLine& line, std::size_t row, std::size_t rows) {
  const auto at = [&](std::size_t edge) {
    return line.at_top + (line.at_bottom - line.at_top) * static_cast<double>(edge) / static_cast<double>(rows);
  };
  return {at(row), at(row + 1)};
}

}  // namespace

RowsFigure holes_figure(const Pictured& pictured) {
  const double slide_mm = pictured.is_told ? pictured.compromise->slide_mm : 0;
  const Axis axis = cents_axis(pictured, slide_mm);
  const std::vector<OneLength> lengths = by_length(pictured);
  const std::vector<MoveLine> lines = move_lines(lengths, slide_mm);
  RowsFigure figure;
  figure.id = "holes";
  figure.title = "Hole by hole";
  figure.sentences = {"Notes of one hole are drawn together, the longest tube on top."};
  figure.keys = wedge_keys(pictured);
  figure.keys.push_back(upright_key("zero", "in tune as it stands"));
  if (slide_mm != 0)
    figure.keys.push_back(
        upright_key("move", "in tune once the head is moved; it slants because a shorter tube changes more"));
  figure.axis_name = "cents from the target: − flat, + sharp";
  figure.axis = axis_row(axis, most_ticks_across);
  figure.words_name = pictured.head_moves ? "the head changes it by" : "";
  figure.words_stay_on_phone = false;
  for (std::size_t length = 0; length < lengths.size(); ++length)
    for (std::size_t at = 0; at < lengths[length].size(); ++at)
      figure.rows.push_back(row_of(*lengths[length][at], axis, slide_mm,
                                   part_of(lines[length], at, lengths[length].size()),
                                   at == 0 && pictured.head_moves ? cents_per_mm(lengths[length]) : ""));
  return figure;
}

}  // namespace windway
