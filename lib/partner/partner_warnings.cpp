// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/partner_warnings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <set>

#include "units/units.hpp"

namespace windway {

namespace {

std::string name_of(const PartnerNote& note, const Partner& partner) {
  constexpr int on_c = 0;
  return note_name(note.midi, partner.temperament.key_pitch_class.value_or(on_c), partner.note_names);
}

std::optional<Warning> ambiguous_pitch(const Partner& partner, double guess_a4_hz) {
  constexpr double near_halfway_cents = 40.0;
  const double off = cents_between(guess_a4_hz, partner.a4_hz);
  if (std::abs(off) < near_halfway_cents) return std::nullopt;
  const double other_hz = hz_at_cents(partner.a4_hz, off > 0 ? -100.0 : 100.0);
  return Warning{
      WarningCode::partner_pitch_ambiguous,
      fmt::format(
          "the partner's pitch is nearly halfway between two notes: its A4 could as well be {:.1f} Hz, and every "
          "note the neighbour of the one named here. Give its approximate A4, as in --a4 {:.0f}.",
          other_hz, other_hz)};
}

std::optional<Warning> one_note(const Partner& partner) {
  std::set<int> keys;
  for (const PartnerNote& note : partner.notes)
    if (note.counts) keys.insert(note.midi);
  if (keys.size() > 1) return std::nullopt;
  return Warning{
      WarningCode::partner_one_note,
      "the A4 rests on one note, and the partner's other notes may not agree with it. Record three or four of its "
      "notes in the flute's range."};
}

std::optional<Warning> out_of_range(const Partner& partner) {
  const auto in_range = [&](const PartnerNote& note) {
    return note.midi >= partner.lowest_midi && note.midi <= partner.highest_midi;
  };
  if (std::ranges::any_of(partner.notes, in_range)) return std::nullopt;
  const int key = partner.temperament.key_pitch_class.value_or(0);
  return Warning{
      WarningCode::partner_out_of_range,
      fmt::format(
          "no note is in the flute's range, {} to {}. The octaves of a piano are stretched by some cents, so the "
          "A4 of that range may differ. Record notes of that range.",
          note_name(partner.lowest_midi, key, partner.note_names),
          note_name(partner.highest_midi, key, partner.note_names))};
}

/// By name, each once and the furthest off first: "C5 by -8.3 cents"; the first four, then how many more.
std::string listed(const Partner& partner, std::vector<PartnerNote> notes) {
  constexpr std::size_t most = 4;
  std::ranges::stable_sort(notes, std::greater{},
                           [](const PartnerNote& note) { return std::abs(note.deviation_cents); });
  std::string list;
  std::set<int> said;
  for (const PartnerNote& note : notes) {
    if (!said.insert(note.midi).second || said.size() > most) continue;
    list +=
        fmt::format("{}{} by {:+.1f} cents", list.empty() ? "" : ", ", name_of(note, partner), note.deviation_cents);
  }
  return said.size() > most ? list + fmt::format(" and {} more", said.size() - most) : list;
}

std::optional<Warning> far_off(const Partner& partner) {
  const auto in_range = [&](const PartnerNote& note) {
    return note.midi >= partner.lowest_midi && note.midi <= partner.highest_midi;
  };
  const bool any_in_range = std::ranges::any_of(partner.notes, in_range);
  std::vector<PartnerNote> notes;
  for (const PartnerNote& note : partner.notes)
    if (!note.counts && (in_range(note) || !any_in_range)) notes.push_back(note);
  if (notes.empty()) return std::nullopt;
  return Warning{
      WarningCode::partner_far_off,
      fmt::format("not counted, because far from the partner's other notes: {}. A string or reed has slipped, or "
                  "something else sounded. Check this before you play together.",
                  listed(partner, notes))};
}

std::optional<Warning> disagreement(const Partner& partner) {
  constexpr double least_cents = 1.0;  // scatter that a player could notice in the result
  if (partner.scatter_cents < least_cents) return std::nullopt;
  std::vector<PartnerNote> notes;
  for (const PartnerNote& note : partner.notes)
    if (note.counts && std::abs(note.deviation_cents) > note.u95_cents + partner.scatter_cents) notes.push_back(note);
  if (notes.empty()) return std::nullopt;
  return Warning{
      WarningCode::partner_notes_disagree,
      fmt::format("the partner's notes disagree by more than their ±: {}. The A4 is the middle of them, and its ± "
                  "allows for that. More notes make it surer.",
                  listed(partner, notes))};
}

std::optional<Warning> beats(const Partner& partner) {
  std::set<int> keys;
  double most_hz = 0;
  for (const PartnerNote& note : partner.notes) {
    if (!note.beat_hz || !note.counts) continue;
    keys.insert(note.midi);
    most_hz = std::max(most_hz, *note.beat_hz);
  }
  if (keys.empty()) return std::nullopt;
  return Warning{
      WarningCode::partner_beats,
      fmt::format("on {}, reeds or strings tuned up to {:.1f} Hz apart sound together: the pitch is taken halfway "
                  "between them. One rank of reeds alone is surer.",
                  keys.size() == 1 ? "one note" : fmt::format("{} notes", keys.size()), most_hz)};
}

/// Whether another note sounds during most of this one.
bool is_in_chord(const PartnerNote& note, const std::vector<PartnerNote>& all) {
  const double end_s = note.start_s + note.duration_s;
  return std::ranges::any_of(all, [&](const PartnerNote& other) {
    const double shared_s = std::min(end_s, other.start_s + other.duration_s) - std::max(note.start_s, other.start_s);
    return &other != &note && other.counts && other.midi != note.midi && shared_s > 0.5 * note.duration_s;
  });
}

std::optional<Warning> chords(const Partner& partner) {
  const auto counted = std::ranges::count_if(partner.notes, &PartnerNote::counts);
  const auto together = std::ranges::count_if(
      partner.notes, [&](const PartnerNote& note) { return note.counts && is_in_chord(note, partner.notes); });
  if (2 * together <= counted) return std::nullopt;
  return Warning{
      WarningCode::partner_chords,
      "most notes sound together with others: overtones that they share are left out, and a note an octave above "
      "another is not heard. Single notes are surer."};
}

}  // namespace

Warnings partner_warnings(const Partner& partner, double guess_a4_hz) {
  Warnings warnings;
  for (const auto& warning : {ambiguous_pitch(partner, guess_a4_hz), one_note(partner), out_of_range(partner),
                              far_off(partner), disagreement(partner), beats(partner), chords(partner)})
    if (warning) warnings.push_back(*warning);
  return warnings;
}

}  // namespace windway
