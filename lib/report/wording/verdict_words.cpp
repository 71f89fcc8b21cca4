// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/verdict_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

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
  return fmt::format("{} is {} after the best move", spelt(*judged.note, instrument), off_by(judged)) +
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
  const std::string rests = fmt::format("its head comes to rest {} mm out ({})", fixed(*judged.value, places),
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
  static constexpr std::array<std::pair<Criterion, const char*>, 5> names{
      {{Criterion::note, "each note"},
       {Criterion::spread, "the spread from soft to hard"},
       {Criterion::octave, "the octaves"},
       {Criterion::head_place, "the place of the head"},
       {Criterion::reach_of_a4, "the reach of A4"}}};
  std::vector<std::string> found;
  for (const auto& [criterion, name] : names)
    if (std::ranges::any_of(judged, [&](const EntryJudged& each) { return each.judged.criterion == criterion; }))
      found.emplace_back(name);
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
