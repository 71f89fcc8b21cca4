// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/verdict_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "instrument/note.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/words.hpp"
#include "units/count_in_words.hpp"

namespace windway {
namespace {

constexpr int most_places = 1;

/// "21.3 cents sharp (± 0.4)".
std::string off_by(const Judged& judged) {
  const int places = places_deserved(judged.u95, most_places);
  return fmt::format("{} {} ({})", count_in_words(fixed(std::abs(*judged.value), places), "cent"),
                     *judged.value > 0 ? "sharp" : "flat", plus_minus(judged.u95, places));
}

/// The limit, and what to do where it was neither clearly kept nor clearly broken.
std::string limit_words(const Judged& judged, const std::string& limit) {
  if (judged.result == VerdictResult::fail) return "; " + limit;
  return ", too close to call (" + limit + "): record again";
}

std::string note_reason(const Judged& judged, const Instrument& instrument) {
  return fmt::format("{} is {} with the head at its best place", spelt(*judged.note, instrument), off_by(judged)) +
         limit_words(judged, "tolerance " + shortest(*judged.upper));
}

std::string spread_reason(const Judged& judged, const Instrument& instrument) {
  const int places = places_deserved(judged.u95, most_places);
  return fmt::format("{} moves {} ({}) from soft to hard", spelt(*judged.note, instrument),
                     count_in_words(fixed(*judged.value, places), "cent"), plus_minus(judged.u95, places)) +
         limit_words(judged, "at most " + shortest(*judged.upper));
}

std::string octave_reason(const Judged& judged) {
  const int places = places_deserved(judged.u95, most_places);
  return fmt::format("the octave is {} too {} ({})", count_in_words(fixed(std::abs(*judged.value), places), "cent"),
                     *judged.value > 0 ? "wide" : "narrow", plus_minus(judged.u95, places)) +
         limit_words(judged, "at most " + shortest(*judged.upper));
}

std::string head_reason(const Judged& judged) {
  const int places = places_deserved(judged.u95, most_places);
  const std::string rests = fmt::format("its head's best place is {} mm out ({})", fixed(*judged.value, places),
                                        plus_minus(judged.u95, places));
  const std::string limit = fmt::format("{} to {} mm allowed", shortest(*judged.lower), shortest(*judged.upper));
  if (judged.result == VerdictResult::too_close) return rests + limit_words(judged, limit);
  return rests + "; " + limit + (*judged.value < *judged.lower ? ": the body is too long" : ": the body is too short");
}

std::string reach_reason(const Judged& judged) {
  const bool flat = *judged.value < 0;
  return fmt::format("{} it is still {}", flat ? "fully in" : "drawn out as far as it goes", off_by(judged)) +
         limit_words(judged,
                     fmt::format("tolerance {}, the body is too {}", shortest(*judged.upper), flat ? "long" : "short"));
}

std::vector<Judged> judged_by(Criterion criterion, const std::vector<EntryJudged>& all) {
  std::vector<Judged> found;
  for (const EntryJudged& each : all)
    if (each.judged.criterion == criterion) found.push_back(each.judged);
  return found;
}

/// " within 12 cents"; where notes have limits of their own " within 8 to 20 cents"; empty where one is not known.
std::string upper_in_words(const std::vector<Judged>& judged, const std::string& how) {
  std::vector<double> limits_cents;
  for (const Judged& each : judged)
    if (each.upper) limits_cents.push_back(*each.upper);
  if (limits_cents.empty() || limits_cents.size() < judged.size()) return "";
  const auto [least, most] = std::ranges::minmax(limits_cents);
  return " " + how + " " + (least < most ? shortest(least) + " to " : "") + count_in_words(shortest(most), "cent");
}

/// Empty where nothing was judged by it.
std::string criterion_in_words(const std::vector<Judged>& judged, Criterion criterion) {
  if (judged.empty()) return "";
  const std::string notes = count_in_words(judged.size(), "note");
  switch (criterion) {
    case Criterion::note:
      return notes + upper_in_words(judged, "within");
    case Criterion::spread:
      return "spread of " + notes + upper_in_words(judged, "at most");
    case Criterion::octave:
      return "the octaves" + upper_in_words(judged, "within");
    case Criterion::reach_of_a4:
      return "A4 with the head at the end of its travel" + upper_in_words(judged, "within");
    case Criterion::head_place: {
      const Judged& head = judged.front();
      if (!head.lower || !head.upper) return "the place of the head";
      return "the head at " + shortest(*head.lower) + " to " + shortest(*head.upper) + " mm out";
    }
    case Criterion::take:
    case Criterion::heard:
      break;
  }
  return "";
}

std::string unjudged_reason(const Judged& judged, const Instrument& instrument) {
  return judged.note ? spelt(*judged.note, instrument) + ": " + judged.why : judged.why;
}

}  // namespace

std::string reason_in_words(const Judged& judged, const Instrument& instrument) {
  if (judged.result == VerdictResult::pass) return "";
  if (!judged.value) return unjudged_reason(judged, instrument);
  switch (judged.criterion) {
    case Criterion::note:
      return note_reason(judged, instrument);
    case Criterion::spread:
      return spread_reason(judged, instrument);
    case Criterion::octave:
      return octave_reason(judged);
    case Criterion::head_place:
      return head_reason(judged);
    case Criterion::reach_of_a4:
      return reach_reason(judged);
    case Criterion::take:
    case Criterion::heard:
      break;
  }
  return unjudged_reason(judged, instrument);
}

void set_messages(BenchEntry& entry) {
  Instrument instrument = builtin_instrument(entry.kind, entry.lowest_midi.value_or(0));
  instrument.note_names = entry.note_names;
  for (EntryJudged& each : entry.judged)
    if (each.message.empty()) each.message = reason_in_words(each.judged, instrument);
}

std::string criteria_in_words(const std::vector<EntryJudged>& judged) {
  std::vector<std::string> found;
  for (const Criterion criterion :
       {Criterion::note, Criterion::spread, Criterion::octave, Criterion::head_place, Criterion::reach_of_a4})
    if (const std::string words = criterion_in_words(judged_by(criterion, judged), criterion); !words.empty())
      found.push_back(words);
  return list_in_words(found);
}

const char* verdict_in_words(VerdictResult result) {
  switch (result) {
    case VerdictResult::pass:
      return "passes";
    case VerdictResult::fail:
      return "fails";
    case VerdictResult::too_close:
      return "too close to call";
    case VerdictResult::not_measured:
      break;
  }
  return "not measured";
}

}  // namespace windway
