// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/measurement_page.hpp"

#include <algorithm>
#include <array>

#include "error.hpp"
#include "report/figures/bends_figure.hpp"
#include "report/figures/measurement_figures.hpp"
#include "report/figures/take_figure.hpp"
#include "report/measurement/advice.hpp"
#include "report/measurement/pictured.hpp"
#include "report/measurement/text.hpp"
#include "report/page/named_figure.hpp"
#include "report/page/section.hpp"
#include "report/pages/measurement_facts.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/spelling.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

/// "+2.4 ± 0.3"
std::string cell(double value, double u95, bool is_signed = true) {
  const int places = places_deserved(u95, 1);
  return (is_signed ? signed_fixed(value, places) : fixed(value, places)) + " " + plus_minus(u95, places);
}

std::string cell(const std::optional<CentsEstimate>& estimate, bool is_signed = true) {
  return estimate ? cell(estimate->cents, estimate->u95_cents, is_signed) : "–";
}

Grid all_figures(const Measurement& measurement) {
  const bool tells_breath = shows_breath(measurement), tells_move = shows_move(measurement);
  const bool head_moves = tells_breath && measurement.settings.head.moves;
  Grid grid{{{"note"}, {"soft", true}, {"moderate", true}, {"hard", true}, {"spread", true}}, {}};
  if (tells_move) grid.columns.push_back({"moved, moderate", true});
  if (tells_breath) grid.columns.push_back({"beats a second", true});
  if (head_moves) grid.columns.push_back({"cents a mm", true});
  grid.columns.push_back({"holds", true});
  for (std::size_t at = 0; at < measurement.breath.notes.size(); ++at) {
    const NoteBreath& note = measurement.breath.notes[at];
    std::vector<std::string> row{spelt_for_people(note.id, measurement), cell(note.soft),
                                 cell(note.moderate) + (note.moderate_is_midway ? " *" : ""), cell(note.hard),
                                 cell(note.spread, false)};
    const MovedNote moved = tells_breath ? measurement.compromise->notes[at] : MovedNote{};
    if (tells_move) row.push_back(cell(moved.cents, moved.u95_cents));
    if (tells_breath) row.push_back(fixed(moved.beats_hz, 1));
    if (head_moves) row.push_back(fixed(moved.cents_per_mm, 1));
    row.push_back(std::to_string(note.holds));
    grid.rows.push_back(std::move(row));
  }
  return grid;
}

/// What the columns mean, a sentence each.
std::string figures_in_words(const Measurement& measurement) {
  std::string words = "Cents from the target. The true value lies within ± 95 times in 100. –: not known.";
  if (any_midway(measurement)) words += " *: midway between soft and hard; only two strengths were blown.";
  if (shows_move(measurement)) words += " Moved: at moderate breath, once the head is moved.";
  if (shows_breath(measurement)) words += " Beats: " + place_for_beats(measurement) + "against a drone on the target.";
  if (shows_breath(measurement) && measurement.settings.head.moves)
    words += " Cents a mm: how far a millimetre of the head changes the note.";
  return words;
}

Markup figures_section(const Measurement& measurement) {
  if (measurement.breath.notes.empty()) return {};
  return section("figures", "All figures",
                 paragraphs({figures_in_words(measurement)}) + table_markup(all_figures(measurement), "all figures") +
                     prose_markup(rows_outside_scale(measurement), "all figures"));
}

Markup doubts_section(const Measurement& measurement) {
  const Prose warnings = warnings_prose(measurement);
  return warnings.empty() ? Markup() : section("doubts", "What is doubtful", prose_markup(warnings, "warnings"));
}

/// The advice: its first sentence is the heading where it is short enough, the rest stands below.
Page advised(const Measurement& measurement) {
  std::vector<std::string> lines = advice(measurement, "as the figures below say");
  Headline headline = headline_of(lines.front());
  if (is_in_deep_doubt(measurement)) headline = {"Something does not fit", lines.front()};
  const std::string instrument = capitalised(instrument_in_words(measurement));
  lines.front() = headline.rest;
  if (headline.heading.empty()) return {"", instrument, "", paragraphs(lines)};
  return {instrument, headline.heading, "", paragraphs(lines)};
}

using DrawMeasurement = RowsFigure (*)(const Pictured&);

/// In the order of the page.
constexpr std::array<NamedFigure<DrawMeasurement>, 3> figures{
    {{"head", head_figure}, {"breath", breath_figure}, {"holes", holes_figure}}};

bool can_be_drawn(const NamedFigure<DrawMeasurement>& figure, const Pictured& picture) {
  return figure.draw != breath_figure || any_reach_measured(picture);
}

}  // namespace

std::string measurement_page(const Measurement& measurement, const PageSource& source) {
  Page page = advised(measurement);
  page.content += doubts_section(measurement);
  if (const auto picture = pictured(measurement)) {
    for (const auto& figure : figures)
      if (can_be_drawn(figure, *picture)) page.content += section_of(figure.draw(*picture));
    page.content += bends_section(measurement, *picture);
  }
  page.content += take_section(measurement) + figures_section(measurement) +
                  section("remarks", "About this recording", prose_markup(remarks(measurement), "remarks")) +
                  basis_section(facts_of(measurement), source);
  return html_of(page);
}

std::vector<std::string> measurement_figures() { return names_of(figures); }

std::string measurement_svg(const Measurement& measurement, const std::string& figure) {
  const auto picture = pictured(measurement);
  if (!picture)
    throw Error(
        ErrorKind::recording,
        "no figure can be drawn: this recording cannot show where the head should be; the text report says why");
  const auto& named = figure_named(figures, figure);
  if (!can_be_drawn(named, *picture))
    throw Error(ErrorKind::recording,
                "the figure of the breath cannot be drawn: no note was blown soft and hard; blow each note soft, "
                "moderate and hard and record again");
  return svg_of(named.draw(*picture));
}

}  // namespace windway
