// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/prose_page.hpp"

#include <gtest/gtest.h>

#include "report/page/parsed_page.hpp"

namespace windway {
namespace {

using report_tests::ParsedPage;

TEST(ProsePage, PutsSentencesFirstThenFiguresThenTables) {
  const Prose prose = words("It is set: the notes read what they should.") + words("Left out: nothing.") +
                      Prose(Gap{}) + Prose(Grid{{{"note"}, {"reads", true}}, {{"D5", "+1"}}}) +
                      words("  reads: cents") + words("warning: mind the draught");
  const ParsedPage page(
      page_of(prose, {.above = "Is it set?"}, {{"recording", "a.wav"}}, {"0.1.0", "windway check a.wav"}));
  EXPECT_TRUE(page.faults().empty());
  EXPECT_EQ(page.words("//h1"), "It is set");
  EXPECT_EQ(page.words("//main/p[@class='warning']"), "warning: mind the draught");
  EXPECT_EQ(page.words("//section[h2[@id='figures']]//td"), "+1");
  EXPECT_EQ(page.words("//section[h2[@id='figures']]/p[@class='remark']"), "reads: cents");
}

}  // namespace
}  // namespace windway
