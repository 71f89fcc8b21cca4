// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/bench_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <utility>

#include "report/bench/bench_csv.hpp"
#include "report/bench/first_lines.hpp"
#include "report/bench/junit.hpp"
#include "report/bench/warned_takes.hpp"
#include "report/lines/advice_to_maker.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/verdict_words.hpp"

namespace windway {
namespace {

std::string plural(std::uint64_t count, const char* one, const char* several) {
  return fmt::format("{} {}", count, count == 1 ? one : several);
}

class LinesReport : public BenchReport {
 public:
  std::string add(const BenchEntry&, std::string_view line) override { return std::string(line) + "\n"; }
  std::string finish(const BenchTally&) override { return ""; }
};

class CsvReport : public BenchReport {
 public:
  explicit CsvReport(CsvForm form) : table_(form) {}
  std::string add(const BenchEntry& entry, std::string_view) override { return table_.add(entry); }
  std::string finish(const BenchTally&) override { return table_.finish(); }

 private:
  BenchCsv table_;
};

class TestReport : public BenchReport {
 public:
  explicit TestReport(TallyRules rules) : rules_(std::move(rules)) {}
  std::string add(const BenchEntry& entry, std::string_view) override {
    report_.add(as_judged(entry));
    return "";
  }
  std::string finish(const BenchTally&) override { return report_.text(); }

 private:
  /// Saved results may hold verdicts on what is not to be judged now.
  BenchEntry as_judged(BenchEntry entry) const {
    const bool is_of_others = !is_of_stage(rules_, entry.subject);
    if (!is_of_others && !is_keeper(rules_, entry)) return entry;
    entry.result.reset();
    entry.judged.clear();
    if (is_of_others) entry.error.clear();
    return entry;
  }

  TallyRules rules_;
  JUnitReport report_;
};

/// The statistics alone, as `write` words them.
class StatisticsReport : public BenchReport {
 public:
  using Write = std::function<std::string(const BenchTally&, const BenchFindings&)>;

  explicit StatisticsReport(Write write) : write_(std::move(write)) {}
  std::string add(const BenchEntry&, std::string_view) override { return ""; }
  std::string finish(const BenchTally& tally) override { return write_(tally, findings_of(tally)); }

 private:
  Write write_;
};

/// The reasons of one take that did not pass and the work on it, one line each.
Prose reasons_prose(const BenchEntry& entry) {
  Prose prose;
  for (const std::string& reason : reasons_of(entry)) prose += words("      " + reason, 8);
  for (const std::string& work : work_of(entry)) prose += words("      " + work, 8);
  return prose;
}

Prose heading_of(const BenchEntry& entry) {
  const VerdictResult result = entry.result.value_or(VerdictResult::not_measured);
  const std::string stage = entry.subject.stage ? " " + *entry.subject.stage : "";
  const std::string take = entry.subject.serial ? "  (" + entry.path + ")" : "";
  return words(fmt::format("  {}{}: {}{}", name_of(entry), stage, verdict_in_words(result), take), 4);
}

/// Instruments that did not pass, then the statistics.
class TextReport : public BenchReport {
 public:
  TextReport(TallyRules rules, std::size_t columns) : rules_(std::move(rules)), columns_(columns) {}
  std::string add(const BenchEntry& entry, std::string_view) override {
    if (!goes_back(rules_, entry) || ++shown_ > most_shown) return "";
    rows_ += heading_of(entry) + reasons_prose(entry);
    advises_work_ = advises_work_ || advises_work(entry);
    return "";
  }
  std::string finish(const BenchTally& tally) override {
    const BenchFindings findings = findings_of(tally);
    Prose prose = words(counts_in_words(tally.verdicts)) + after_counts_prose(tally, findings);
    if (!rows_.empty()) prose += Prose(Gap{}) + rows_;
    if (shown_ > most_shown) prose += words("  " + others_in_words(shown_ - most_shown), 2);
    prose += warned_takes_prose(tally.warned) + bench_statistics_prose(tally, findings);
    if (advises_work_ || advises_work(findings)) prose += Prose(Gap{}) + work_caution();
    return text_of(prose, columns_);
  }

 private:
  static constexpr std::size_t most_shown = 2000;  // so that room does not grow with the bench

