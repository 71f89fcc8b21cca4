// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "report/page/axis.hpp"
#include "report/page/markup.hpp"

namespace windway {

// The marks of the figures. Each is drawn into a picture that is as wide as the page gives it: along x in percent of
// the width by the axis, along y in px. What is told by a colour is told by form as well.

/// How a reach is drawn: filled in the lowest register, hollow where overblown; dashed where it is assumed.
struct WedgeLook {
  bool is_overblown = false;
  bool is_assumed = false;
};

/// A note's reach, thin where blown soft, thick where hard, within a row of that height.
Markup wedge(const Axis& axis, double soft, double hard, double row_px, const WedgeLook& look);

/// A short upright line across the wedge: blown moderately.
Markup notch(const Axis& axis, double value, double row_px);

/// Where most lie, thickest at the middle value: from lower over the middle to upper.
Markup spindle(const Axis& axis, double lower, double middle, double upper, double row_px, const WedgeLook& look);

/// A line across the whole row. `look`: "move", "was", "zero", "grid", "limit".
Markup upright(const Axis& axis, double value, double row_px, const std::string& look);

/// A line through the row from a value at its top to another at its bottom.
Markup slanting(const Axis& axis, double at_top, double at_bottom, double row_px, const std::string& look);

/// A band over the whole row. `look`: "band"; "beyond" is hatched.
Markup band(const Axis& axis, double lower, double upper, double row_px, const std::string& look);

/// A dot (it is true here), a ring (it may stay as it is, or stands for a reading), a cross (out of reach, or out).
Markup dot(double x_percent, double y_px, const std::string& look = "move");
Markup ring(double x_percent, double y_px, const std::string& look = "move");
Markup cross(double x_percent, double y_px);

/// A small dot, where many stand side by side.
Markup speck(double x_percent, double y_px);

/// A level line over that part of the width, and a zone between two levels from there to the right end. `look` as of
/// uprights and bands.
Markup level(double y_px, const std::string& look, double from_percent = 0, double to_percent = 100);
Markup zone(double top_px, double bottom_px, const std::string& look, double from_percent = 0);

/// A place in a picture.
struct Place {
  double x_percent = 0;
  double y_px = 0;
};

/// A shape that is stretched over a part of a picture, at those attributes of place: its own x goes from 0 to 100, its
/// y is px.
Markup stretched(std::vector<Attribute> place, double height_px, const Markup& shape);

/// What a path draws from each place to the next: "M0 1L50 2.5".
std::string path_through(const std::vector<Place>& places);

/// A thin line from each place to the next, in a picture of that height.
Markup thread(const std::vector<Place>& places, double height_px);

/// An interval: a line from lower to upper with a short upright at each end.
Markup interval(const Axis& axis, double lower, double upper, double y_px);

/// Words in a picture, about that place; `x` in px or percent.
Markup text_markup(const Attribute& x, double y_px, const std::string& words, const std::string& anchor,
                   const std::string& look);
/// Words in a picture, about that place: `anchor` "start", "middle" or "end".
Markup label(double x_percent, double y_px, const std::string& words, const std::string& anchor,
             const std::string& look = "");

/// The pattern of what is hatched, once a page.
Markup hatching();

}  // namespace windway
