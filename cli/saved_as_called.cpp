// SPDX-License-Identifier: GPL-3.0-or-later
#include "saved_as_called.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "analysis.hpp"
#include "options.hpp"
#include "shared_settings.hpp"

namespace windway::cli {
namespace {

[[noreturn]] void refuse_saved(const std::string& option, const std::string& saved) {
  refuse(option + " contradicts the saved result, which is " + saved +
         "; leave it out, or measure the take again with " + option.substr(0, option.find(' ')));
}

bool is_lowest(const WrittenNote& written, int midi) {
  return written.octave ? midi_of(written) == midi : written.pitch_class == midi % 12;
}

void refuse_another_instrument(const FluteOptions& flute, const InstrumentHint& called, const Instrument& saved) {
  const std::string words = "of a " + described(saved);
  if (!flute.kind.empty() && called.kind != saved.kind) refuse_saved("--kind " + flute.kind, words);
  if (!flute.lowest.empty() && !is_lowest(*called.lowest, saved.lowest_midi))
    refuse_saved("--lowest " + flute.lowest, words);
  const bool says_notes = !flute.instrument.empty() || !flute.scale.empty();
  const bool same_notes =
      says_notes && std::ranges::equal(called.instrument->scale, saved.scale, {}, &ScaleNote::id, &ScaleNote::id);
  if (says_notes && (called.instrument->kind != saved.kind || !same_notes))
    refuse_saved(flute.scale.empty() ? "--instrument '" + flute.instrument + "'" : "--scale", words);
}

/// A take says at which temperature its notes are given; what it was recorded at cannot be said afterwards.
void refuse_other_air(const PitchOptions& pitch, const MeasureSettings& saved) {
  const double quoted_c = quoted_air(saved).temperature_c;
  if (pitch.quote_at_c && *pitch.quote_at_c != quoted_c)
    refuse_saved(fmt::format("--quote-at {}", *pitch.quote_at_c), fmt::format("given for {} degrees C", quoted_c));
}

/// What the call says of the head, where the saved result does not know it.
Head head_as_called(Head saved, const HeadOptions& options, const Head& called) {
  if (options.is_fixed_head && saved.moves) refuse_saved("--fixed-head", "of a head that moves");
  const bool says_place = options.is_fully_in || !options.head_out_mm.empty();
  if (says_place && saved.out_mm && *saved.out_mm != *called.out_mm)
    refuse_saved(options.is_fully_in ? "--fully-in" : fmt::format("--head-out {}", *called.out_mm),
                 fmt::format("of a head {} mm out", *saved.out_mm));
  if (!saved.moves && (says_place || options.travel_mm))
    refuse_saved(options.travel_mm     ? fmt::format("--travel {}", *options.travel_mm)
                 : options.is_fully_in ? "--fully-in"
                                       : fmt::format("--head-out {}", *called.out_mm),
                 "of a head that does not move");
  if (says_place) saved.out_mm = called.out_mm;
  if (options.travel_mm) saved.travel_mm = options.travel_mm;
  if (options.travel_mm && saved.out_mm && *saved.out_mm > *saved.travel_mm)
    refuse_saved(fmt::format("--travel {}", *options.travel_mm), fmt::format("of a head {} mm out", *saved.out_mm));
  return saved;
}

/// The saved instrument, its notes meant where the called one means them.
Instrument meant_as(const Instrument& called, Instrument saved) {
  saved.stretch_cents_per_octave = called.stretch_cents_per_octave;
  for (ScaleNote& note : saved.scale)
    if (const ScaleNote* meant = scale_note(called, note.id)) note.target_cents = meant->target_cents;
  return saved;
}

bool are_meant_alike(const Instrument& one, const Instrument& other) {
  return one.stretch_cents_per_octave == other.stretch_cents_per_octave && own_targets(one) == own_targets(other);
}

}  // namespace

Measurement saved_as_called(Measurement saved, const TakeOptions& take, const MeasureSettings& called) {
  refuse_another_instrument(take.flute, called.instrument, saved.naming.instrument);
  refuse_other_air(take.pitch, saved.settings);
  MeasureSettings settings = saved.settings;
  const bool says_a4 = take.pitch.a4_hz || !take.pitch.partner.empty();
  const std::optional<Instrument>& instrument = called.instrument.instrument;
  const bool says_targets = instrument && !are_meant_alike(*instrument, saved.naming.instrument);
  const bool says_head =
      take.head.is_fully_in || !take.head.head_out_mm.empty() || take.head.travel_mm || take.head.is_fixed_head;
  if (says_a4) settings.tuning.a4_hz = called.tuning.a4_hz, settings.a4_u95_hz = called.a4_u95_hz;
  if (!take.pitch.temperament.empty()) settings.tuning.temperament = called.tuning.temperament;
  if (says_head) settings.head = head_as_called(settings.head, take.head, called.head);
  if (take.flute.note_names == "german") settings.note_names = NoteNames::german;
  if (says_targets) saved.naming.instrument = meant_as(*instrument, std::move(saved.naming.instrument));
  if (!says_a4 && !says_head && !says_targets && take.pitch.temperament.empty()) {
    saved.settings = settings;
    return saved;
  }
  return retargeted(std::move(saved), settings);
}

}  // namespace windway::cli