  TallyRules rules_;
  std::size_t columns_;
  Prose rows_;
  bool advises_work_ = false;
  std::size_t shown_ = 0;
};

std::string unasked_in_words(std::uint64_t count) {
  return plural(count, "instrument was", "instruments were") + " measured without limits";
}

}  // namespace

Prose after_counts_prose(const BenchTally& tally, const BenchFindings& findings) {
  Prose prose = first_lines(tally, findings);
  if (tally.overtaken > 0)
    prose += words(fmt::format("If an instrument has several takes, the last one counts; {} {} left out.",
                               tally.overtaken, tally.overtaken == 1 ? "was" : "were"));
  if (tally.of_other_stages > 0)
    prose += words(fmt::format("Only takes of the stage {} are judged; {} of other stages.", *tally.rules.stage,
                               plural(tally.of_other_stages, "is", "are")));
  return prose;
}

bool goes_back(const TallyRules& rules, const BenchEntry& entry) {
  const bool passed = entry.error.empty() && (!entry.result || entry.result == VerdictResult::pass);
  const bool is_judged = entry.counting.counts && is_of_stage(rules, entry.subject);
  return is_keeper(rules, entry) ? !entry.error.empty() : is_judged && !passed;
}

std::string others_in_words(std::size_t count) {
  return fmt::format("and {} more; --format csv lists all of them.", count);
}

bool advises_work(const BenchEntry& entry) { return std::ranges::any_of(entry.work, &EntryWork::one_hole_mends); }

bool advises_work(const BenchFindings& findings) {
  return findings.advice && std::ranges::any_of(findings.advice->degrees, &HoleAdvice::is_sure);
}

std::vector<std::string> reasons_of(const BenchEntry& entry) {
  std::vector<std::string> reasons;
  for (const EntryJudged& each : entry.judged)
    if (!each.message.empty()) reasons.push_back(each.message);
  if (reasons.empty() && !entry.error.empty()) reasons.push_back(entry.error);
  return reasons;
}

std::vector<std::string> work_of(const BenchEntry& entry) {
  std::vector<std::string> work;
  for (const EntryWork& each : entry.work) work.push_back((each.one_hole_mends ? "Work: " : "") + each.message);
  return work;
}

std::string counts_in_words(const VerdictCounts& counts) {
  const std::uint64_t all = counts.all();
  if (all == 0) return "No instrument was measured.";
  const std::uint64_t unmeasured = counts.of(VerdictResult::not_measured);
  if (unmeasured == all)
    return all == 1 ? "The instrument was not measured." : fmt::format("None of {} instruments was measured.", all);
  const std::uint64_t judged = all - counts.measured_only;
  if (counts.measured_only > 0 && judged == unmeasured) {
    std::string words = plural(counts.measured_only, "instrument was", "instruments were") +
                        " measured; without a limit none is judged (--tolerance CENTS sets one)";
    if (unmeasured > 0) words += fmt::format("; {} not measured", plural(unmeasured, "was", "were"));
    return words + ".";
  }
  std::string words =
      fmt::format("{} of {} pass{}", counts.of(VerdictResult::pass), plural(judged, "instrument", "instruments"),
                  counts.of(VerdictResult::pass) == 1 ? "es" : "");
  const std::uint64_t fails = counts.of(VerdictResult::fail);
  const std::uint64_t close = counts.of(VerdictResult::too_close);
  if (fails > 0) words += fmt::format(", {} fail{}", fails, fails == 1 ? "s" : "");
  if (close > 0) words += ", " + plural(close, "is", "are") + " too close to call";
  if (unmeasured > 0) words += ", " + plural(unmeasured, "was", "were") + " not measured";
  if (counts.measured_only > 0) words += "; " + unasked_in_words(counts.measured_only);
  return words + ".";
}

std::unique_ptr<BenchReport> bench_report(const std::string& format, const TallyRules& rules,
                                          const std::string& program_version, std::size_t columns, CsvForm form) {
  if (format == "csv") return std::make_unique<CsvReport>(form);
  if (format == "jsonl") return std::make_unique<LinesReport>();
  if (format == "junit") return std::make_unique<TestReport>(rules);
  if (format == "json")
    return std::make_unique<StatisticsReport>(
        [program_version](const BenchTally& tally, const BenchFindings& findings) {
          return bench_statistics_json(tally, findings, program_version);
        });
  if (format == "csv-statistics")
    return std::make_unique<StatisticsReport>([form](const BenchTally& tally, const BenchFindings& findings) {
      return bench_statistics_csv(tally, findings, form);
    });
  return std::make_unique<TextReport>(rules, columns);
}

}  // namespace windway
