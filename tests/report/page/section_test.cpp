// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/page/section.hpp"

#include <gtest/gtest.h>

#include "report/page/parsed_page.hpp"

namespace windway {
namespace {

using report_tests::ParsedPage;

TEST(HtmlOf, IsOneWellFormedFileThatFetchesNothing) {
  const ParsedPage page(html_of({"a <b>", "Heading & more", "", section("one", "First", paragraphs({"words", ""}))}));
  EXPECT_TRUE(page.faults().empty());
  EXPECT_EQ(page.words("//h1"), "Heading & more");
  EXPECT_EQ(page.words("//title"), "a <b>: Heading & more");
  EXPECT_EQ(page.count("//section/p"), 1U);
  EXPECT_EQ(page.words("//section/h2[@id='one']"), "First");
}

TEST(TableMarkup, HasARowHeaderAndAScopeForEachColumn) {
  const ParsedPage page(
      table_markup({{{"note"}, {"moderate", true}, {"", true}}, {{"D5", "+1.0", "± 0.2"}}}, "notes").text());
  EXPECT_EQ(page.count("//thead//th[@scope='col']"), 2U);
  EXPECT_EQ(page.words("//thead//th[@colspan='2']"), "moderate");
  EXPECT_EQ(page.words("//tbody//th[@scope='row']"), "D5");
  EXPECT_EQ(page.count("//tbody//td"), 2U);
  EXPECT_EQ(page.count("//div[@tabindex='0'][@role='region'][@aria-label='table: notes']"), 1U);
}

TEST(ProseMarkup, TellsWarningsRemarksAndCodeApart) {
  const Prose prose = words("A sentence.") + words("  a remark") + words("warning: mind this") +
                      Prose(Code{{"slide_factor = 0.97", "x = <1>"}}) + Prose(Gap{});
  const ParsedPage page(element("div", {}, prose_markup(prose, "")).text());
  EXPECT_EQ(page.words("//p[not(@class)]"), "A sentence.");
  EXPECT_EQ(page.words("//p[@class='remark']"), "a remark");
  EXPECT_EQ(page.words("//p[@class='warning']"), "warning: mind this");
  EXPECT_EQ(page.words("//pre"), "slide_factor = 0.97\nx = <1>\n");
}

TEST(HeadlineOf, IsTheSentenceUpToItsColon) {
  const Headline moved = headline_of("Draw the head out 1.2 mm (± 0.1): the whole scale comes down.");
  EXPECT_EQ(moved.heading, "Draw the head out 1.2 mm (± 0.1)");
  EXPECT_EQ(moved.rest, "The whole scale comes down.");
  EXPECT_EQ(headline_of("Nothing has changed.").heading, "Nothing has changed");
  const std::string whole = "The best place for the head is 1.8 mm out (± 0.1), by 4 takes at 0, 2, 4 and 6 mm";
  EXPECT_EQ(headline_of(whole + ".").heading, whole);
  EXPECT_EQ(headline_of("The best place is 3.5 mm out (± 0.2). That is beyond: record there too.").heading,
            "The best place is 3.5 mm out (± 0.2)");
  EXPECT_EQ(headline_of("Of 3 notes, 2 changed.").heading, "Of 3 notes, 2 changed");
  const std::string long_sentence(120, 'x');
  EXPECT_TRUE(headline_of(long_sentence).heading.empty());
  EXPECT_EQ(headline_of(long_sentence).rest, long_sentence);
}

}  // namespace
}  // namespace windway
