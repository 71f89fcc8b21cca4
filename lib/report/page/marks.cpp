// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/marks.hpp"

#include <algorithm>
#include <cmath>

#include "report/page/typography.hpp"

namespace windway {
namespace {

constexpr double thin_px = 3.0;    // of a wedge, blown soft
constexpr double thick_px = 14.0;  // blown hard
constexpr double notch_px = 16.0;
constexpr double dot_px = 4.5, ring_px = 4.0, cross_px = 4.5, speck_px = 3.0;

std::string shape_class(const char* name, const WedgeLook& look) {
  return std::string(name) + (look.is_overblown ? " hollow" : "") + (look.is_assumed ? " assumed" : "");
}

/// A shape that is stretched over a part of a row.
Markup stretched_between(double from_percent, double to_percent, double row_px, const Markup& shape) {
  const double width = std::max(0.05, to_percent - from_percent);
  return stretched({{"x", percent(from_percent)}, {"width", percent(width)}}, row_px, shape);
}

Markup path(const std::string& drawn, const std::string& look) { return leaf("path", {{"class", look}, {"d", drawn}}); }

std::string point(double x, double y) { return coordinate(x) + " " + coordinate(y); }

Markup circle(double x_percent, double y_px, double radius_px, const std::string& look) {
  return leaf("circle", {{"class", look}, {"cx", percent(x_percent)}, {"cy", y_px}, {"r", radius_px}});
}

Markup line(double x1_percent, double y1_px, double x2_percent, double y2_px, const std::string& look) {
  return leaf(
      "line",
      {{"class", look}, {"x1", percent(x1_percent)}, {"y1", y1_px}, {"x2", percent(x2_percent)}, {"y2", y2_px}});
}

}  // namespace

Markup wedge(const Axis& axis, double soft, double hard, double row_px, const WedgeLook& look) {
  const double middle = row_px / 2;
  const double from = axis.percent(std::min(soft, hard)), to = axis.percent(std::max(soft, hard));
  const double first = soft <= hard ? thin_px : thick_px, last = soft <= hard ? thick_px : thin_px;
  const std::string drawn = "M" + point(0, middle - first / 2) + "L" + point(100, middle - last / 2) + "L" +
                            point(100, middle + last / 2) + "L" + point(0, middle + first / 2) + "Z";
  return stretched_between(from, to, row_px, path(drawn, shape_class("wedge", look)));
}

Markup notch(const Axis& axis, double value, double row_px) {
  const double x = axis.percent(value);
  return line(x, (row_px - notch_px) / 2, x, (row_px + notch_px) / 2, "notch");
}

Markup spindle(const Axis& axis, double lower, double middle, double upper, double row_px, const WedgeLook& look) {
  const double from = axis.percent(lower), to = axis.percent(upper);
  const double thickest = 100.0 * (axis.percent(middle) - from) / std::max(0.05, to - from);
  const double centre = row_px / 2;
  const std::string drawn = "M" + point(0, centre) + "L" + point(thickest, centre - thick_px / 2) + "L" +
                            point(100, centre) + "L" + point(thickest, centre + thick_px / 2) + "Z";
  return stretched_between(from, to, row_px, path(drawn, shape_class("wedge", look)));
}

Markup upright(const Axis& axis, double value, double row_px, const std::string& look) {
  const double x = axis.percent(value);
  return line(x, 0, x, row_px, look);
}

Markup slanting(const Axis& axis, double at_top, double at_bottom, double row_px, const std::string& look) {
  return line(axis.percent(at_top), 0, axis.percent(at_bottom), row_px, look);
}

Markup band(const Axis& axis, double lower, double upper, double row_px, const std::string& look) {
  const double from = axis.percent(lower), to = axis.percent(upper);
  if (to <= from) return {};
  return leaf("rect", {{"class", look}, {"x", percent(from)}, {"width", percent(to - from)}, {"height", row_px}});
}

Markup dot(double x_percent, double y_px, const std::string& look) {
  return circle(x_percent, y_px, dot_px, "dot " + look);
}

Markup ring(double x_percent, double y_px, const std::string& look) {
  return circle(x_percent, y_px, ring_px, "ring " + look);
}

Markup cross(double x_percent, double y_px) {
  const std::string size = coordinate(cross_px), twice = coordinate(2 * cross_px);
  const std::string drawn =
      "M-" + size + " -" + size + "l" + twice + " " + twice + "M" + size + " -" + size + "l-" + twice + " " + twice;
  return element("svg", {{"x", percent(x_percent)}, {"y", y_px}, {"overflow", "visible"}}, path(drawn, "cross"));
}

Markup speck(double x_percent, double y_px) { return circle(x_percent, y_px, speck_px, "dot reach speck"); }

Markup level(double y_px, const std::string& look, double from_percent, double to_percent) {
  return line(from_percent, y_px, to_percent, y_px, look);
}

Markup zone(double top_px, double bottom_px, const std::string& look, double from_percent) {
  if (bottom_px <= top_px) return {};
  return leaf("rect", {{"class", look},
                       {"x", percent(from_percent)},
                       {"y", top_px},
                       {"width", percent(100 - from_percent)},
                       {"height", bottom_px - top_px}});
}

Markup stretched(std::vector<Attribute> place, double height_px, const Markup& shape) {
  place.insert(
      place.end(),
      {{"height", height_px}, {"viewBox", "0 0 100 " + coordinate(height_px)}, {"preserveAspectRatio", "none"}});
  return element("svg", place, shape);
}

std::string path_through(const std::vector<Place>& places) {
  std::string drawn;
  for (const Place& place : places) (drawn += drawn.empty() ? "M" : "L") += point(place.x_percent, place.y_px);
  return drawn;
}

Markup thread(const std::vector<Place>& places, double height_px) {
  return places.empty() ? Markup() : stretched_between(0, 100, height_px, path(path_through(places), "thread"));
}

Markup interval(const Axis& axis, double lower, double upper, double y_px) {
  constexpr double end_px = 4.0;
  const double from = axis.percent(lower), to = axis.percent(upper);
  return line(from, y_px, to, y_px, "interval") + line(from, y_px - end_px, from, y_px + end_px, "interval") +
         line(to, y_px - end_px, to, y_px + end_px, "interval");
}

Markup text_markup(const Attribute& x, double y_px, const std::string& words, const std::string& anchor,
                   const std::string& look) {
  const Markup content = words_markup(typeset(words));
  return look.empty() ? element("text", {x, {"y", y_px}, {"text-anchor", anchor}}, content)
                      : element("text", {x, {"y", y_px}, {"text-anchor", anchor}, {"class", look}}, content);
}

Markup label(double x_percent, double y_px, const std::string& words, const std::string& anchor,
             const std::string& look) {
  return text_markup({"x", percent(x_percent)}, y_px, words, anchor, look);
}

Markup hatching() {
  const Markup stripe = path("M0 6L6 0", "stripe");
  const Markup pattern = element(
      "pattern", {{"id", "hatch"}, {"width", 6.0}, {"height", 6.0}, {"patternUnits", "userSpaceOnUse"}}, stripe);
  return element("defs", {}, pattern);
}

}  // namespace windway
