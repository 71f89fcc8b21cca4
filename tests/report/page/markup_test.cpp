// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/markup.hpp"

#include <gtest/gtest.h>

namespace windway {
namespace {

TEST(Markup, EscapesEveryValueThatGetsIn) {
  EXPECT_EQ(words_markup("<script>&\"'").text(), "&lt;script&gt;&amp;&quot;'");
  EXPECT_EQ(element("p", {{"title", "\" onload=\"x"}}, words_markup("a < b")).text(),
            "<p title=\"&quot; onload=&quot;x\">a &lt; b</p>");
}

TEST(Markup, HasNoControlCharactersAndNoBytesThatAreNoUtf8) {
  const std::string replaced = "\xEF\xBF\xBD";
  EXPECT_EQ(words_markup(std::string("a\0b", 3)).text(), "a" + replaced + "b");
  EXPECT_EQ(words_markup("a\x1b[31m").text(), "a" + replaced + "[31m");
  EXPECT_EQ(words_markup("\x7f\xc2\x9b").text(), replaced + replaced);
  EXPECT_EQ(words_markup("a\xff"
                         "b")
                .text(),
            "a" + replaced + "b");
  EXPECT_EQ(words_markup("\xef\xbf\xbf").text(), replaced);
  EXPECT_EQ(words_markup("a\nb").text(), "a\nb");
  EXPECT_EQ(words_markup("größer ♯").text(), "größer ♯");
  EXPECT_EQ(words_markup("~ plain, then <é> and plain").text(), "~ plain, then &lt;é&gt; and plain");
  EXPECT_EQ(words_markup("").text(), "");
}

TEST(Markup, WritesNumbersInTwoDecimalsAtMost) {
  EXPECT_EQ(coordinate(12.5), "12.5");
  EXPECT_EQ(coordinate(12.0), "12");
  EXPECT_EQ(coordinate(-0.001), "0");
  EXPECT_EQ(coordinate(1.0 / 3), "0.33");
  EXPECT_EQ(percent(50), "50%");
  EXPECT_EQ(coordinate(100), "100");
}

TEST(Markup, ClosesWhatItOpens) {
  EXPECT_EQ(leaf("circle", {{"r", 4.5}}).text(), "<circle r=\"4.5\"/>");
  EXPECT_EQ(element("td", {}).text(), "<td></td>");
  const std::vector<Attribute> gathered{{"x", 1.0}, {"class", "a&b"}};
  EXPECT_EQ(element("svg", gathered, leaf("path", {})).text(), "<svg x=\"1\" class=\"a&amp;b\"><path/></svg>");
  EXPECT_EQ((element("b", {}) + element("i", {})).text(), "<b></b><i></i>");
}

}  // namespace
}  // namespace windway
