// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/player/partner_report.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/words.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

std::string name_of(int midi, const Partner& partner) {
  return note_name(midi, partner.temperament.key_pitch_class.value_or(0), partner.note_names);
}

/// "The partner plays at A4 = 441.3 Hz (± 0.1): 5.1 cents above 440 Hz, from 8 notes."
std::string answer(const Partner& partner) {
  constexpr double concert_pitch_hz = 440.0;
  const int places = places_deserved(partner.a4_u95_hz, 2);
  const double cents = cents_between(concert_pitch_hz, partner.a4_hz);
  const double u95_cents = cents_per_neper * partner.a4_u95_hz / partner.a4_hz;
  const auto notes = static_cast<std::size_t>(std::ranges::count_if(partner.notes, &PartnerNote::counts));
  const std::string away = std::abs(cents) < u95_cents
                               ? std::string("the same as 440 Hz within its ±")
                               : count_in_words(fixed(std::abs(cents), places_deserved(u95_cents, 1)), "cent") +
                                     (cents > 0 ? " above 440 Hz" : " below 440 Hz");
  return "The partner plays at A4 = " + fixed(partner.a4_hz, places) + " Hz (" + plus_minus(partner.a4_u95_hz, places) +
         "): " + away + ", from " + count_in_words(notes, "note") + ".";
}

std::string how_to_use(const Partner& partner) {
  return fmt::format("To set a flute to it: windway measure my-scale.wav --a4 {}",
                     fixed(partner.a4_hz, places_deserved(partner.a4_u95_hz, 2)));
}

std::string stiffness(const PartnerNote& note) {
  return note.inharmonicity ? fmt::format("{:.5f}", note.inharmonicity->value) : "-";
}

Prose note_table(const Partner& partner) {
  const bool any_beats = std::ranges::any_of(partner.notes, [](const auto& note) { return note.beat_hz.has_value(); });
  const bool any_strings =
      std::ranges::any_of(partner.notes, [](const auto& note) { return note.inharmonicity.has_value(); });
  std::vector<Column> columns{{"note"}, {"at", true}, {"Hz", true}, {"cents", true}, {"", true}};
  if (any_strings) columns.push_back({"stiffness", true});
  if (any_beats) columns.push_back({"beats", true});
  columns.push_back({"counts"});
  std::vector<std::vector<std::string>> rows;
  for (const PartnerNote& note : partner.notes) {
    const int places = places_deserved(note.u95_cents, 1);
    std::vector<std::string> row{
        name_of(note.midi, partner), fixed(note.start_s, 1) + " s", fixed(note.frequency_hz, 2),
        signed_fixed(note.deviation_cents, places) + (places == 0 ? "  " : ""), plus_minus(note.u95_cents, places)};
    if (any_strings) row.push_back(stiffness(note));
    if (any_beats) row.push_back(note.beat_hz ? fixed(*note.beat_hz, 1) + " Hz" : "-");
    row.push_back(note.counts ? "yes" : "no");
    rows.push_back(std::move(row));
  }
  Prose prose = Prose(Grid{columns, rows}) + words("  Hz: of the first partial; cents: from its target at this A4, " +
                                                       temperament_in_words(partner.temperament, partner.note_names),
                                                   2);
  if (any_strings) prose += words("  stiffness: B of a string; its partials lie higher than whole multiples", 2);
  if (any_beats) prose += words("  beats: reeds or strings tuned that far apart; the pitch is halfway between", 2);
  return prose + words("  counts: used for the A4; the flute's range is " + name_of(partner.lowest_midi, partner) +
                           " to " + name_of(partner.highest_midi, partner),
                       2);
}

}  // namespace

Prose partner_prose(const Partner& partner) {
  Prose prose = words(answer(partner), 2) + words(how_to_use(partner)) + Prose(Gap{}) + note_table(partner);
  if (!partner.warnings.empty()) prose += Prose(Gap{});
  for (const Warning& warning : partner.warnings) prose += words("warning: " + warning.message, 2);
  return prose;
}

}  // namespace windway
