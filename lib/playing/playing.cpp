// SPDX-License-Identifier: GPL-3.0-or-later
#include "playing/playing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <utility>

#include "input/input_file.hpp"
#include "pitch/pitch_track.hpp"
#include "playing/melody_scale.hpp"
#include "scale/range.hpp"

namespace windway {
namespace {

Error no_melody_error(const TakeInfo& take) {
  const char* otherwise =
      "no melody of a flute is in it; play one flute alone for half a minute or more, and switch off whatever filters "
      "voices or noise";
  return Error(ErrorKind::recording,
               fmt::format("cannot measure {}: {}", take_name(take.path), why_nothing(take, otherwise)));
}

/// The usual fingering of a note in the scale take; null where it is not in it.
const NoteBreath* find_note(const std::vector<NoteBreath>& scale_take, int midi) {
  const auto found = std::ranges::find(scale_take, NoteId{midi}, &NoteBreath::id);
  return found == scale_take.end() ? nullptr : &*found;
}

void place_in_scale(PlayedPitch& note, const Instrument& instrument, const std::vector<NoteBreath>& scale_take) {
  const ScaleNote* known = scale_note(instrument, {note.midi});
  note.in_scale = known != nullptr;
  note.register_number =
      known ? known->register_number : register_of(instrument.kind, note.midi - instrument.lowest_midi);
  const NoteBreath* taken = find_note(scale_take, note.midi);
  if (!taken) return;
  note.moderate_cents = taken->moderate.cents;
  note.reach_soft_cents = taken->reach_soft_cents;
  note.reach_hard_cents = taken->reach_hard_cents;
  note.from_take = CentsEstimate{note.median.cents - taken->moderate.cents,
                                 std::hypot(note.median.u95_cents, taken->moderate.u95_cents)};
}

/// Mean of figures weighted by time; the notes' doubts are independent.
class TimedMean {
 public:
  void add(const CentsEstimate& estimate, double seconds) {
    sum_ += seconds * estimate.cents;
    squares_ += seconds * seconds * estimate.u95_cents * estimate.u95_cents;
    seconds_ += seconds;
  }
  std::optional<CentsEstimate> mean() const {
    if (seconds_ <= 0) return std::nullopt;
    return CentsEstimate{sum_ / seconds_, std::sqrt(squares_) / seconds_};
  }

