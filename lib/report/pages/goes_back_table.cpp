// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/goes_back_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "report/bench/bench_report.hpp"
#include "report/lines/advice_to_maker.hpp"
#include "report/page/section.hpp"
#include "report/page/typography.hpp"
#include "report/wording/verdict_words.hpp"

namespace windway {
namespace {

constexpr std::size_t most_lines = 3;

VerdictResult result_of(const BenchEntry& entry) { return entry.result.value_or(VerdictResult::not_measured); }

/// Those that fail come first.
constexpr std::array ranks{VerdictResult::fail, VerdictResult::too_close, VerdictResult::not_measured,
                           VerdictResult::pass};

const char* sign_of(VerdictResult result) {
  switch (result) {
    case VerdictResult::fail:
      return "✕";
    case VerdictResult::too_close:
      return "~";
    case VerdictResult::not_measured:
      return "–";
    case VerdictResult::pass:
      break;
  }
  return "";
}

/// What decides comes first, so that it is among those that are shown.
BenchEntry deciding_first(BenchEntry entry) {
  const VerdictResult result = result_of(entry);
  std::stable_partition(entry.judged.begin(), entry.judged.end(),  // Clang 14 does not compile that of std::ranges
                        [&](const EntryJudged& each) { return each.judged.result == result; });
  return entry;
}

std::vector<std::string> first_of(std::vector<std::string> lines) {
  if (lines.size() <= most_lines + 1) return lines;  // one more takes no more room than the words that count it
  const std::size_t others = lines.size() - most_lines;
  lines.resize(most_lines);
  lines.push_back(fmt::format("And {} more", others));
  return lines;
}

Markup lines_of(const std::vector<std::string>& lines, const std::string& look) {
  Markup markup;
  for (const std::string& line : lines) markup += element("div", {{"class", look}}, words_markup(typeset(line)));
  return markup;
}

Markup row_of(const BenchEntry& entry) {
  const VerdictResult result = result_of(entry);
  const std::string name = name_of(entry) + (entry.subject.stage ? " " + *entry.subject.stage : "");
  const Markup sign = element("span", {{"class", "sign"}, {"aria-hidden", "true"}}, words_markup(sign_of(result)));
  return element("tr", {},
                 element("th", {{"scope", "row"}, {"class", "wraps"}}, words_markup(name)) +
                     element("td", {}, sign + words_markup(std::string(" ") + verdict_in_words(result))) +
                     element("td", {{"class", "wraps"}},
                             lines_of(first_of(reasons_of(deciding_first(entry))), "reason") +
                                 lines_of(first_of(work_of(entry)), "work")));
}

}  // namespace

void GoesBackTable::add(const BenchEntry& entry) {
  const auto rank = static_cast<std::size_t>(std::ranges::find(ranks, result_of(entry)) - ranks.begin());
  const bool is_full = shown_ >= most_shown && last_rank() <= rank;
  if (is_full) {
    ++left_out_;
    return;
  }
  const Markup row = row_of(entry);
  bytes_ += row.text().size();
  ++shown_;
  rows_.at(rank).push_back({row, windway::advises_work(entry)});
  while (shown_ > most_shown || bytes_ > most_bytes) leave_out_last();
}

std::size_t GoesBackTable::last_rank() const {
  std::size_t rank = rows_.size() - 1;
  while (rank > 0 && rows_.at(rank).empty()) --rank;
  return rank;
}

void GoesBackTable::leave_out_last() {
  std::vector<Row>& last = rows_.at(last_rank());
  bytes_ -= last.back().markup.text().size();
  last.pop_back();
  --shown_;
  ++left_out_;
}

bool GoesBackTable::advises_work() const {
  return std::ranges::any_of(rows_, [](const auto& rows) { return std::ranges::any_of(rows, &Row::advises_work); });
}

Markup GoesBackTable::section() const {
  if (shown_ + left_out_ == 0) return {};
  Markup headings;
  for (const char* words : {"instrument", "verdict", "why"}) headings += heading_cell(words_markup(words));
  const Markup head = element("thead", {}, element("tr", {}, headings));
  Markup rows;
  for (const auto& of_rank : rows_)
    for (const Row& row : of_rank) rows += row.markup;
  const Markup table = element("table", {{"class", "plain stacks"}, {"aria-labelledby", "goes-back"}},
                               head + element("tbody", {}, rows));
  const Markup others = left_out_ > 0 ? paragraphs({others_in_words(left_out_)}) : Markup();
  const Markup caution = advises_work() ? prose_markup(work_caution(), "caution") : Markup();
  return windway::section("goes-back", "What goes back to the bench", table + others + caution);
}

}  // namespace windway
