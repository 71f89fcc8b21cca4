// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/player_pages.hpp"

#include "report/figures/player_figures.hpp"
#include "report/pages/measurement_facts.hpp"
#include "report/pages/prose_page.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

/// The facts of several measurements, each under a name of its own.
Facts facts_of_both(const Measurement& before, const Measurement& after) {
  Facts facts;
  for (const auto& [name, value] : facts_of(before)) facts.emplace_back("before: " + name, value);
  for (const auto& [name, value] : facts_of(after)) facts.emplace_back("after: " + name, value);
  return facts;
}

}  // namespace

std::string check_page(const HeadCheck& check, const Measurement& earlier, const PageSource& source) {
  return page_of(check_prose(check, earlier),
                 {.above = "Is the head set? " + capitalised(instrument_in_words(earlier))}, facts_of(earlier), source);
}

std::string compare_page(const Comparison& comparison, const Measurement& before, const Measurement& after,
                         const PageSource& source) {
  return page_of(compare_prose(comparison, before),
                 {.above = "What has changed: " + instrument_in_words(before),
                  .figures = section_of(compare_figure(comparison, before, after))},
                 facts_of_both(before, after), source);
}

std::string partner_page(const Partner& partner, const PageSource& source) {
  return page_of(partner_prose(partner), {.above = "A partner of fixed pitch", .tables_title = "Its notes"},
                 facts_of(partner.take), source);
}

std::string playing_page(const Playing& playing, const PageSource& source) {
  return page_of(playing_prose(playing),
                 {.above = capitalised(kind_name(playing.instrument.kind)) + " in real playing",
                  .figures = section_of(playing_figure(playing))},
                 facts_of(playing.take), source);
}

std::string card_page(const HeadCard& card, const Measurement& measurement, const PageSource& source) {
  return page_of(card_prose(card, measurement),
                 {.above = "A card for the flute's case", .tables_title = "At other A4 and temperatures"},
                 facts_of(measurement), source);
}

std::string take_history_page(const TakeHistory& history, const PageSource& source) {
  Facts facts;
  for (const FluteResult& take : history.takes) facts.emplace_back("take", take.name);
  return page_of(take_history_prose(history), {.above = "Takes of one flute", .tables_title = "The takes"}, facts,
                 source);
}

}  // namespace windway
