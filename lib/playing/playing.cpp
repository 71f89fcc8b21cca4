// SPDX-License-Identifier: GPL-3.0-or-later
#include "playing/playing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <numbers>
#include <utility>

#include "pitch/pitch_track.hpp"
#include "playing/stretches.hpp"
#include "recording/input_file.hpp"
#include "scale/range.hpp"

namespace windway {
namespace {

// Told from talk and noise by two things (judgements): notes stay where they are for most of the time, and they lie on
// one lattice of semitones, as sharp as the whole may be.
constexpr double least_staying_share = 0.35;
constexpr double least_on_lattice = 0.25;  // length of the mean of unit vectors, a turn to the semitone
constexpr double least_notes_s = 1.0;
constexpr std::size_t most_named = 600;  // the longest stretches name the instrument

constexpr double least_of_note_s = 0.05;     // in stretches, which leave the notes' ends out
constexpr double least_of_stranger_s = 0.3;  // of a note outside the scale
constexpr double same_note_cents = 45.0;

Error no_melody_error(const TakeInfo& take) {
  constexpr double silent_peak = 0.003;  // - 50 dB full scale
  const std::string what =
      take.peak < silent_peak
          ? "the recording is silent or nearly so; move the microphone nearer or turn the recording level up"
          : "no melody of a flute is in it; play one flute alone for half a minute or more, and switch off whatever "
            "filters voices or noise";
  return Error(ErrorKind::recording, fmt::format("cannot measure {}: {}", take_name(take.path), what));
}

bool is_melody(const Melody& melody, const std::vector<Stretch>& stretches) {
  const auto sounding = std::ranges::count_if(melody.frames, &MelodyFrame::sounds);
  double staying = 0, x = 0, y = 0;
  for (const Stretch& stretch : stretches) {
    const auto frames = static_cast<double>(stretch.frames());
    const double turn_rad = 2.0 * std::numbers::pi * stretch.cents / 100.0;
    staying += frames;
    x += frames * std::cos(turn_rad);
    y += frames * std::sin(turn_rad);
  }
  return staying * melody.hop_s >= least_notes_s && staying >= least_staying_share * static_cast<double>(sounding) &&
         std::hypot(x, y) >= least_on_lattice * staying;
}

/// The longest stretches as holds, in order of time, for the naming.
std::vector<Hold> as_holds(const Melody& melody, std::vector<Stretch> stretches) {
  if (stretches.size() > most_named) {
    std::ranges::nth_element(stretches, stretches.begin() + most_named, std::greater{}, &Stretch::frames);
    stretches.resize(most_named);
    std::ranges::sort(stretches, {}, &Stretch::first);
  }
  std::vector<Hold> holds;
  for (const Stretch& stretch : stretches) {
    Hold hold;
    hold.start_s = hold.steady_start_s = melody.time_s(stretch.first);
    hold.end_s = hold.steady_end_s = melody.time_s(stretch.last);
    hold.frequency_hz = hz_at_cents(440.0, stretch.cents);
    hold.level_db = stretch.level_db;
    holds.push_back(hold);
  }
  return holds;
}

double length_s(const Hold& hold, double hop_s) { return hold.end_s - hold.start_s + hop_s; }

/// Where the note lies: the median over time.
double middle_cents(std::vector<std::pair<double, double>> cents_and_s) {
  std::ranges::sort(cents_and_s);
  double all_s = 0, below_s = 0;
  for (const auto& [cents, seconds] : cents_and_s) all_s += seconds;
  for (const auto& [cents, seconds] : cents_and_s)
    if ((below_s += seconds) >= 0.5 * all_s) return cents;
  return cents_and_s.back().first;
}

/// The notes that the named stretches play, ascending; what is heard for a moment only and not of the scale is none.
std::vector<MelodyPitch> melody_pitches(const Naming& naming, double hop_s) {
  std::map<int, std::vector<std::pair<double, double>>> by_midi;
  std::map<int, double> sounded_s;
  for (const NamedHold& named : naming.holds) {
    by_midi[named.midi].emplace_back(cents_between(440.0, named.hold.frequency_hz), length_s(named.hold, hop_s));
    sounded_s[named.midi] += length_s(named.hold, hop_s);
  }
  std::vector<MelodyPitch> pitches;
  for (const auto& [midi, heard] : by_midi) {
    const bool in_scale = scale_note(naming.instrument, midi) != nullptr;
    if (sounded_s[midi] < (in_scale ? least_of_note_s : least_of_stranger_s)) continue;
    const MelodyPitch pitch{midi, middle_cents(heard)};
    const bool is_last_again = !pitches.empty() && pitch.cents - pitches.back().cents < same_note_cents;
    if (!is_last_again)
      pitches.push_back(pitch);
    else if (sounded_s[midi] > sounded_s[pitches.back().midi])
      pitches.back() = pitch;
  }
  return pitches;
}

/// The usual fingering of a note in the scale take; null where it is not in it.
const NoteBreath* find_note(const std::vector<NoteBreath>& scale_take, int midi) {
  const auto found =
      std::ranges::find_if(scale_take, [midi](const NoteBreath& note) { return note_key(note) == midi; });
  return found == scale_take.end() ? nullptr : &*found;
}

void place_in_scale(PlayedPitch& note, const Instrument& instrument, const std::vector<NoteBreath>& scale_take) {
  const ScaleNote* known = scale_note(instrument, note.midi);
  note.in_scale = known != nullptr;
  note.register_number =
      known ? known->register_number : register_of(instrument.kind, note.midi - instrument.lowest_midi);
  const NoteBreath* taken = find_note(scale_take, note.midi);
  if (!taken) return;
  note.moderate_cents = taken->moderate.cents;
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
  const ScaleNote* known = scale_note(instrument, note.midi);
  out.midi = note.midi;
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
  Air air = playing.settings.air;
  air.temperature_c = playing.settings.quote_at_c.value_or(air.temperature_c);
  return find_compromise(notes, playing.settings.head, playing.settings.tuning.a4_hz, speed_of_sound_m_s(air),
                         std::nullopt);
}

/// Naming warns as of held notes; what it says of repeats and of single notes does not suit a melody.
bool suits_a_melody(const Warning& warning) { return warning.code != "one_note_played" && warning.code != "not_heard"; }

Warnings playing_warnings(const Playing& playing, const std::vector<NoteBreath>& scale_take) {
  constexpr double long_enough_s = 20.0;
  Warnings warnings;
  if (playing.sounded_s < long_enough_s) {
    warnings.push_back({"short_melody", fmt::format("only {:.0f} s of notes are in the recording; half a minute or "
                                                    "more of your usual music says more",
                                                    playing.sounded_s)});
  }
  const bool some_in_take =
      std::ranges::any_of(playing.notes, [](const PlayedPitch& note) { return note.from_take.has_value(); });
  if (!scale_take.empty() && !some_in_take) {
    warnings.push_back({"no_note_in_scale_take",
                        "no note of the melody is in the scale take; check that both are of "
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
  if (!settings.quote_at_c) return;
  Air quoted_for = settings.air;
  quoted_for.temperature_c = *settings.quote_at_c;
  const double cents = air_change_cents(settings.air, quoted_for);
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
  const std::vector<Stretch> stretches = find_stretches(melody);
  if (!is_melody(melody, stretches)) throw no_melody_error(recording.info());
  const std::vector<Hold> holds = in_range(as_holds(melody, stretches), settings.instrument, settings.tuning.a4_hz);
  const Naming naming = name_holds(holds, settings.instrument, settings.tuning);
  const std::vector<MelodyPitch> pitches = melody_pitches(naming, melody.hop_s);

  Playing playing;
  playing.take = recording.info();
  playing.settings = settings;
  playing.settings.tuning = naming.tuning;
  playing.settings.head = known_head(settings.head, naming.instrument);
  playing.instrument = naming.instrument;
  playing.inferred = naming.inferred;
  playing.has_scale_take = !scale_take.empty();
  playing.notes = played_notes(melody, pitches, find_note_runs(melody, pitches), naming.tuning);
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
