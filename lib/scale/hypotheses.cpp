// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/hypotheses.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <optional>
#include <utility>

namespace windway {
namespace {

// Told the lowest note, the scale itself holds the offset; untold, half a semitone more would be the next key.
constexpr double furthest_offset_told_cents = 80;
constexpr double furthest_offset_untold_cents = 60;

// In C and in F recorders are about as common as whistles; in other keys they are rare (common practice, no source).
constexpr double uncommon_recorder_log_prior = -6.0;
constexpr double unusual_octave_log_prior = -4.0;

struct LowestRange {
  int from_midi, to_midi;
};

/// Lowest sounding notes in use (from memory): low whistle in G3 to high whistle in A5, great bass recorder in F2 to
/// garklein in C6.
LowestRange usual_lowest(Kind kind) { return kind == Kind::whistle ? LowestRange{55, 81} : LowestRange{41, 84}; }

double instrument_log_prior(Kind kind, int lowest_midi, const InstrumentHint& hint) {
  double log_prior = 0;
  const LowestRange usual = usual_lowest(kind);
  if (lowest_midi < usual.from_midi || lowest_midi > usual.to_midi) log_prior += unusual_octave_log_prior;
  const bool is_guessed = !hint.kind || !hint.lowest;
  if (kind == Kind::recorder && is_guessed && lowest_midi % 12 != 0 && lowest_midi % 12 != 5)
    log_prior += uncommon_recorder_log_prior;
  return log_prior;
}

/// Nothing said, only recorders of the usual keys are thought of.
bool is_thinkable(Kind kind, int lowest_midi, const InstrumentHint& hint) {
  constexpr std::array<int, 5> usual_pitch_classes = {0, 2, 5, 7, 10};  // C, D, F, G, B flat (from memory)
  return kind == Kind::whistle || hint.kind || hint.lowest ||
         std::count(usual_pitch_classes.begin(), usual_pitch_classes.end(), lowest_midi % 12) > 0;
}

std::vector<Kind> possible_kinds(const InstrumentHint& hint) {
  if (hint.kind) return {*hint.kind};
  return {Kind::whistle, Kind::recorder};
}

/// From `reach` semitones under the lowest hold to a tone above the tenth part of the holds: a stray low tone must not
/// hide the instrument.
std::vector<int> possible_lowest(const InstrumentHint& hint, const std::vector<HeardTake>& takes) {
  if (hint.lowest && hint.lowest->octave) return {midi_of(*hint.lowest)};
  std::vector<double> sorted;
  for (const HeardTake& take : takes)
    for (const HeardHold& hold : take) sorted.push_back(hold.pitch);
  std::sort(sorted.begin(), sorted.end());
  const int reach = hint.lowest ? 26 : 12;
  const int from = static_cast<int>(std::floor(sorted.front())) - reach;
  const int to = static_cast<int>(std::ceil(sorted[sorted.size() / 10])) + 2;
  std::vector<int> lowest;
  for (int midi = std::max(from, 0); midi <= std::max(to, from + 11) && midi < midi_keys; ++midi)
    if (!hint.lowest || midi % 12 == hint.lowest->pitch_class) lowest.push_back(midi);
  return lowest;
}

}  // namespace

std::vector<ScaleModel> possible_models(const InstrumentHint& hint, const std::vector<HeardTake>& takes) {
  if (hint.instrument) return scale_models(spelling_as(hint.note_names, *hint.instrument), 0);
  std::vector<ScaleModel> models;
  for (const Kind kind : possible_kinds(hint))
    for (const int lowest_midi : possible_lowest(hint, takes)) {
      if (!is_thinkable(kind, lowest_midi, hint)) continue;
      auto of_instrument = scale_models(spelling_as(hint.note_names, builtin_instrument(kind, lowest_midi)),
                                        instrument_log_prior(kind, lowest_midi, hint));
      models.insert(models.end(), of_instrument.begin(), of_instrument.end());
    }
  return models;
}

std::vector<Hypothesis> ranked_hypotheses(const InstrumentHint& hint, const std::vector<HeardTake>& takes) {
  const double furthest = hint.instrument || hint.lowest ? furthest_offset_told_cents : furthest_offset_untold_cents;
  const OffsetGrid grid = offset_grid(takes, furthest);
  constexpr double rounding = 1e-6;
  double best = -std::numeric_limits<double>::infinity();
  std::vector<Hypothesis> ranked;
  for (ScaleModel& model : possible_models(hint, takes)) {
    std::optional<ScaleFit> fit = fit_scale(takes, model, grid, best - rival_log_score - rounding);
    if (!fit) continue;
    best = std::max(best, fit->log_score);
    ranked.push_back({std::move(model), std::move(*fit)});
  }
  std::stable_sort(ranked.begin(), ranked.end(),
                   [](const Hypothesis& a, const Hypothesis& b) { return a.fit.log_score > b.fit.log_score; });
  return ranked;
}

const Hypothesis* rival_of_first(const std::vector<Hypothesis>& ranked) {
  const Hypothesis& first = ranked.front();
  for (const Hypothesis& other : ranked) {
    if (other.fit.log_score < first.fit.log_score - rival_log_score) return nullptr;
    const Instrument &one = first.model.instrument, &its = other.model.instrument;
    if (one.lowest_midi != its.lowest_midi || one.kind != its.kind) return &other;
  }
  return nullptr;
}

}  // namespace windway
