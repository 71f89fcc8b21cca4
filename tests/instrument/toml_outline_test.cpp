// SPDX-License-Identifier: GPL-3.0-or-later
#include "instrument/toml_outline.hpp"

#include <gtest/gtest.h>

#include <utility>

namespace windway {
namespace {

TEST(TomlOutline, IsKeysNumbersAndBrackets) {
  EXPECT_EQ(toml_outline("[a.b]\nc = [1.5, true]\n"), "[a.b]\nc = [1.5, true]\n");
  EXPECT_EQ(toml_outline(""), "");
}

TEST(TomlOutline, HasXForTextsAndComments) {
  for (const auto& [toml, outline] :
       std::initializer_list<std::pair<const char*, const char*>>{{"a = \"b.c\" # d\n.", "a = xxxxx xxx\n."},
                                                                  {"a = 'b.\\' .", "a = xxxxx ."},
                                                                  {"a = \"b\\\"c\" .", "a = xxxxxx ."},
                                                                  {"a = \"\"\"b\n.\"\"\" .", "a = xxxxxxxxx ."},
                                                                  {"a = '''b\n.''' .", "a = xxxxxxxxx ."},
                                                                  {"a = \"\" .", "a = xx ."},
                                                                  {"a = \"\\\\\" .", "a = xxxx ."}})
    EXPECT_EQ(toml_outline(toml), outline) << toml;
}

TEST(TomlOutline, KnowsThatTextsOfSeveralLinesMayEndInQuotes) {
  EXPECT_EQ(toml_outline("\"\"\"a\"\"\"\" ."), "xxxxxxxx .");
  EXPECT_EQ(toml_outline("'''a''''' ."), "xxxxxxxxx .");
}

TEST(TomlOutline, EndsATextThatIsNotClosedWithItsLine) {
  EXPECT_EQ(toml_outline("\"a\n."), "xx\n.");
  EXPECT_EQ(toml_outline("'a"), "xx");
  EXPECT_EQ(toml_outline("\"a\\"), "xxx");
  EXPECT_EQ(toml_outline("'''a\n."), "xxxxxx");
}

}  // namespace
}  // namespace windway
