// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/figures/measurement_figures.hpp"
#include "report/page/section.hpp"
#include "report/pages/sheet_parts.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

constexpr std::size_t most_in_one_column = 20;
constexpr double axis_px = 20.0;
constexpr double row_px = 18.0;  // lower than the figure's own rows: a page must hold twenty

Markup fluid(double height_px, const Markup& picture) {
  return element("svg", {{"width", "100%"}, {"height", height_px}, {"aria-hidden", "true"}}, picture);
}

/// The picture of a row, what is empty above and below it cut off.
Markup low(const FigureRow& row) {
  const double above_px = (row.height_px - row_px) / 2;
  return fluid(row_px,
               element("svg", {{"y", -above_px}, {"width", "100%"}, {"height", row.height_px}, {"overflow", "visible"}},
                       row.picture));
}

Markup head_of(const RowsFigure& figure) {
  return element(
      "thead", {},
      element("tr", {},
              heading_cell(hidden(figure.row_name), "name") +
                  heading_cell(hidden(figure.title) + fluid(axis_px, figure.axis), "drawn") +
                  heading_cell(words_markup(figure.words_name), "words") +
                  heading_cell(words_markup("cents"), "number") + heading_cell(words_markup("spread"), "number")));
}

Markup cell(const std::string& look, const Markup& content) { return element("td", {{"class", look}}, content); }

std::string spread_of(const NoteBreath& note) {
  return note.spread ? fixed(note.spread->cents, places_deserved(note.spread->u95_cents, 0)) : "–";
}

Markup row_of(const FigureRow& row, const PicturedNote& note, bool is_narrow) {
  const std::string words = is_narrow ? breath_in_short(*note.moved) : breath_in_words(*note.moved);
  return element("tr", {},
                 element("th", {{"scope", "row"}}, set(row.name)) + cell("drawn", low(row)) +
                     cell("words", set(words)) +
                     cell("number", set(signed_fixed(note.moved->cents, places_deserved(note.moved->u95_cents, 0)))) +
                     cell("number", set(spread_of(*note.read))));
}

/// The rows from the first to before the last, as a table.
Markup table_of(const RowsFigure& figure, const Pictured& picture, std::size_t from, std::size_t to) {
  const bool is_narrow = figure.rows.size() > most_in_one_column;
  Markup rows;
  for (std::size_t at = from; at < to; ++at) rows += row_of(figure.rows[at], picture.notes[at], is_narrow);
  return element("table", {{"class", is_narrow ? "figure narrow" : "figure"}, {"aria-labelledby", figure.id}},
                 head_of(figure) + element("tbody", {}, rows));
}

/// What marks and figures mean. The player's own blows are not the maker's.
std::vector<std::string> legend(const Measurement& measurement, const Pictured& picture, bool is_narrow) {
  const MeasureSettings& settings = measurement.settings;
  bool any_overblown = false, any_assumed = false;
  for (const PicturedNote& note : picture.notes) {
    any_overblown = any_overblown || note.is_overblown;
    any_assumed = any_assumed || note.is_assumed;
  }
  std::string marks =
      "A dot: in tune when blown there, between soft and hard. A ring: near enough, blown moderately. A cross: no "
      "breath brings it into tune.";
  if (any_overblown) marks += " Hollow: overblown.";
  if (any_assumed) marks += " Dashed: how far the breath bends it was not measured.";
  if (is_narrow) marks += " 1/4 way: a quarter of the way from moderate to soft, or to hard.";
  return {marks, "Cents: from the target (" + a4_in_words(settings) + ", " +
                     temperament_in_words(settings.tuning.temperament, settings.note_names) + "), blown moderately" +
                     (picture.head_moves ? ", with the head set as above" : "") +
                     ". Spread: cents from soft to hard. Your soft and hard may differ from the maker's."};
}

}  // namespace

Markup blow_section(const Measurement& measurement, const Pictured& picture) {
  RowsFigure figure = breath_figure(picture);
  figure.title = "How hard to blow each note";
  const std::size_t notes = figure.rows.size(), half = (notes + 1) / 2;
  const bool is_narrow = notes > most_in_one_column;
  const Markup tables = is_narrow ? element("div", {{"class", "columns"}},
                                            table_of(figure, picture, 0, half) + table_of(figure, picture, half, notes))
                                  : table_of(figure, picture, 0, notes);
  return section(figure.id, figure.title, tables + remarks_markup(legend(measurement, picture, is_narrow)));
}

}  // namespace windway
