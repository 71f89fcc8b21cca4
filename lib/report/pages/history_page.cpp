// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/history_page.hpp"

#include <fmt/format.h>

#include <cstddef>

#include "report/bench/history_report.hpp"
#include "report/bench_figures/bench_figures.hpp"
#include "report/pages/prose_page.hpp"

namespace windway {

std::string history_page(const History& history, const PageSource& source) {
  constexpr std::size_t wide_columns = 10000;  // a page's table scrolls by itself
  constexpr std::size_t most_steps = 12;
  const std::size_t first = history.steps.size() > most_steps ? history.steps.size() - most_steps : 0;
  ProsePage form{"History of an instrument"};
  form.tables_title = "All takes";
  if (first > 0)
    form.figures += paragraphs({fmt::format("Of {} steps of the work the last {} are drawn; All takes has the others.",
                                            history.steps.size(), most_steps)});
  for (std::size_t step = first; step < history.steps.size(); ++step)
    if (!history.steps[step].notes.empty()) form.figures += section_of(step_figure(history, step));
  return page_of(history_prose(history, wide_columns), form, {}, source);
}

}  // namespace windway
