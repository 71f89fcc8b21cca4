// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/order.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <set>
#include <string>

#include "error.hpp"

namespace windway {
namespace {

// Costs are in units of - 2 log probability.
constexpr double note_sd_cents = 30.0;  ///< of a blow about its note: soft to hard
constexpr double stranger_cost = 16.0;  ///< a hold that is not of the run: 4 SD
constexpr double not_heard_cost = 3.0;  ///< a note of the run without a hold: less than taking a hold of its neighbour
constexpr double uneven_cost = 1.5;     ///< for each hold more or less than the other notes of the run have

double hold_cost(const HeardHold& hold, double offset_cents, const NoteId& note) {
  const double off_cents = 100.0 * (hold.pitch - note.midi) - offset_cents;
  return std::min(off_cents * off_cents / (note_sd_cents * note_sd_cents), stranger_cost);
}

bool is_stranger(const HeardHold& hold, double offset_cents, const NoteId& note) {
  return hold_cost(hold, offset_cents, note) >= stranger_cost;
}

/// For each hold the note of the run it falls to: each note takes the next holds in turn, `usual` of them if it can.
std::vector<std::size_t> shares(const HeardTake& take, double offset_cents, const std::vector<NoteId>& order,
                                double usual) {
  const std::size_t holds = take.size();
  constexpr double never = std::numeric_limits<double>::infinity();
  std::vector<double> cost(holds + 1, never);  // of the holds before, with the notes so far
  cost[0] = 0;
  std::vector<std::vector<std::size_t>> begins;  // by note, by end: where its holds begin
  for (const NoteId& note : order) {
    std::vector<double> next(holds + 1, never);
    std::vector<std::size_t> begin(holds + 1, 0);
    for (std::size_t from = 0; from <= holds; ++from) {
      double so_far = cost[from];
      for (std::size_t to = from; to <= holds && so_far < never; ++to) {
        if (to > from) so_far += hold_cost(take[to - 1], offset_cents, note);
        const double count = static_cast<double>(to - from);
        const double whole = so_far + (to == from ? not_heard_cost : uneven_cost * std::abs(count - usual));
        if (whole < next[to]) next[to] = whole, begin[to] = from;
      }
    }
    cost = std::move(next);
    begins.push_back(std::move(begin));
  }
  std::vector<std::size_t> share(holds);
  std::size_t to = holds;
  for (std::size_t note = order.size(); note-- > 0;) {
    const std::size_t from = begins[note][to];
    std::fill(share.begin() + static_cast<std::ptrdiff_t>(from), share.begin() + static_cast<std::ptrdiff_t>(to), note);
    to = from;
  }
  return share;
}

/// A note outside the scale has no further fingerings.
NoteId in_scale(const NoteId& note, const Instrument& instrument) {
  return scale_note(instrument, note) ? note : NoteId{note.midi};
}

}  // namespace

Instrument with_fingerings(Instrument instrument, const std::vector<NoteId>& order) {
  for (const NoteId& note : order) {
    const ScaleNote* usual = scale_note(instrument, {note.midi});
    if (!usual || scale_note(instrument, note)) continue;
    ScaleNote further = *usual;
    further.id = note;
    const auto after = std::find_if(instrument.scale.rbegin(), instrument.scale.rend(),
                                    [&](const ScaleNote& other) { return other.id.midi == note.midi; });
    instrument.scale.insert(after.base(), further);
  }
  return instrument;
}

std::vector<NoteId> in_order(const HeardTake& take, const std::vector<int>& midi, double offset_cents,
                             const std::vector<NoteId>& order, const Instrument& instrument) {
  std::vector<NoteId> notes;
  for (const int of_hold : midi) notes.push_back({of_hold});
  if (order.empty()) return notes;
  const double usual = std::max(1.0, std::round(static_cast<double>(take.size()) / static_cast<double>(order.size())));
  const std::vector<std::size_t> share = shares(take, offset_cents, order, usual);
  for (std::size_t hold = 0; hold < take.size(); ++hold) {
    const NoteId& note = order[share[hold]];
    if (is_stranger(take[hold], offset_cents, note)) continue;
    notes[hold] = in_scale(note, instrument);
  }
  return notes;
}

std::optional<Warning> not_heard_warning(const Naming& naming, const std::vector<NoteId>& order) {
  std::string missing;
  std::size_t count = 0;
  for (const NoteId& note : order) {
    const auto heard = std::ranges::find(naming.holds, in_scale(note, naming.instrument), &NamedHold::note);
    if (heard != naming.holds.end()) continue;
    missing += (missing.empty() ? "" : ", ") + with_fingering(spelt(note.midi, naming.instrument), note, ":");
    ++count;
  }
  if (count == 0) return std::nullopt;
  return Warning{WarningCode::not_heard,
                 missing + (count == 1 ? " is in --order but was not heard: play it again, steadily, or leave it out."
                                       : " are in --order but were not heard: play each again, steadily, or leave them "
                                         "out.")};
}

std::vector<NoteId> parse_order(std::string_view text, NoteNames names) {
  std::vector<NoteId> order;
  for (std::size_t at = text.find_first_not_of(" ,\t\n"); at != std::string_view::npos;
       at = text.find_first_not_of(" ,\t\n", at)) {
    const std::size_t end = std::min(text.find_first_of(" ,\t\n", at), text.size());
    const std::string_view word = text.substr(at, end - at);
    const std::size_t colon = word.find(':');
    const WrittenNote note = parse_note(word.substr(0, colon), names);
    if (!note.octave || (colon != std::string_view::npos && colon + 1 == word.size())) {
      throw Error(ErrorKind::usage, "cannot read \"" + std::string(word) +
                                        "\" in the order of notes: write a note with its octave, and a further "
                                        "fingering after a colon: D5 D6 D6:vented");
    }
    order.push_back({midi_of(note), colon == std::string_view::npos ? "" : std::string(word.substr(colon + 1))});
    at = end;
  }
  if (order.empty()) throw Error(ErrorKind::usage, "the order of notes is empty; write the notes as played: D5 E5 F#5");
  return order;
}

std::optional<Warning> gap_warning(const Naming& naming, const ScaleModel& model) {
  constexpr std::size_t held_for_each_gap = 5;  // who leaves out more plays no whole scale
  std::set<int> held;
  for (const NamedHold& hold : naming.holds)
    if (hold.in_scale) held.insert(hold.note.midi);
  const auto replaced = [&](int midi) {
    return held.contains(midi) && !model.expected[static_cast<std::size_t>(midi)];
  };
  std::vector<int> missing;
  for (const ScaleNote& note : naming.instrument.scale)
    if (!replaced(note.id.midi - 1) && !replaced(note.id.midi + 1) &&  // else it was played in another key
        !held.empty() && note.id.midi > *held.begin() && note.id.midi < *held.rbegin() &&
        model.expected[static_cast<std::size_t>(note.id.midi)] && !held.contains(note.id.midi) &&
        (missing.empty() || missing.back() != note.id.midi))
      missing.push_back(note.id.midi);
  if (missing.empty() || held.size() < held_for_each_gap * missing.size()) return std::nullopt;
  std::string gaps;
  for (const int midi : missing) {
    const auto above = held.upper_bound(midi);
    gaps += (gaps.empty() ? "" : " and ") + spelt(midi, naming.instrument) + " (between " +
            spelt(*std::prev(above), naming.instrument) + " and " + spelt(*above, naming.instrument) + ")";
  }
  const bool one = missing.size() == 1;
  return Warning{WarningCode::not_heard, gaps + (one ? " was not heard: play it again, steadily, if you meant to."
                                                     : " were not heard: play them again, steadily, if you meant to.")};
}

}  // namespace windway
