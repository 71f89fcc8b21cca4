// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <iterator>
#include <map>
#include <regex>
#include <string>
#include <vector>

namespace windway {
namespace {

std::string text_of_file(const std::string& name) {
  std::ifstream file(std::string(WINDWAY_TESTS_DIR) + "/../lib/report/page/" + name);
  return {std::istreambuf_iterator<char>(file), {}};
}

using Colours = std::map<std::string, std::string>;

/// The colours of each `:root` rule of a style sheet, in its order.
std::vector<Colours> roots_of(const std::string& css) {
  std::vector<Colours> roots;
  const std::regex rule(":root\\{([^}]*)\\}"), colour("--([a-z]+):#([0-9a-f]{3,6})");
  for (std::sregex_iterator at(css.begin(), css.end(), rule), end; at != end; ++at) {
    const std::string body = (*at)[1];
    Colours& colours = roots.emplace_back();
    for (std::sregex_iterator each(body.begin(), body.end(), colour); each != std::sregex_iterator(); ++each)
      colours[(*each)[1]] = (*each)[2];
  }
  return roots;
}

/// Relative luminance of sRGB (W3C, WCAG 2.1, definition of relative luminance).
double luminance(std::string hex) {
  if (hex.size() == 3) hex = {hex[0], hex[0], hex[1], hex[1], hex[2], hex[2]};
  const auto channel = [&](std::size_t at) {
    const double value = std::stoi(hex.substr(at, 2), nullptr, 16) / 255.0;
    return value <= 0.03928 ? value / 12.92 : std::pow((value + 0.055) / 1.055, 2.4);
  };
  return 0.2126 * channel(0) + 0.7152 * channel(2) + 0.0722 * channel(4);
}

/// Contrast ratio (WCAG 2.1, definition of contrast ratio).
double contrast(const std::string& one, const std::string& other) {
  const double light = std::max(luminance(one), luminance(other)), dark = std::min(luminance(one), luminance(other));
  return (light + 0.05) / (dark + 0.05);
}

TEST(Contrast, OfBlackOnWhiteIsTwentyOne) {
  EXPECT_NEAR(contrast("000", "ffffff"), 21.0, 1e-9);     // WCAG 2.1, 1.4.3: ratios range from 1 to 21
  EXPECT_NEAR(contrast("777777", "ffffff"), 4.48, 0.01);  // the usual example of a grey just below 4.5 (from memory)
}

/// WCAG 2.1: text 4.5 (1.4.3), shapes that carry something 3 (1.4.11).
TEST(Style, IsReadableInLightInTheDarkAndInPrint) {
  std::vector<Colours> all = roots_of(text_of_file("colours.css"));
  const std::vector<Colours> print = roots_of(text_of_file("page.css"));
  all.insert(all.end(), print.begin(), print.end());
  ASSERT_EQ(all.size(), 3U);
  for (const Colours& colours : all) {
    ASSERT_EQ(colours.size(), 9U);
    for (const char* text : {"ink", "quiet", "move"})
      EXPECT_GE(contrast(colours.at(text), colours.at("paper")), 4.5) << text;
    for (const char* shape : {"reach", "edge"})
      EXPECT_GE(contrast(colours.at(shape), colours.at("paper")), 3.0) << shape;
    for (const char* on_fill : {"ink", "reach", "move"})
      EXPECT_GE(contrast(colours.at(on_fill), colours.at("fill")), 3.0) << on_fill;
    EXPECT_GE(contrast(colours.at("move"), colours.at("band")), 3.0);
  }
}

}  // namespace
}  // namespace windway
