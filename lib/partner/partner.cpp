// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/partner.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "input/input_file.hpp"
#include "partner/implied_a4.hpp"
#include "partner/measured_note.hpp"
#include "partner/partner_warnings.hpp"
#include "partner/soundings.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double longest_recording_s = 600.0;
constexpr int lowest_flute_midi = 65;   // F4: the lowest treble recorder
constexpr int highest_flute_midi = 98;  // D7: two octaves above a whistle in D

struct Samples {
  std::vector<float> values;
  bool is_cut = false;
};

/// All samples of a recording, or those of its first ten minutes.
Samples samples_of(Recording& recording) {
  constexpr std::size_t block_samples = 65536;
  const auto most = static_cast<std::size_t>(longest_recording_s * recording.working_rate_hz());
  Samples samples;
  std::vector<float> block(block_samples);
  while (const std::size_t count = recording.read(block)) {
    const std::size_t room = std::min(count, most - samples.values.size());
    samples.values.insert(samples.values.end(), block.begin(), block.begin() + static_cast<long>(room));
    samples.is_cut = samples.is_cut || room < count;
  }
  return samples;
}

Error no_note_error(const TakeInfo& take) {
  const char* otherwise =
      "no note of steady pitch is in it; let the partner sound single notes, such as D5, A5 and D6, each for two "
      "seconds or so and without vibrato, and switch off whatever filters voices or noise";
  return Error(ErrorKind::recording, fmt::format("cannot find the partner's pitch in {}: {}", take_name(take.path),
                                                 why_nothing(take, otherwise)));
}

/// The settings with the range of the instrument and the key of the temperament settled.
Partner begun(const PartnerSettings& settings) {
  Partner partner;
  partner.note_names = settings.instrument.note_names;
  partner.lowest_midi = lowest_flute_midi;
  partner.highest_midi = highest_flute_midi;
  partner.temperament = settings.tuning.temperament;
  std::optional<Instrument> instrument = settings.instrument.instrument;
  const auto& lowest = settings.instrument.lowest;
  if (!instrument && lowest && lowest->octave)
    instrument = builtin_instrument(settings.instrument.kind.value_or(Kind::whistle), midi_of(*lowest));
  if (instrument && !instrument->scale.empty()) {
    partner.lowest_midi = instrument->scale.front().id.midi;
    partner.highest_midi = instrument->scale.back().id.midi;
  }
  if (partner.temperament.name == TemperamentName::equal || partner.temperament.key_pitch_class) return partner;
  if (instrument) partner.temperament.key_pitch_class = key_pitch_class(*instrument);
  if (!instrument && lowest) partner.temperament.key_pitch_class = lowest->pitch_class;
  if (!partner.temperament.key_pitch_class)
    throw Error(ErrorKind::usage, "a partner tempered other than equal needs the key note: give --key, as in --key D");
  return partner;
}

bool is_in_range(const Partner& partner, int midi) {
  return midi >= partner.lowest_midi && midi <= partner.highest_midi;
}

/// True if the sounding may be a partial of a lower, louder one that sounds when it begins: of two reeds each has its
/// own, and the one that rings longer is heard by itself.
bool is_partial_of(const Sounding& sounding, const Sounding& lower) {
  constexpr double reeds_apart_cents = 20.0;  // half of what reeds are tuned apart, and some (common practice)
  const double number = std::round(sounding.first_hz() / lower.first_hz());
  const bool sounds_with = sounding.start_s >= lower.start_s && sounding.start_s <= lower.end_s;
  return number >= 2 && sounds_with && sounding.loudest_power < lower.loudest_power &&
         std::abs(cents_between(number * lower.first_hz(), sounding.first_hz())) < reeds_apart_cents;
}

std::vector<Sounding> without_partials(const std::vector<Sounding>& soundings) {
  std::vector<Sounding> notes;
  std::ranges::copy_if(soundings, std::back_inserter(notes), [&](const Sounding& sounding) {
    return std::ranges::none_of(soundings, [&](const Sounding& lower) { return is_partial_of(sounding, lower); });
  });
  return notes;
}

std::vector<PartnerNote> partner_notes(const std::vector<MeasuredNote>& measured,
                                       const std::vector<NamedPitch>& named) {
  std::vector<PartnerNote> notes;
  for (std::size_t i = 0; i < measured.size(); ++i) {
    const auto& [string, beat_hz, start_s, duration_s] = measured[i];
    PartnerNote note{named[i].midi, string.first_hz, string.first_u95_cents, named[i].cents};
    if (string.inharmonicity && string.inharmonicity->value > string.inharmonicity->u95)
      note.inharmonicity = string.inharmonicity;
    note.partials = string.partials;
    note.beat_hz = beat_hz;
    note.start_s = start_s;
    note.duration_s = duration_s;
    notes.push_back(note);
  }
  return notes;
}

/// A4 by the notes that count, and every note's deviation from it.
void settle(Partner& partner, double guess_a4_hz) {
  const auto in_range = [&](const PartnerNote& note) { return is_in_range(partner, note.midi); };
  const bool any_in_range = std::ranges::any_of(partner.notes, in_range);
  std::vector<NamedPitch> named;
  std::vector<NotePitch> pitches;
  for (PartnerNote& note : partner.notes) {
    note.counts = !any_in_range || in_range(note);
    if (!note.counts) continue;
    named.push_back({note.midi, note.deviation_cents});
    pitches.push_back({note.frequency_hz, note.u95_cents});
  }
  const MeanDeviation mean = mean_deviation(named, pitches);
  std::size_t at = 0;
  for (PartnerNote& note : partner.notes) {
    if (note.counts) note.counts = !mean.is_far_off[at++];
    note.deviation_cents -= mean.cents;
  }
  partner.a4_hz = hz_at_cents(guess_a4_hz, mean.cents);
  partner.a4_u95_hz = partner.a4_hz * mean.u95_cents / cents_per_neper;
  partner.scatter_cents = mean.scatter_cents;
}

}  // namespace

Partner find_partner(const std::string& path, const PartnerSettings& settings) {
  Partner partner = begun(settings);
  Recording recording(path);
  const Samples samples = samples_of(recording);
  partner.take = recording.info();
  const double rate_hz = recording.working_rate_hz();
  const auto measured =
      measured_notes(samples.values, rate_hz, without_partials(find_soundings(samples.values, rate_hz)));
  if (measured.empty()) throw no_note_error(partner.take);
  std::vector<NotePitch> pitches;
  for (const MeasuredNote& note : measured) pitches.push_back({note.string.first_hz, note.string.first_u95_cents});
  const Tuning guess{settings.tuning.a4_hz, partner.temperament};
  partner.notes = partner_notes(measured, named_pitches(pitches, guess));
  settle(partner, guess.a4_hz);
  partner.warnings = recording.warnings();
  if (samples.is_cut)
    partner.warnings.push_back({WarningCode::partner_cut,
                                "only the first ten minutes of the recording were used; a dozen notes of "
                                "two seconds each are enough."});
  std::ranges::copy(partner_warnings(partner, guess.a4_hz), std::back_inserter(partner.warnings));
  return partner;
}

PartnerPitch partner_pitch(const std::string& path, const PartnerSettings& settings) {
  const Partner partner = find_partner(path, settings);
  return {partner.a4_hz, partner.a4_u95_hz, partner.warnings};
}

}  // namespace windway
