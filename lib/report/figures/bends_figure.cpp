// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/figures/bends_figure.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "report/measurement/figures_fields.hpp"
#include "report/page/marks.hpp"
#include "report/page/section.hpp"
#include "report/page/typography.hpp"
#include "report/wording/figures.hpp"
#include "slide/law_of_slide.hpp"
#include "units/count_in_words.hpp"

namespace windway {
namespace {

constexpr double panel_px = 96.0;

/// A point of a panel: dB from the note's moderate level, cents from its target.
struct BendPoint {
  double level_db = 0;
  double cents = 0;
};

struct BendPanel {
  const PicturedNote* note = nullptr;
  std::vector<BendPoint> holds;
  std::vector<BendPoint> response;  ///< soft, moderate, hard, as far as known
};

/// Its pitch as its note is given.
double read_cents(const Measurement& measurement, std::size_t hold) {
  return measurement.naming.holds[hold].deviation_cents + measurement.breath.correction_cents[hold];
}

/// Of swells, which have no level of one blow: along the slope on both sides of moderate.
std::vector<BendPoint> along_slope(const NoteBreath& note) {
  if (!note.spread || !note.level_range_db) return {};
  const double half_db = *note.level_range_db / 2;
  return {{-half_db, note.soft ? note.soft->cents : note.moderate.cents - note.spread->cents / 2},
          {0, note.moderate.cents},
          {half_db, note.hard ? note.hard->cents : note.moderate.cents + note.spread->cents / 2}};
}

std::vector<BendPoint> response_of(const Measurement& measurement, const PicturedNote& note, double moderate_db) {
  std::vector<BendPoint> points;
  const std::array<std::pair<Blow, std::optional<CentsEstimate>>, 3> blows{
      {{Blow::soft, note.read->soft}, {Blow::moderate, note.read->moderate}, {Blow::hard, note.read->hard}}};
  for (const auto& [blow, read] : blows) {
    const auto mean = mean_of_blow(measurement, note.read->id, blow);
    if (mean && read) points.push_back({mean->level_db - moderate_db, read->cents});
  }
  return points.size() > 1 ? points : along_slope(*note.read);
}

/// The level that the panel counts from: of the moderate blows, else the middle of what was blown.
std::optional<double> moderate_level_db(const Measurement& measurement, const NoteId& note) {
  if (const auto moderate = mean_of_blow(measurement, note, Blow::moderate)) return moderate->level_db;
  const auto soft = mean_of_blow(measurement, note, Blow::soft), hard = mean_of_blow(measurement, note, Blow::hard);
  if (soft && hard) return 0.5 * (soft->level_db + hard->level_db);
  const auto swell = mean_of_blow(measurement, note, Blow::swell);
  return swell ? std::optional(swell->level_db) : std::nullopt;
}

BendPanel panel_of(const Measurement& measurement, const PicturedNote& note) {
  BendPanel panel{&note, {}, {}};
  const auto moderate_db = moderate_level_db(measurement, note.read->id);
  if (!moderate_db) return panel;
  for (std::size_t h = 0; h < measurement.naming.holds.size(); ++h) {
    const NamedHold& named = measurement.naming.holds[h];
    if (named.note == note.read->id && measurement.breath.used[h])
      panel.holds.push_back({named.hold.level_db - *moderate_db, read_cents(measurement, h)});
  }
  panel.response = response_of(measurement, note, *moderate_db);
  return panel;
}

struct BendAxes {
  Axis level_db;
  Axis cents;

  /// The figures of the cents stand at the left.
  double x(const BendPoint& point) const { return 15 + 0.85 * level_db.percent(point.level_db); }
  double y(double cents_value) const { return panel_px * (1 - cents.percent(cents_value) / 100); }
};

BendAxes axes_over(const std::vector<BendPanel>& panels, double slide_mm) {
  constexpr double least_db = 10, least_cents = 20;
  std::vector<double> levels, cents;
  for (const BendPanel& panel : panels) {
    cents.push_back(asked_cents(*panel.note, slide_mm));
    for (const auto* points : {&panel.holds, &panel.response})
      for (const BendPoint& point : *points) levels.push_back(point.level_db), cents.push_back(point.cents);
  }
  return {axis_over(levels, least_db), axis_over(cents, least_cents)};
}

Markup response_line(const BendPanel& panel, const BendAxes& axes) {
  Markup drawn;
  for (std::size_t at = 1; at < panel.response.size(); ++at) {
    const BendPoint &from = panel.response[at - 1], &to = panel.response[at];
    drawn += leaf("line", {{"class", "curve"},
                           {"x1", percent(axes.x(from))},
                           {"y1", axes.y(from.cents)},
                           {"x2", percent(axes.x(to))},
                           {"y2", axes.y(to.cents)}});
  }
  return drawn;
}

std::string said_of(const BendPanel& panel) {
  std::string words;
  for (const BendPoint& hold : panel.holds)
    words += fmt::format("{}{} cents at {} dB", words.empty() ? "" : ", ", signed_fixed(hold.cents, 1),
                         signed_fixed(hold.level_db, 1));
  return words + ".";
}

std::string spread_of(const NoteBreath& note) {
  if (!note.spread) return "";
  return " " + count_in_words(fixed(note.spread->cents, 0), "cent");
}

Markup picture_of(const BendPanel& panel, const BendAxes& axes, double slide_mm) {
  constexpr int most_ticks = 4;
  Markup drawn;
  for (const double tick : ticks(axes.cents, most_ticks))
    drawn += level(axes.y(tick), tick == 0 ? "zero" : "grid") +
             label(0, axes.y(tick) - 3, tick_label(tick, tick_step(axes.cents, most_ticks)), "start", "quiet");
  if (slide_mm != 0) drawn += level(axes.y(asked_cents(*panel.note, slide_mm)), "move");
  drawn += response_line(panel, axes);
  for (const BendPoint& hold : panel.holds)
    drawn += panel.note->is_overblown ? ring(axes.x(hold), axes.y(hold.cents), "reach")
                                      : dot(axes.x(hold), axes.y(hold.cents), "reach");
  return picture_markup(panel.note->name, said_of(panel), panel_px, drawn);
}

Markup item_of(const BendPanel& panel, const BendAxes& axes, double slide_mm) {
  const Markup heading = element("h3", {},
                                 words_markup(typeset(panel.note->name)) +
                                     element("span", {}, words_markup(typeset(spread_of(*panel.note->read)))));
  return element("li", {}, heading + picture_of(panel, axes, slide_mm));
}

}  // namespace

Markup bends_section(const Measurement& measurement, const Pictured& pictured) {
  const double slide_mm = pictured.is_told ? pictured.compromise->slide_mm : 0;
  std::vector<BendPanel> panels;
  for (const PicturedNote& note : pictured.notes) {
    BendPanel panel = panel_of(measurement, note);
    if (!panel.holds.empty()) panels.push_back(std::move(panel));
  }
  if (panels.empty()) return {};
  const BendAxes axes = axes_over(panels, slide_mm);
  Markup items;
  for (const BendPanel& panel : panels) items += item_of(panel, axes, slide_mm);
  const std::string words = fmt::format(
      "Louder is to the right ({} dB over the width), sharper is up (cents from the target). A steep line means "
      "that the note bends easily.{}",
      fixed(axes.level_db.most - axes.level_db.least, 0),
      slide_mm != 0 ? " The thick level line is where the note is in tune once the head is moved." : "");
  return section("bends", "How the breath bends each note",
                 paragraphs({words}) + element("ul", {{"class", "panels"}}, items));
}

}  // namespace windway
