// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/measurement_facts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <set>

#include "input/input_file.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

/// "0, 2 and 4 mm out; worked out for 2 mm out"
std::string places_in_words(const HeadPlaces& places) {
  const std::set<double> all(places.out_mm.begin(), places.out_mm.end());
  std::vector<std::string> words;
  for (const double out_mm : all) words.push_back(shortest(out_mm));
  return list_in_words(words) + " mm out; worked out for " + shortest(rounded(places.at_mm)) + " mm out";
}

std::string head_in_words(const Measurement& measurement) {
  const Head& head = measurement.settings.head;
  if (!head.moves) return "fixed";
  const std::string reach = head.travel_mm ? "; it goes out " + shortest(*head.travel_mm) + " mm at most" : "";
  if (measurement.places) return places_in_words(*measurement.places) + reach;
  if (!head.out_mm) return "its place was not given";
  return (*head.out_mm == 0 ? "fully in" : shortest(*head.out_mm) + " mm out") + reach;
}

std::string take_in_words(const TakeInfo& take) {
  return fmt::format("{}, {} s, {} kHz{}", take_name(take.path), fixed(take.duration_s, 0),
                     shortest(take.sample_rate_hz / 1000.0), take.recorded_at ? ", recorded " + *take.recorded_at : "");
}

}  // namespace

Facts facts_of(const TakeInfo& take) {
  Facts facts{{"recording", take_in_words(take)}};
  if (!take.sha256.empty()) facts.emplace_back("SHA-256", take.sha256);
  return facts;
}

Facts facts_of(const Measurement& measurement) {
  const MeasureSettings& settings = measurement.settings;
  Facts facts;
  for (const TakeInfo& take : measurement.takes) std::ranges::move(facts_of(take), std::back_inserter(facts));
  facts.emplace_back("target", a4_in_words(settings) + ", " +
                                   temperament_in_words(settings.tuning.temperament, settings.note_names) +
                                   ", sounding pitch");
  facts.emplace_back("air in the bore",
                     "taken as " + shortest(settings.air.temperature_c) + " °C" +
                         (settings.quote_at_c ? "; pitches given for " + shortest(*settings.quote_at_c) + " °C" : ""));
  facts.emplace_back("head", head_in_words(measurement));
  return facts;
}

}  // namespace windway
