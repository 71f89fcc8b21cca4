// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/naming.hpp"

#include <algorithm>
#include <cassert>
#include <map>
#include <utility>

#include "scale/hypotheses.hpp"
#include "scale/naming_warnings.hpp"
#include "scale/octave.hpp"
#include "scale/order.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

/// Indices of the holds of each take, in order of time.
std::vector<std::vector<std::size_t>> holds_by_take(const std::vector<Hold>& holds) {
  std::map<int, std::vector<std::size_t>> by_take;
  for (std::size_t i = 0; i < holds.size(); ++i) by_take[holds[i].take].push_back(i);
  std::vector<std::vector<std::size_t>> ordered;
  for (auto& [take, indices] : by_take) {
    std::stable_sort(indices.begin(), indices.end(),
                     [&](std::size_t a, std::size_t b) { return holds[a].start_s < holds[b].start_s; });
    ordered.push_back(std::move(indices));
  }
  return ordered;
}

double midi_pitch(double frequency_hz, double a4_hz) {
  assert(frequency_hz > 0 && a4_hz > 0);
  return 69.0 + cents_between(a4_hz, frequency_hz) / 100.0;
}

HeardTake heard(const std::vector<Hold>& holds, const std::vector<std::size_t>& indices, double a4_hz) {
  HeardTake take;
  for (const std::size_t i : indices) take.push_back({midi_pitch(holds[i].frequency_hz, a4_hz), holds[i].level_db});
  return take;
}

NamedHold named(const Hold& hold, const NoteId& note, const ScaleModel& model, const Naming& naming) {
  NamedHold result;
  result.hold = hold;
  result.note = note;
  result.in_scale = model.in_scale[static_cast<std::size_t>(note.midi)];
  result.target_hz = target_hz(note, naming.instrument, naming.tuning);
  result.deviation_cents = cents_between(result.target_hz, hold.frequency_hz);
  return result;
}

/// The key that was not said is the instrument's own.
Tuning keyed(Tuning tuning, const Instrument& instrument) {
  Temperament& temperament = tuning.temperament;
  if (temperament.name == TemperamentName::equal)
    temperament.key_pitch_class = std::nullopt;
  else if (!temperament.key_pitch_class)
    temperament.key_pitch_class = key_pitch_class(instrument);
  return tuning;
}

/// The octave is told by the instrument, or by a lowest note with its octave: then the recording must not contradict.
void check_told_octave(const InstrumentHint& hint, const std::vector<HeardTake>& takes) {
  std::vector<double> pitches;
  for (const HeardTake& take : takes)
    for (const HeardHold& hold : take) pitches.push_back(hold.pitch);
  if (hint.instrument) return check_octave(spelling_as(hint.note_names, *hint.instrument), pitches);
  if (!hint.lowest || !hint.lowest->octave) return;
  const Instrument told = builtin_instrument(hint.kind.value_or(Kind::whistle), midi_of(*hint.lowest));
  check_octave(spelling_as(hint.note_names, told), pitches);
}

}  // namespace

Naming name_holds(const std::vector<Hold>& holds, const InstrumentHint& hint, const Tuning& tuning) {
  assert(!holds.empty());
  const auto by_take = holds_by_take(holds);
  std::vector<HeardTake> takes;
  for (const auto& indices : by_take) takes.push_back(heard(holds, indices, tuning.a4_hz));
  check_told_octave(hint, takes);
  const std::vector<Hypothesis> ranked = ranked_hypotheses(hint, takes);
  const ScaleModel& model = ranked.front().model;
  const ScaleFit fit = refine_fit(takes, model, ranked.front().fit);

  Naming naming;
  naming.instrument = with_fingerings(model.instrument, hint.order);
  naming.tuning = keyed(tuning, naming.instrument);
  naming.inferred = !hint.instrument && (!hint.kind || !hint.lowest);
  if (const Hypothesis* rival = naming.inferred ? rival_of_first(ranked) : nullptr)
    naming.rival = rival->model.instrument;
  naming.holds.resize(holds.size());
  for (std::size_t t = 0; t < by_take.size(); ++t) {
    const auto notes = in_order(takes[t], fit.midi[t], fit.offset_cents[t], hint.order, naming.instrument);
    for (std::size_t i = 0; i < by_take[t].size(); ++i)
      naming.holds[by_take[t][i]] = named(holds[by_take[t][i]], notes[i], model, naming);
  }
  naming.warnings = naming_warnings(naming, hint, ranked, takes);
  const auto not_heard = hint.order.empty() ? gap_warning(naming, model) : not_heard_warning(naming, hint.order);
  if (not_heard) naming.warnings.push_back(*not_heard);
  if (const auto others = not_in_order_warning(naming, hint.order)) naming.warnings.push_back(*others);
  return naming;
}

}  // namespace windway
