// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/figure_key.hpp"

#include "report/page/typography.hpp"

namespace windway {
namespace {

constexpr Axis whole{0, 1};
constexpr double wedge_px = 46, band_px = 24, mark_px = 16;

}  // namespace

FigureKey wedge_key(const WedgeLook& look, const std::string& meaning) {
  return {wedge(whole, 0.02, 0.98, key_px, look) + notch(whole, 0.5, key_px), wedge_px, meaning};
}

FigureKey upright_key(const std::string& look, const std::string& meaning, double width_px) {
  return {upright(whole, 0.5, key_px, look), width_px, meaning};
}

FigureKey band_key(const std::string& look, const std::string& meaning) {
  return {band(whole, 0, 1, key_px, look), band_px, meaning};
}

FigureKey dot_key(const std::string& look, const std::string& meaning) {
  return {dot(50, key_middle_px, look), mark_px, meaning};
}

FigureKey ring_key(const std::string& look, const std::string& meaning) {
  return {ring(50, key_middle_px, look), mark_px, meaning};
}

FigureKey cross_key(const std::string& meaning) { return {cross(50, key_middle_px), mark_px, meaning}; }

Markup keys_markup(const std::vector<FigureKey>& keys) {
  Markup drawn;
  for (const FigureKey& key : keys)
    drawn += element("span", {{"class", "key"}},
                     element("svg", {{"width", key.width_px}, {"height", key_px}, {"aria-hidden", "true"}}, key.mark) +
                         words_markup(typeset(key.meaning)));
  return drawn.empty() ? drawn : element("p", {{"class", "keys"}}, drawn);
}

void add_keys(PictureAlone& picture, const std::vector<FigureKey>& keys, double left_px) {
  for (const FigureKey& key : keys) {
    picture.go_down(22);
    picture.add_mark(left_px, picture.top_px() - 14, key.width_px, key_px, key.mark);
    picture.add_text(left_px + key.width_px + 8, picture.top_px(), key.meaning, "start", "quiet");
  }
}

}  // namespace windway
