// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <cmath>

#include "card/head_card.hpp"
#include "report/measurement/advice.hpp"
#include "report/page/section.hpp"
#include "report/pages/sheet_parts.hpp"
#include "report/player/card_report.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

// The drawing, mm of the printed page.
constexpr double head_mm = 18, body_mm = 24, widest_gap_mm = 40;
constexpr double tube_top_mm = 0.5, tube_mm = 7, tenon_mm = 4.4;
constexpr double line_mm = 50, line_top_mm = 12.5, drawing_mm = 15;

std::string mm(double value) { return coordinate(value) + "mm"; }

Markup box(const std::string& look, double x_mm, double width_mm, double height_mm) {
  const double top_mm = tube_top_mm + (tube_mm - height_mm) / 2;
  return leaf(
      "rect",
      {{"class", look}, {"x", mm(x_mm)}, {"y", mm(top_mm)}, {"width", mm(width_mm)}, {"height", mm(height_mm)}});
}

Markup line(double x1_mm, double y1_mm, double x2_mm, double y2_mm) {
  return leaf("line", {{"class", "ruler"}, {"x1", mm(x1_mm)}, {"y1", mm(y1_mm)}, {"x2", mm(x2_mm)}, {"y2", mm(y2_mm)}});
}

Markup name_at(double x_mm, const std::string& name) {
  constexpr double below_mm = 3.4;
  return element(
      "text",
      {{"class", "quiet"}, {"x", mm(x_mm)}, {"y", mm(tube_top_mm + tube_mm + below_mm)}, {"text-anchor", "middle"}},
      words_markup(name));
}

constexpr auto fully_in = "fully in";

/// "4.7 mm out", "fully in"
std::string place_in_words(double out_mm, int places) {
  const std::string figure = fixed(out_mm, places);
  return figure.find_first_of("123456789") == std::string::npos ? fully_in : figure + " mm out";
}

int places_of(const Compromise& compromise) {
  return compromise.limit ? 1 : places_deserved(slide_u95_mm(compromise), 1);
}

/// "4.7 mm" large, and small how it is meant.
Markup big(const std::string& figure, const std::string& rest) {
  return element("p", {{"class", "big"}},
                 element("strong", {}, set(figure)) + element("span", {}, set(rest.empty() ? "" : " " + rest)));
}

Markup place_markup(const Compromise& compromise, double out_mm) {
  const int places = places_of(compromise);
  const bool is_in = place_in_words(out_mm, places) == fully_in;
  if (compromise.limit) return big(is_in ? fully_in : fixed(out_mm, 1) + " mm", is_in ? "" : "out, as far as it goes");
  const std::string doubt = "(" + plus_minus(slide_u95_mm(compromise), places) + " mm)";
  return big(is_in ? fully_in : fixed(out_mm, places) + " mm", is_in ? doubt : "out " + doubt);
}

Markup gap_figure(double out_mm, int places) {
  const bool is_in = place_in_words(out_mm, places) == fully_in;
  const Markup drawing = is_in ? Markup() : gap_markup(out_mm);
  if (drawing.empty()) return {};
  return element("figure", {},
                 drawing + element("figcaption", {},
                                   words_markup("The gap at true size, where this sheet is printed at 100 %: the line "
                                                "is then 50 mm long.")));
}

/// "From there it belongs 1.2 mm farther out (± 0.1 mm)."
std::string move_in_words(const Compromise& compromise) {
  const double least_mm = std::max(finest_move_mm, slide_u95_mm(compromise));
  const double move_mm = std::abs(compromise.slide_mm);
  const int places = places_deserved(least_mm, 1);
  const std::string doubt = " (" + plus_minus(least_mm, places) + " mm).";
  if (stays(compromise)) return "As far as the recording can tell, it belongs where it was then" + doubt;
  return "It belongs " + fixed(move_mm, places) + " mm farther " + (compromise.slide_mm > 0 ? "out" : "in") +
         " than it was then" + doubt;
}

/// Where nobody said how far out the head was, only the move from there is known.
Markup move_markup(const Measurement& measurement) {
  return paragraphs(
      {"The maker did not note where the head was when the instrument was recorded, so this sheet gives no place for "
       "it. " +
       move_in_words(*measurement.compromise)});
}

std::string limit_sentence(const Compromise& compromise) {
  if (!compromise.limit) return "";
  return "The scale is " + residuals_in_words(compromise) + ".";
}

