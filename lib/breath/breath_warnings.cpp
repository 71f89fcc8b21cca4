// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/breath_warnings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <optional>

#include "breath/blows/note_list.hpp"
#include "breath/response/drift.hpp"
#include "units/order_statistics.hpp"

namespace windway {
namespace {

template <class Predicate>
std::vector<NoteId> notes_where(const std::vector<NoteResponse>& responses, Predicate holds) {
  std::vector<NoteId> notes;
  for (const NoteResponse& response : responses)
    if (std::invoke(holds, response)) notes.push_back(response.note.id);
  return notes;
}

std::string of_notes(const std::vector<NoteId>& notes, std::size_t all, const Instrument& instrument) {
  return notes.size() == all && all > 1 ? "all notes" : list_notes(notes, instrument);
}

/// Levels of different takes are not compared, so each take's strength must be said.
std::string remedy_for(const Naming& naming, const BlowHint& hint) {
  const bool several_takes = std::any_of(naming.holds.begin(), naming.holds.end(), [&](const NamedHold& h) {
    return h.hold.take != naming.holds.front().hold.take;
  });
  return several_takes && hint.blow_of_take.empty()
             ? "If each take was blown at one strength, give them with --soft, --moderate and --hard."
             : "Blow each note soft, moderate and hard and record again.";
}

/// `hint`: where the player named the blows, the sound was not asked.
Warning spread_not_measured(const std::vector<NoteId>& missing, std::size_t notes, const Naming& naming,
                            const BlowHint& hint) {
  const std::string remedy = remedy_for(naming, hint);
  if (missing.size() == notes && notes > 1 && !says_anything(hint))
    return {WarningCode::spread_not_measured,
            "the notes seem to be blown at one strength, so their spread is not known. " + remedy};
  const bool one = missing.size() == 1;
  return {WarningCode::spread_not_measured, "the spread of " + list_notes(missing, naming.instrument) +
                                                " is not known: soft and hard blows of " + (one ? "it" : "them") +
                                                " were not both found, or their pitch hardly differs. " + remedy};
}

Warning moderate_not_blown(const std::vector<NoteId>& lone, const Instrument& instrument) {
  const bool one = lone.size() == 1;
  return {WarningCode::moderate_not_blown, list_notes(lone, instrument) +
                                               " may not have been blown moderately: " + (one ? "its" : "their") +
                                               " moderate pitch is a guess from the other notes. Blow " +
                                               (one ? "it" : "them") + " moderately and record again."};
}

/// Soft and hard are far apart in pitch and hardly in level. A flute's pitch moves 1.5 to 3.5 cents for a decibel
/// (simulated flutes), behind a compressor of 4:1 6 to 14.
std::optional<Warning> squeezed(const std::vector<NoteResponse>& responses) {
  constexpr double most_cents_per_db = 5.0, least_range_db = 3.5;
  std::vector<double> cents_per_db, ranges_db;
  for (const NoteResponse& response : responses) {
    if (response.note.cents_per_db) cents_per_db.push_back(response.note.cents_per_db->cents);
    if (response.note.level_range_db) ranges_db.push_back(*response.note.level_range_db);
  }
  const auto slope = median_of(cents_per_db), range_db = median_of(ranges_db);
  if (!slope || !range_db || *slope < most_cents_per_db || *range_db > least_range_db) return std::nullopt;
  return Warning{
      WarningCode::levelled,
      fmt::format("soft and hard blows are only {:.1f} dB apart in the recording, and {:.0f} cents in pitch: "
                  "the recorder brought the levels nearer together. Cents per dB are too large for that. Turn "
                  "off its automatic level control or compressor and record again.",
                  *range_db, *slope * *range_db)};
}

/// What a cold flute could hide in these notes, where repeats do not show it.
std::optional<Warning> warming_unseen(const std::vector<NoteResponse>& responses, const Instrument& instrument) {
  double rise_cents = 0;
  for (const NoteResponse& response : responses)
    rise_cents = std::max(rise_cents, response.note.later_warming_u95_cents.value_or(0.0));
  const auto apart = notes_where(responses, [](const NoteResponse& r) { return r.note.warming_u95_cents.has_value(); });
  if (rise_cents < drift_worth_a_word_cents && apart.empty()) return std::nullopt;
  std::string message = fmt::format(
      "no notes come again later in the recording, so a flute that was still getting warmer would not show. The ± of "
      "the move allows for a rise of {:.0f} cents.",
      rise_cents);
  if (!apart.empty())
    message += " Soft and hard blows of " + of_notes(apart, responses.size(), instrument) +
               " are far apart in time, so warming may also pass for breath.";
  return Warning{WarningCode::warming_unseen,
                 message + " Play the scale down again too, or say --warm if you had played the flute warm."};
}

}  // namespace

Warnings response_warnings(const std::vector<NoteResponse>& responses, const Loudness& loudness, const Naming& naming,
                           const BlowHint& hint) {
  const Instrument& instrument = naming.instrument;
  Warnings warnings;
  const auto contradicted = notes_where(responses, &NoteResponse::blows_contradict);
  if (!contradicted.empty())
    warnings.push_back(
        {WarningCode::blows_contradict, "on " + of_notes(contradicted, responses.size(), instrument) +
                                            " the blow given as hard is flatter than the one given as soft. Check the "
                                            "order given with --blown, or which take is which."});
  const auto missing = notes_where(responses, [](const NoteResponse& r) { return !r.note.spread; });
  if (missing.size() > contradicted.size())
    warnings.push_back(spread_not_measured(missing, responses.size(), naming, hint));
  if (const auto lone = notes_where(responses, &NoteResponse::moderate_is_guessed); !lone.empty())
    warnings.push_back(moderate_not_blown(lone, instrument));
  if (loudness.levelled)
    warnings.push_back(
        {WarningCode::levelled,
         "soft and hard blows are equally loud in the recording, although their tone differs: the recorder "
         "levelled them. Turn off its automatic level control and record again."});
  if (const auto warning = squeezed(responses)) warnings.push_back(*warning);
  if (const auto warning = warming_unseen(responses, instrument)) warnings.push_back(*warning);
  return warnings;
}

Warning strengths_unknown() {
  return {
      WarningCode::strengths_unknown,
      "each note was blown at two strengths that lie near each other: soft and hard, or moderate and one of them? The "
      "best "
      "place of the head hangs on it. Say which, as in --blown soft,hard, or blow each note soft, moderate and hard."};
}

}  // namespace windway
