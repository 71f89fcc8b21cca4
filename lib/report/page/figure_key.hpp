// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "report/page/marks.hpp"
#include "report/page/markup.hpp"
#include "report/page/picture_alone.hpp"

namespace windway {

/// A mark and what it means, beside a figure. The mark is a picture of that width, key_px high.
struct FigureKey {
  Markup mark;
  double width_px = 16;
  std::string meaning;
};

inline constexpr double key_px = 18.0;
inline constexpr double key_middle_px = key_px / 2;

// Keys of marks that several figures have. `look` as of the marks.
FigureKey wedge_key(const WedgeLook& look, const std::string& meaning);
FigureKey upright_key(const std::string& look, const std::string& meaning, double width_px = 8);
FigureKey band_key(const std::string& look, const std::string& meaning);
FigureKey dot_key(const std::string& look, const std::string& meaning);
FigureKey ring_key(const std::string& look, const std::string& meaning);
FigureKey cross_key(const std::string& meaning);

/// The marks and what they mean; empty of none.
Markup keys_markup(const std::vector<FigureKey>& keys);
/// The same below a picture alone.
void add_keys(PictureAlone& picture, const std::vector<FigureKey>& keys, double left_px);

}  // namespace windway
