// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/player/protocol.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <sstream>

#include "report/wording/layout.hpp"
#include "report/wording/prose.hpp"

namespace windway {
namespace {

TEST(Protocol, GoesUpTheScaleAndDownAgain) {
  const Instrument whistle = builtin_instrument(Kind::whistle, 74);
  const Protocol both = protocol_of(whistle, false);
  EXPECT_EQ(both.steps.size(), 2 * (whistle.scale.size() - 2) - 1);
  EXPECT_EQ(both.steps.front().note, both.steps.back().note);
  EXPECT_EQ(protocol_of(whistle, true).steps.size(), whistle.scale.size() - 2);
  EXPECT_NEAR(duration_s(protocol_of(whistle, true)), 16 * 3 * 2.0, 1e-9);
}

TEST(Protocol, NamesFurtherFingeringsAndOptionalNotes) {
  Instrument whistle = builtin_instrument(Kind::whistle, 74);
  whistle.scale[6].weight = 0;  // C6
  ScaleNote vented = whistle.scale[8];
  vented.id.fingering = "vented";
  whistle.scale.insert(whistle.scale.begin() + 9, vented);
  const Protocol protocol = protocol_of(whistle, false);
  EXPECT_NE(order_of(protocol).find("D6 D6:vented E6"), std::string::npos);
  const std::string text = text_of(protocol_prose(protocol, {"--instrument my.toml"}));
  EXPECT_NE(text.find("if you use it"), std::string::npos);
  EXPECT_NE(text.find("--instrument my.toml \\\n"), std::string::npos);
  std::string one_line = text;
  std::ranges::replace(one_line, '\n', ' ');
  for (const char* caution : {"protect your ears", "unwashed", "Never force"})
    EXPECT_NE(one_line.find(caution), std::string::npos);
  EXPECT_NE(text.find("--order 'D5 E5"), std::string::npos);
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) EXPECT_LE(display_width(line), text_columns) << line;
}

TEST(Protocol, BreaksItsCommandBetweenOptions) {
  const Protocol protocol = protocol_of(builtin_instrument(Kind::whistle, 74), false);
  const std::string text = text_of(
      protocol_prose(protocol, {"--kind whistle", "--lowest D5", "--scale 'D5 E5 F#5 G5'", "--note-names german"}));
  EXPECT_NE(text.find("  windway measure my-scale.wav --kind whistle --lowest D5 \\\n"
                      "    --scale 'D5 E5 F#5 G5' --note-names german \\\n    --order 'D5 E5"),
            std::string::npos)
      << text;
  EXPECT_TRUE(fits(text, text_columns)) << text;
}

}  // namespace
}  // namespace windway
