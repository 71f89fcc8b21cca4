// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/measurement/takes_text.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "report/wording/figures.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/spelling.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

/// "0, 2, 4 and 6 mm"
std::string places_in_words(const HeadPlaces& places) {
  const std::set<double> all(places.out_mm.begin(), places.out_mm.end());
  std::vector<std::string> words;
  for (const double place_mm : all) words.push_back(shortest(place_mm));
  return list_in_words(words) + " mm";
}

std::string beyond_the_places(const HeadPlaces& places, double best_mm) {
  const auto [least, most] = std::ranges::minmax_element(places.out_mm);
  if (best_mm >= *least && best_mm <= *most) return "";
  return " That is beyond the places you recorded: record a take there too.";
}

/// "0.97 (± 0.02)"
std::string factor_in_words(const SlideFactor& factor) {
  const int places = std::max(2, places_deserved(factor.u95, 3));
  return fixed(factor.factor, places) + " (" + plus_minus(factor.u95, places) + ")";
}

std::string how_the_law_held(const HeadPlaces& places) {
  if (!places.factor) return "No note was held at two places, so these takes cannot show how a move changes its pitch.";
  const std::string factor = factor_in_words(*places.factor) + " times as much as the length of its tube predicts";
  if (places.factor_is_telling) return "A move changes the pitch of this flute " + factor + ".";
  return "By these takes a move changes its pitch " + factor +
         ". windway did not use that: it is less sure than what was known, or cannot be right.";
}

std::string scatter_about_it(const HeadPlaces& places) {
  if (!places.rest_sd_cents) return "";
  const double sd_cents = *places.rest_sd_cents;
  return " Single notes differ from that by " + std::string(sd_cents < 0.1 ? "less than 0.1" : fixed(sd_cents, 1)) +
         " cents (standard deviation).";
}

std::string not_following(const Measurement& measurement) {
  std::vector<std::string> names;
  for (const NoteId& note : measurement.places->not_following) names.push_back(spelt_for_people(note, measurement));
  if (names.empty()) return "";
  return " " + list_in_words(names) + (names.size() == 1 ? " does" : " do") + " not follow that.";
}

std::string takes_in_words(const Measurement& measurement) {
  const std::size_t all = measurement.takes.size(), compared = measurement.agreement->takes.size();
  if (compared < all) return std::to_string(compared) + " of the " + std::to_string(all) + " takes agree within ";
  return "The " + std::to_string(all) + " takes agree within ";
}

}  // namespace

std::string best_place_line(const Measurement& measurement, const std::string& residuals) {
  const Compromise& compromise = *measurement.compromise;
  const HeadPlaces& places = *measurement.places;
  const double best_mm = places.at_mm + compromise.slide_mm;
  if (compromise.limit == SlideLimit::fully_in) return "The head belongs fully in: the scale is " + residuals + ".";
  if (compromise.limit)
    return "The head belongs at the end of its travel, " + fixed(best_mm, 1) + " mm out: the scale is " + residuals +
           ".";
  const double u95_mm = slide_u95_mm(compromise);
  const int decimals = places_deserved(u95_mm, 1);
  return "The best place for the head is " + fixed(best_mm, decimals) + " mm out (" + plus_minus(u95_mm, decimals) +
         "), from " + count_in_words(measurement.takes.size(), "take") + " at " + places_in_words(places) + "." +
         beyond_the_places(places, best_mm);
}

std::string home_place_in_words(const Measurement& measurement) {
  if (!measurement.places) return "As it stands";
  return "With the head " + shortest(measurement.places->at_mm) + " mm out";
}

Prose place_legend(const Measurement& measurement) {
  if (!measurement.places) return {};
  return words("  soft, moderate, hard: with the head " + shortest(measurement.places->at_mm) + " mm out", 2);
}

Prose law_line(const Measurement& measurement) {
  if (!measurement.places) return {};
  const HeadPlaces& places = *measurement.places;
  return words("  All takes are worked out for the head " + shortest(places.at_mm) + " mm out. " +
                   how_the_law_held(places) + scatter_about_it(places) + not_following(measurement),
               2);
}

Prose agreement_line(const Measurement& measurement) {
  const auto& agreement = measurement.agreement;
  if (measurement.takes.size() < 2 || measurement.breath.notes.size() < 2) return {};
  if (!agreement) {
    if (find_warning(measurement.warnings, WarningCode::takes_not_compared)) return {};
    return words("  These takes were blown at different strengths, so they cannot show how well you repeat one.", 2);
  }
  if (!agreement->agree) return {};
  std::string line = "  " + takes_in_words(measurement) + size_in_words(agreement->apart);
  if (agreement->note_u95_cents > 0)
    line += "; a single note repeats within " + fixed(std::max(0.1, agreement->note_u95_cents), 1) + " cents";
  return words(line + ".", 2);
}

}  // namespace windway
