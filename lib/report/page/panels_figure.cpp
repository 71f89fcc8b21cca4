// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/panels_figure.hpp"

#include "report/page/section.hpp"
#include "report/page/typography.hpp"

namespace windway {
namespace {

Markup markup_of(const FigurePanel& panel) {
  return element("h3", {}, words_markup(typeset(panel.title))) + paragraphs(panel.sentences) +
         picture_markup(panel.title, panel.said, panel.height_px, panel.picture);
}

}  // namespace

Markup section_of(const PanelsFigure& figure) {
  Markup panels;
  for (const FigurePanel& panel : figure.panels) panels += markup_of(panel);
  return section(figure.id, figure.title,
                 paragraphs(figure.sentences) + keys_markup(figure.keys) + panels + figure.below);
}

std::string svg_of(const PanelsFigure& figure) {
  constexpr double left_px = PictureAlone::margin_px;
  PictureAlone picture;
  picture.go_down(30);
  picture.add_text(left_px, picture.top_px() - 8, figure.title, "start", "title");
  for (const FigurePanel& panel : figure.panels) {
    picture.go_down(24);
    picture.add_text(left_px, picture.top_px() - 6, panel.title, "start", "name");
    picture.add_picture(left_px, PictureAlone::width_px - 2 * left_px, panel.height_px, panel.picture);
  }
  add_keys(picture, figure.keys, left_px);
  return picture.svg(figure.title);
}

}  // namespace windway
