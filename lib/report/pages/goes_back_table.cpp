// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/goes_back_table.hpp"

#include <fmt/format.h>

#include <numeric>
#include <string>
#include <vector>

#include "report/bench/bench_report.hpp"
#include "report/lines/advice_to_maker.hpp"
#include "report/page/section.hpp"
#include "report/page/typography.hpp"
#include "report/wording/verdict_words.hpp"

namespace windway {
namespace {

constexpr std::size_t most_reasons = 3;

VerdictResult result_of(const BenchEntry& entry) { return entry.result.value_or(VerdictResult::not_measured); }

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

std::vector<std::string> reasons_of(const BenchEntry& entry) {
  std::vector<std::string> reasons;
  for (const EntryJudged& each : entry.judged)
    if (!each.message.empty()) reasons.push_back(each.message);
  if (reasons.empty() && !entry.error.empty()) reasons.push_back(entry.error);
  if (reasons.size() > most_reasons + 1) {  // one more takes no more room than the words that count it
    const std::size_t others = reasons.size() - most_reasons;
    reasons.resize(most_reasons);
    reasons.push_back(fmt::format("and {} more", others));
  }
  return reasons;
}

Markup lines_of(const std::vector<std::string>& lines, const std::string& look) {
  Markup markup;
  for (const std::string& line : lines) markup += element("div", {{"class", look}}, words_markup(typeset(line)));
  return markup;
}

std::vector<std::string> work_of(const BenchEntry& entry) {
  std::vector<std::string> work;
  for (const EntryWork& each : entry.work)
    if (work.size() < most_reasons) work.push_back((each.one_hole_mends ? "Work: " : "") + each.message);
  return work;
}

Markup row_of(const BenchEntry& entry) {
  const VerdictResult result = result_of(entry);
  const std::string name = name_of(entry) + (entry.subject.stage ? " " + *entry.subject.stage : "");
  const Markup sign = element("span", {{"class", "sign"}, {"aria-hidden", "true"}}, words_markup(sign_of(result)));
  return element("tr", {},
                 element("th", {{"scope", "row"}, {"class", "wraps"}}, words_markup(name)) +
                     element("td", {}, sign + words_markup(std::string(" ") + verdict_in_words(result))) +
                     element("td", {{"class", "wraps"}},
                             lines_of(reasons_of(entry), "reason") + lines_of(work_of(entry), "work")));
}

Markup heading(const char* words) { return element("th", {{"scope", "col"}}, words_markup(words)); }

}  // namespace

std::size_t GoesBackTable::bytes() const {
  return std::accumulate(rows_.begin(), rows_.end(), std::size_t{0},
                         [](std::size_t sum, const Markup& rows) { return sum + rows.text().size(); });
}

void GoesBackTable::add(const BenchEntry& entry) {
  const Markup row = shown_ < most_shown ? row_of(entry) : Markup();
  if (row.empty() || bytes() + row.text().size() > most_bytes) {
    ++left_out_;
    return;
  }
  rows_[static_cast<std::size_t>(result_of(entry))] += row;
  ++shown_;
  advises_work_ = advises_work_ || windway::advises_work(entry);
}

Markup GoesBackTable::section() const {
  if (shown_ + left_out_ == 0) return {};
  const Markup head =
      element("thead", {}, element("tr", {}, heading("instrument") + heading("verdict") + heading("why")));
  Markup rows;
  for (const VerdictResult result : {VerdictResult::fail, VerdictResult::too_close, VerdictResult::not_measured})
    rows += rows_[static_cast<std::size_t>(result)];
  const Markup table = element("table", {{"class", "plain stacks"}, {"aria-labelledby", "goes-back"}},
                               head + element("tbody", {}, rows));
  const Markup others = left_out_ > 0 ? paragraphs({others_in_words(left_out_)}) : Markup();
  const Markup caution = advises_work_ ? prose_markup(work_caution(), "caution") : Markup();
  return windway::section("goes-back", "What goes back to the bench", table + others + caution);
}

}  // namespace windway
