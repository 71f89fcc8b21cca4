// SPDX-License-Identifier: GPL-3.0-or-later
#include "scale/range.hpp"

#include <algorithm>

namespace windway {

namespace {

constexpr double fourth_semitones = 5.0;

std::optional<Instrument> known_instrument(const InstrumentHint& hint) {
  if (hint.instrument) return hint.instrument;
  if (!hint.lowest || !hint.lowest->octave) return std::nullopt;
  return builtin_instrument(hint.kind.value_or(Kind::whistle), midi_of(*hint.lowest));
}

}  // namespace

std::optional<PitchRange> pitch_range(const InstrumentHint& hint, double a4_hz) {
  const auto instrument = known_instrument(hint);
  if (!instrument || instrument->scale.empty()) return std::nullopt;
  return PitchRange{equal_tempered_hz(instrument->scale.front().id.midi - fourth_semitones, a4_hz),
                    equal_tempered_hz(instrument->scale.back().id.midi + fourth_semitones, a4_hz)};
}

PitchRules pitch_rules(const InstrumentHint& hint, double a4_hz) {
  PitchRules rules;
  if (const auto range = pitch_range(hint, a4_hz)) {
    rules.min_hz = std::min(rules.min_hz, range->min_hz);
    rules.max_hz = std::max(rules.max_hz, range->max_hz);
  }
  return rules;
}

std::vector<Hold> in_range(std::vector<Hold> holds, const InstrumentHint& hint, double a4_hz) {
  const auto range = pitch_range(hint, a4_hz);
  if (!range) return holds;
  const auto outside = [&](const Hold& h) { return h.frequency_hz < range->min_hz || h.frequency_hz > range->max_hz; };
  if (2 * std::ranges::count_if(holds, outside) < std::ssize(holds)) std::erase_if(holds, outside);
  return holds;
}

}  // namespace windway
