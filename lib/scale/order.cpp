// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/order.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <numeric>
#include <set>
#include <string>

#include "error.hpp"

namespace windway {
namespace {

// Costs are in units of - 2 log probability.
constexpr double note_sd_cents = 30.0;  ///< of a blow about its note: soft to hard
constexpr double outsider_cost = 16.0;  ///< a note that the run does not name is played all the same: as likely as 4 SD
constexpr double not_heard_cost = 3.0;  ///< a note of the run without a hold: less than taking a hold of its neighbour
constexpr double uneven_cost = 1.5;     ///< for each hold more or less than the notes of the run usually have

/// One take's holds and what each was taken for without the run.
struct TakeHeard {
  const HeardTake& holds;
  const std::vector<int>& midi;
  double offset_cents;

  double hold_cost(std::size_t hold, int as_midi) const {
    const double off_cents = 100.0 * (holds[hold].pitch - as_midi) - offset_cents;
    return off_cents * off_cents / (note_sd_cents * note_sd_cents);
  }
  /// As a note outside the run; holds of one such note in turn are one note.
  double outsider_hold_cost(std::size_t hold, bool is_first) const {
    const bool begins = is_first || midi[hold] != midi[hold - 1];
    return hold_cost(hold, midi[hold]) + (begins ? outsider_cost : 0);
  }
};

/// The holds laid along the run in stages: notes that the run does not name, its first note, others that it does not
/// name, its second note, and so on to its end.
struct Laid {
  double cost = 0;
  std::vector<std::size_t> stage_of_hold;
};

bool is_note(std::size_t stage) { return stage % 2 == 1; }

/// The cheapest way; `usual`: how many holds a note has.
Laid laid_along(const TakeHeard& take, const std::vector<NoteId>& order, int usual) {
  const std::size_t holds = take.holds.size(), stages = 2 * order.size() + 1;
  std::vector<double> cost(holds + 1,
                           std::numeric_limits<double>::infinity());  // of the holds before, in stages so far
  cost[0] = 0;
  std::vector<std::vector<std::size_t>> begins(stages);  // by end: where the holds of the stage begin
  for (std::size_t stage = 0; stage < stages; ++stage) {
    std::vector<double> next = cost;
    for (double& none : next) none += is_note(stage) ? not_heard_cost : 0;
    begins[stage].resize(holds + 1);
    std::iota(begins[stage].begin(), begins[stage].end(), 0U);
    for (std::size_t from = 0; from < holds; ++from) {
      double so_far = cost[from];
      for (std::size_t to = from + 1; to <= holds && std::isfinite(so_far); ++to) {
        so_far += is_note(stage) ? take.hold_cost(to - 1, order[stage / 2].midi)
                                 : take.outsider_hold_cost(to - 1, to == from + 1);
        const double uneven = is_note(stage) ? std::abs(static_cast<double>(to - from) - usual) : 0;
        const double whole = so_far + uneven_cost * uneven;
        if (whole < next[to]) next[to] = whole, begins[stage][to] = from;
      }
    }
    cost = std::move(next);
  }
  Laid laid{cost[holds], std::vector<std::size_t>(holds)};
  std::size_t to = holds;
  for (std::size_t stage = stages; stage-- > 0;) {
    const std::size_t from = begins[stage][to];
    std::fill(laid.stage_of_hold.begin() + static_cast<std::ptrdiff_t>(from),
              laid.stage_of_hold.begin() + static_cast<std::ptrdiff_t>(to), stage);
    to = from;
  }
  return laid;
}

/// How often each note was blown is not said: the count that explains the take best.
Laid best_laid(const TakeHeard& take, const std::vector<NoteId>& order) {
  constexpr int most_blows = 6;
  Laid best = laid_along(take, order, 1);
  for (int usual = 2; usual <= most_blows; ++usual) {
    Laid laid = laid_along(take, order, usual);
    if (laid.cost < best.cost) best = std::move(laid);
  }
  return best;
}

/// A note outside the scale has no further fingerings.
NoteId in_scale(const NoteId& note, const Instrument& instrument) {
  return scale_note(instrument, note) ? note : NoteId{note.midi};
}

/// Too few of the notes that are expected were held for the whole to be judged by them.
std::optional<Warning> part_of_scale(const Naming& naming, const ScaleModel& model, const std::set<int>& held) {
  std::set<int> expected;
  for (const ScaleNote& note : naming.instrument.scale)
    if (model.expected[static_cast<std::size_t>(note.id.midi)]) expected.insert(note.id.midi);
  if (held.size() < 2 || 3 * held.size() >= 2 * expected.size()) return std::nullopt;
  return Warning{
      WarningCode::part_of_scale,
      fmt::format("only {} of this {}'s {} notes were played. The head's best place is told for these; for all "
                  "notes it may be another. Play the whole scale.",
                  held.size(), kind_name(naming.instrument.kind), expected.size())};
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
  const Laid laid = best_laid({take, midi, offset_cents}, order);
  for (std::size_t hold = 0; hold < take.size(); ++hold) {
    const std::size_t stage = laid.stage_of_hold[hold];
    if (is_note(stage)) notes[hold] = in_scale(order[stage / 2], instrument);
  }
  return notes;
}

std::optional<Warning> not_in_order_warning(const Naming& naming, const std::vector<NoteId>& order) {
  std::set<int> named, others;
  for (const NoteId& note : order) named.insert(note.midi);
  for (const NamedHold& hold : naming.holds)
    if (hold.in_scale && !named.contains(hold.note.midi)) others.insert(hold.note.midi);
  if (order.empty() || others.empty()) return std::nullopt;
  std::vector<std::string> names;
  for (const int midi : others) names.push_back(spelt(midi, naming.instrument));
  return Warning{
      WarningCode::not_in_order,
      fmt::format("{} {} heard but {} not in --order. Give --order every note that you played, in turn.",
                  fmt::join(names, ", "), names.size() == 1 ? "was" : "were", names.size() == 1 ? "is" : "are")};
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
  if (missing.empty() || held.size() < held_for_each_gap * missing.size()) return part_of_scale(naming, model, held);
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
