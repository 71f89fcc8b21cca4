// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "report/page/markup.hpp"

namespace windway {

/// A picture alone, from the top down: a whole SVG file, 760 px wide, light or dark as who looks at it.
class PictureAlone {
 public:
  static constexpr double width_px = 760, margin_px = 16;

  double top_px() const { return top_px_; }
  void go_down(double px) { top_px_ += px; }
  /// Words at a place; none of no words. `anchor` "start" or "end"; `look` as of labels.
  void add_text(double x_px, double y_px, const std::string& words, const std::string& anchor,
                const std::string& look = "");
  /// A picture that is as wide as said, its top where the last one ended.
  void add_picture(double left_px, double picture_width_px, double height_px, const Markup& picture);
  /// The mark of a key, which moves nothing down.
  void add_mark(double left_px, double mark_top_px, double mark_width_px, double height_px, const Markup& mark);

  std::string svg(const std::string& title) const;

 private:
  double top_px_ = 4;
  Markup drawn_;
};

}  // namespace windway
