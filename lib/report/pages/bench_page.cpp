// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/bench_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>
#include <variant>

#include "error.hpp"
#include "report/bench/bench_parts.hpp"
#include "report/bench/groups_text.hpp"
#include "report/bench/keeper_text.hpp"
#include "report/bench/notes_text.hpp"
#include "report/bench/warned_takes.hpp"
#include "report/bench_figures/bench_figures.hpp"
#include "report/lines/advice_to_maker.hpp"
#include "report/page/named_figure.hpp"
#include "report/page/section.hpp"
#include "report/pages/goes_back_table.hpp"
#include "report/wording/choices.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

/// "190 of 200 instruments pass, 7 fail"; what comes after a semicolon goes below.
Headline counts_headline(const VerdictCounts& counts) {
  std::string words = counts_in_words(counts);
  words.pop_back();
  const std::size_t end = words.find("; ");
  if (end == std::string::npos) return {words, ""};
  return {words.substr(0, end), capitalised(words.substr(end + 2)) + "."};
}

/// "2026-03-02 to 2026-03-26"; empty where nothing is dated.
std::string dates_in_words(const BenchTally& tally) {
  if (!tally.first_day) return "";
  return tally.first_day == tally.last_day ? *tally.first_day : *tally.first_day + " to " + *tally.last_day;
}

std::string model_in_words(const BenchTally& tally) {
  if (!tally.model || !tally.model->lowest_midi) return "Bench";
  if (tally.models_differ) return "Instruments of several kinds or keys";
  const std::string lowest = spelt(*tally.model, {*tally.model->lowest_midi});
  const std::string key = lowest.substr(0, lowest.find_first_of("-0123456789"));
  return capitalised(fmt::format("{} in {} from {}", word_of(tally.model->kind), key, lowest));
}

std::string above_in_words(const BenchTally& tally) {
  const std::string dates = dates_in_words(tally);
  return model_in_words(tally) + (dates.empty() ? "" : ", recorded " + dates);
}

Facts facts_of(const BenchTally& tally) {
  Facts facts{{"takes", std::to_string(tally.takes)}};
  if (const std::string dates = dates_in_words(tally); !dates.empty()) facts.emplace_back("recorded", dates);
  if (tally.model && !tally.a4_differs) facts.emplace_back("target", "A4 = " + shortest(tally.model->a4_hz) + " Hz");
  if (tally.rules.stage) facts.emplace_back("stage", *tally.rules.stage);
  return facts;
}

/// Statistics in words and tables, without what a figure shows.
Prose statistics_prose(const BenchTally& tally, const BenchFindings& findings) {
  return basis_prose(tally) + notes_table_prose(tally, findings) + targets_prose(tally) +
         figures_prose(tally, findings) + gauge_prose(tally, findings);
}

std::string without_indent(const std::string& text) {
  return text.substr(std::min(text.find_first_not_of(' '), text.size()));
}

/// Remarks that are the matter itself here.
Prose as_sentences(const Prose& prose) {
  Prose sentences;
  for (const Part& part : prose.parts()) {
    const Words* remark = std::get_if<Words>(&part);
    sentences += remark != nullptr ? words(without_indent(remark->text)) : Prose(part);
  }
  return sentences;
}

Markup section_of_prose(const std::string& id, const std::string& title, const Prose& prose) {
  return prose.empty() ? Markup() : section(id, title, prose_markup(prose, title));
}

class BenchPage : public BenchReport {
 public:
  BenchPage(TallyRules rules, PageSource source) : rules_(std::move(rules)), source_(std::move(source)) {}

  std::string add(const BenchEntry& entry, std::string_view) override {
    if (goes_back(rules_, entry)) goes_back_.add(entry);
    return "";
  }

  std::string finish(const BenchTally& tally) override {
    const BenchFindings findings = findings_of(tally);
    const Headline headline = counts_headline(tally.verdicts);
    Page page{above_in_words(tally), headline.heading, "", paragraphs({headline.rest})};
    page.content += prose_markup(after_counts_prose(tally, findings), "opening") + goes_back_.section() +
                    figures(tally, findings) + statistics(tally, findings) + basis_section(facts_of(tally), source_);
    return html_of(page);
  }

 private:
  Markup figures(const BenchTally& tally, const BenchFindings& findings) const {
    Markup all;
    if (!findings.notes.empty()) {
      RowsFigure notes = notes_figure(tally, findings);
      notes.below = prose_markup(deviations_prose(tally, findings), notes.title);
      all += section_of(notes);
    }
    const Markup of_keeper = prose_markup(keeper_prose(tally, findings), "the bench's own flute");
    if (auto production = production_figure(tally, findings)) {
      production->below = of_keeper;
      all += section_of(*production);
    } else if (!of_keeper.empty()) {
      all += section("production", "The bench's own flute", of_keeper);
    }
    if (findings.advice) {
      RowsFigure shared = shared_figure(*findings.advice, *tally.model);
      Prose advice = advice_to_maker(*findings.advice, *tally.model);
      if (advises_work(findings) && !goes_back_.advises_work()) advice += work_caution();
      shared.below = prose_markup(as_sentences(advice), shared.title);
      all += section_of(shared);
    }
    return all;
  }

  static Markup statistics(const BenchTally& tally, const BenchFindings& findings) {
    Markup all;
    if (!findings.notes.empty())
      all += section_of_prose("groups", "Groups", groups_prose(tally, findings)) +
             section_of_prose("figures", "All figures", statistics_prose(tally, findings));
    return all + section_of_prose("doubts", "What is doubtful", warned_takes_prose(tally.warned) + doubts_prose(tally));
  }

  TallyRules rules_;
  PageSource source_;
  GoesBackTable goes_back_;
};

using DrawBench = std::string (*)(const BenchTally&, const BenchFindings&);

[[noreturn]] void cannot_draw(const char* why) {
  throw Error(ErrorKind::recording, std::string("this figure cannot be drawn: ") + why);
}

std::string notes_svg(const BenchTally& tally, const BenchFindings& findings) {
  if (findings.notes.empty()) cannot_draw("no instrument was measured");
  return svg_of(notes_figure(tally, findings));
}

std::string production_svg(const BenchTally& tally, const BenchFindings& findings) {
  const auto production = production_figure(tally, findings);
  if (!production) cannot_draw("the home A4 of no instrument is known");
  return svg_of(*production);
}

std::string shared_svg(const BenchTally& tally, const BenchFindings& findings) {
  if (!findings.advice) cannot_draw("too few instruments of one model were measured to show what they have in common");
  return svg_of(shared_figure(*findings.advice, *tally.model));
}

constexpr std::array<NamedFigure<DrawBench>, 3> drawn_alone{
    {{"notes", notes_svg}, {"production", production_svg}, {"shared", shared_svg}}};

class BenchPicture : public BenchReport {
 public:
  explicit BenchPicture(const std::string& figure) : draw_(figure_named(drawn_alone, figure).draw) {}
  std::string add(const BenchEntry&, std::string_view) override { return ""; }

  std::string finish(const BenchTally& tally) override { return draw_(tally, findings_of(tally)); }

 private:
  DrawBench draw_;
};

}  // namespace

std::unique_ptr<BenchReport> bench_page(const TallyRules& rules, const PageSource& source) {
  return std::make_unique<BenchPage>(rules, source);
}

std::unique_ptr<BenchReport> bench_picture(const std::string& figure) { return std::make_unique<BenchPicture>(figure); }

std::vector<std::string> bench_figures() { return names_of(drawn_alone); }

}  // namespace windway
