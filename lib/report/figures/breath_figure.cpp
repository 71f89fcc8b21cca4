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

constexpr double breath_row_px = 24.0;
constexpr Axis strength{-0.07, 1.07};  // 0 soft, 1/2 moderate, 1 hard; room for a cross at either end

/// Where on the player's own way from soft to hard the note is true: 0 to 1, beyond them out of reach.
double true_strength(const PicturedNote& note) {
  const double residual_cents = note.moved->cents;
  // As the advice counts it: nobody bends a note by less than 5 cents.
  const double reach_cents = residual_cents > 0 ? note.moved->reach_soft_cents : note.moved->reach_hard_cents;
  return 0.5 - 0.5 * residual_cents / reach_cents;
}

Markup mark_of(const PicturedNote& note) {
  constexpr double beyond = 0.035;
  const double at = true_strength(note), middle_px = breath_row_px / 2;
  switch (note.moved->breath) {
    case BreathAdvice::as_it_is:
      return ring(strength.percent(std::clamp(at, 0.0, 1.0)), middle_px);
    case BreathAdvice::out_of_reach:
      return cross(strength.percent(at < 0.5 ? -beyond : 1 + beyond), middle_px);
    case BreathAdvice::softer:
    case BreathAdvice::harder:
      break;
  }
  return dot(strength.percent(std::clamp(at, 0.0, 1.0)), middle_px);
}

FigureRow row_of(const PicturedNote& note) {
  const Markup drawn = wedge(strength, 0, 1, breath_row_px, {note.is_overblown, note.is_assumed}) +
                       notch(strength, 0.5, breath_row_px) + mark_of(note);
  return {note.name, drawn, breath_row_px, "", blow_in_words(note)};
}

}  // namespace

std::string blow_in_words(const PicturedNote& note) {
  const MovedNote& moved = *note.moved;
  const std::string words = breath_in_words(moved);
  if (moved.breath == BreathAdvice::as_it_is) return words + ": " + deviation_in_words(moved.cents, moved.u95_cents);
  const std::optional<double>& reach_cents =
      moved.cents > 0 ? note.read->reach_soft_cents : note.read->reach_hard_cents;
  if (moved.breath != BreathAdvice::out_of_reach || !reach_cents) return words;
  const double still_cents = std::copysign(std::max(0.0, std::abs(moved.cents) - *reach_cents), moved.cents);
  const std::string still = deviation_in_words(still_cents, moved.u95_cents);
  return still == "right in tune" ? words : words + "; still " + still;
}

RowsFigure breath_figure(const Pictured& pictured) {
  RowsFigure figure;
  figure.id = "breath";
  figure.title = !pictured.head_moves         ? "How hard to blow"
                 : pictured.is_told           ? "How hard to blow once the head is set"
                 : pictured.compromise->limit ? "How hard to blow with the head where it is"
                                              : "How hard to blow with the head at its best place";
  figure.sentences = {
      std::string(pictured.head_moves && pictured.is_told ? "With the head there, the" : "The") +
      " dot shows how hard to blow each note in tune, between your soft and your hard blow. A ring means "
      "that the note is near enough as it is. A cross means that none of your blows puts it in tune."};
  figure.keys = wedge_keys(pictured);
  figure.axis = axis_row(strength, {{0.0, "soft"}, {0.5, "moderate"}, {1.0, "hard"}});
  figure.words_name = "blow";
  figure.words_may_wrap = true;
  for (const PicturedNote& note : pictured.notes) figure.rows.push_back(row_of(note));
  return figure;
}

}  // namespace windway
