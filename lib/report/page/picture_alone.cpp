// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/picture_alone.hpp"

#include "report/page/marks.hpp"
#include "report/page/style.hpp"
#include "report/page/typography.hpp"

namespace windway {

void PictureAlone::add_text(double x_px, double y_px, const std::string& words, const std::string& anchor,
                            const std::string& look) {
  if (!words.empty()) drawn_ += text_markup({"x", x_px}, y_px, words, anchor, look);
}

void PictureAlone::add_picture(double left_px, double picture_width_px, double height_px, const Markup& picture) {
  drawn_ += element(
      "svg",
      {{"x", left_px}, {"y", top_px_}, {"width", picture_width_px}, {"height", height_px}, {"overflow", "visible"}},
      picture);
  top_px_ += height_px;
}

void PictureAlone::add_mark(double left_px, double mark_top_px, double mark_width_px, double height_px,
                            const Markup& mark) {
  drawn_ += element("svg", {{"x", left_px}, {"y", mark_top_px}, {"width", mark_width_px}, {"height", height_px}}, mark);
}

std::string PictureAlone::svg(const std::string& title) const {
  const double height_px = top_px_ + margin_px;
  const Markup paper = leaf("rect", {{"class", "paper"}, {"width", width_px}, {"height", height_px}});
  const Markup content =
      element("title", {}, words_markup(typeset(title))) + style_markup(picture_style) + hatching() + paper + drawn_;
  return element("svg",
                 {{"xmlns", "http://www.w3.org/2000/svg"},
                  {"width", width_px},
                  {"height", height_px},
                  {"viewBox", "0 0 " + coordinate(width_px) + " " + coordinate(height_px)},
                  {"role", "img"}},
                 content)
             .text() +
         "\n";
}

}  // namespace windway