std::string a4_hz_in_words(double a4_hz) { return "A4 = " + fixed(a4_hz, 1) + " Hz"; }

/// From fully in outwards.
std::vector<Term> reached_a4s(const Measurement& measurement) {
  const Compromise& compromise = *measurement.compromise;
  const auto out_mm = head_belongs_mm(measurement);
  const auto& travel_mm = measurement.settings.head.travel_mm;
  std::vector<Term> reached;
  if (compromise.highest_a4_hz) reached.push_back({fully_in, a4_hz_in_words(*compromise.highest_a4_hz)});
  if (out_mm && !compromise.limit) {
    const std::string place = place_in_words(*out_mm, places_of(compromise));
    if (!reached.empty() && place == reached.front().name) reached.clear();
    reached.push_back({place, a4_in_words(measurement.settings)});
  }
  if (compromise.lowest_a4_hz && travel_mm)
    reached.push_back({shortest(*travel_mm) + " mm out, as far as it goes", a4_hz_in_words(*compromise.lowest_a4_hz)});
  return reached;
}

/// Of a card's A4s every second, that of the flute among them.
std::vector<double> shown_a4s_hz(double a4_hz) {
  std::vector<double> shown = card_a4s_hz(a4_hz);
  std::erase_if(shown, [&](double each_hz) { return std::lround(each_hz - a4_hz) % 2 != 0; });
  return shown;
}

Markup card_markup(const Measurement& measurement) {
  const HeadCard card = head_card(measurement, shown_a4s_hz(measurement.settings.tuning.a4_hz), {15, 20, 25, 30});
  const std::string what =
      "mm out for another A4, by how warm the air in the blown flute is (in a warm room about 25 °C):";
  const bool has_end = measurement.settings.head.travel_mm.has_value();
  const std::string endless = has_end ? "" : std::string(travel_not_known) + ".";
  return remarks_markup({what}) + table_markup(card_table(card), "the place of the head by A4 and warmth") +
         prose_markup(card_marks(card) + card_doubt(card), "marks") + remarks_markup({endless});
}

}  // namespace

std::optional<double> head_belongs_mm(const Measurement& measurement) {
  const Head& head = measurement.settings.head;
  const std::optional<double> from_mm = measurement.places ? std::optional(measurement.places->at_mm)
                                        : head.moves       ? head.out_mm
                                                           : std::nullopt;
  if (!from_mm || !head.moves) return std::nullopt;
  return std::max(0.0, *from_mm + measurement.compromise->slide_mm);
}

Markup gap_markup(double out_mm) {
  if (out_mm > widest_gap_mm) return {};
  const double body_from_mm = head_mm + out_mm;
  Markup drawn = box("tube", 0, head_mm, tube_mm) + box("tube", body_from_mm, body_mm, tube_mm);
  if (out_mm > 0) drawn += box("tenon", head_mm, out_mm, tenon_mm);
  drawn += name_at(head_mm / 2, "head") + name_at(body_from_mm + body_mm / 2, "body");
  constexpr double end_mm = 1;
  drawn += line(0, line_top_mm, line_mm, line_top_mm);
  for (const double end : {0.0, line_mm}) drawn += line(end, line_top_mm - end_mm, end, line_top_mm + end_mm);
  return element(
      "svg", {{"width", "100%"}, {"height", mm(drawing_mm)}, {"role", "img"}},
      element("title", {}, set("the head " + shortest(std::round(out_mm * 10) / 10) + " mm out of the body")) + drawn);
}

Markup set_head_section(const Measurement& measurement) {
  const Compromise& compromise = *measurement.compromise;
  if (!measurement.settings.head.moves) return {};
  const auto out_mm = head_belongs_mm(measurement);
  Markup place = out_mm ? place_markup(compromise, *out_mm) + gap_figure(*out_mm, places_of(compromise))
                        : move_markup(measurement);
  return section("head", "Set the head", place + paragraphs({limit_sentence(compromise), check_line(measurement)}));
}

Markup with_others_section(const Measurement& measurement) {
  const bool head_moves = measurement.settings.head.moves;
  const std::vector<Term> reached = reached_a4s(measurement);
  Markup content = terms_markup(reached);
  if (!head_moves || reached.empty()) content += paragraphs({home_line(measurement)});
  if (head_belongs_mm(measurement)) content += card_markup(measurement);
  return section("others", "With others", content);
}

}  // namespace windway