 private:
  double sum_ = 0, squares_ = 0, seconds_ = 0;
};

std::vector<PlayedRegister> played_registers(const std::vector<PlayedPitch>& notes) {
  std::map<int, std::vector<const PlayedPitch*>> by_register;
  for (const PlayedPitch& note : notes)
    if (note.in_scale) by_register[note.register_number].push_back(&note);
  std::vector<PlayedRegister> registers;
  for (const auto& [number, own] : by_register) {
    PlayedRegister& out = registers.emplace_back();
    TimedMean deviation, from_take;
    for (const PlayedPitch* note : own) {
      out.sounded_s += note->sounded_s;
      deviation.add(note->median, note->sounded_s);
      if (note->from_take) from_take.add(*note->from_take, note->sounded_s);
    }
    out.register_number = number;
    out.deviation = *deviation.mean();
    out.from_take = from_take.mean();
  }
  return registers;
}

/// The note as the search for the compromise sees it: as it is played, with the reach that the scale take measured.
NoteBreath as_breath(const PlayedPitch& note, const Instrument& instrument, const std::vector<NoteBreath>& scale_take) {
  NoteBreath out;
  const NoteBreath* taken = find_note(scale_take, note.midi);
  if (taken) out = *taken;
  const ScaleNote* known = scale_note(instrument, {note.midi});
  out.id = {note.midi};
  out.register_number = note.register_number;
  out.target_hz = note.target_hz;
  out.can_check = known && known->can_check;
  out.weight = note.time_share * (known ? known->weight : 0.0);
  out.holds = note.occurrences;
  out.moderate = note.median;
  out.moderate_is_midway = false;
  return out;
}

std::optional<Compromise> further_move(const Playing& playing, const std::vector<NoteBreath>& scale_take) {
  std::vector<NoteBreath> notes;
  for (const PlayedPitch& note : playing.notes)
    if (note.in_scale) notes.push_back(as_breath(note, playing.instrument, scale_take));
  if (notes.empty()) return std::nullopt;
  const MeasureSettings& settings = playing.settings;
  const double a4_hz = settings.tuning.a4_hz;
  Compromise further =
      find_compromise(notes, settings.head, a4_hz, speed_of_sound_m_s(quoted_air(settings)), std::nullopt);
  if (!settings.a4_u95_hz) return further;
  return with_doubtful_reference(std::move(further), cents_between(a4_hz, a4_hz + *settings.a4_u95_hz));
}

/// Naming warns as of held notes; what it says of repeats and of single notes does not suit a melody.
bool suits_a_melody(const Warning& warning) {
  return warning.code != WarningCode::one_note_played && warning.code != WarningCode::not_heard;
}

Warnings playing_warnings(const Playing& playing, const std::vector<NoteBreath>& scale_take) {
  constexpr double long_enough_s = 20.0;
  Warnings warnings;
  if (playing.sounded_s < long_enough_s) {
    warnings.push_back(
        {WarningCode::short_melody, fmt::format("only {:.0f} s of notes are in the recording; half a minute or "
                                                "more of your usual music shows more",
                                                playing.sounded_s)});
  }
  const bool some_in_take =
      std::ranges::any_of(playing.notes, [](const PlayedPitch& note) { return note.from_take.has_value(); });
  if (!scale_take.empty() && !some_in_take) {
    warnings.push_back({WarningCode::no_note_in_scale_take,
                        "no note of the melody is in the scale take: check that both are of "
                        "the same flute, or give --lowest"});
  }
  return warnings;
}

/// Everything of the recording that is heard as a tone.
Melody melody_of(Recording& recording, const MeasureSettings& settings) {
  PitchTracker tracker(recording, pitch_rules(settings.instrument, settings.tuning.a4_hz));
  Melody melody;
  while (const auto chapter = tracker.next_chapter()) melody.add(*chapter);
  return without_faint(std::move(melody));
}

/// The notes as they would be with the bore at the temperature asked for.
void quote(std::vector<PlayedPitch>& notes, const MeasureSettings& settings) {
  const double cents = air_change_cents(settings.air, quoted_air(settings));
  for (PlayedPitch& note : notes) {
    note.median.cents += cents;
    note.lower_quartile_cents += cents;
    note.upper_quartile_cents += cents;
  }
}

}  // namespace

Playing measure_playing(const std::string& path, const MeasureSettings& settings,
                        const std::vector<NoteBreath>& scale_take) {
  Recording recording(path);
  const Melody melody = melody_of(recording, settings);
  const std::optional<MelodyScale> scale = scale_of(melody, settings.instrument, settings.tuning);
  if (!scale) throw no_melody_error(recording.info());
  const Naming& naming = scale->naming;

  Playing playing;
  playing.take = recording.info();
  playing.settings = settings;
  playing.settings.tuning = naming.tuning;
  playing.settings.head = known_head(settings.head, naming.instrument);
  playing.instrument = naming.instrument;
  playing.inferred = naming.inferred;
  playing.has_scale_take = !scale_take.empty();
  playing.notes = played_notes(scale->notes, naming.instrument, naming.tuning);
  if (playing.notes.empty()) throw no_melody_error(recording.info());
  quote(playing.notes, settings);
  for (PlayedPitch& note : playing.notes) {
    place_in_scale(note, playing.instrument, scale_take);
    playing.sounded_s += note.sounded_s;
  }
  playing.registers = played_registers(playing.notes);
  playing.further = further_move(playing, scale_take);
  playing.warnings = recording.warnings();
  std::ranges::copy_if(naming.warnings, std::back_inserter(playing.warnings), suits_a_melody);
  std::ranges::copy(playing_warnings(playing, scale_take), std::back_inserter(playing.warnings));
  if (playing.further) std::ranges::copy(playing.further->warnings, std::back_inserter(playing.warnings));
  return playing;
}

std::vector<NoteWeight> weights_from(const Playing& playing) {
  std::vector<NoteWeight> weights;
  for (const PlayedPitch& note : playing.notes)
    if (note.in_scale) weights.push_back({note.midi, note.time_share});
  return weights;
}

}  // namespace windway
