// SPDX-License-Identifier: GPL-3.0-or-later
#include "shared_settings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <iterator>
#include <tuple>

#include "analysis.hpp"
#include "instrument/instrument_file.hpp"
#include "instrument/instrument_names.hpp"
#include "options.hpp"
#include "partner/partner.hpp"
#include "report/measurement/saved.hpp"
#include "saved_as_called.hpp"
#include "terminal.hpp"
#include "units/count_in_words.hpp"

namespace windway::cli {
namespace {

Blow blow_called(const std::string& name) {
  if (name == "soft") return Blow::soft;
  return name == "hard" ? Blow::hard : Blow::moderate;
}

/// The instrument whose fingering gives just these notes.
Instrument instrument_of_scale(const FluteOptions& flute, Kind kind, NoteNames names) {
  const std::vector<NoteId> notes = parse_order(flute.scale, names);
  Instrument instrument;
  instrument.kind = kind;
  instrument.lowest_midi = notes.front().midi;
  for (const NoteId& note : notes) {
    if (!instrument.scale.empty() && note.midi <= instrument.scale.back().id.midi) {
      refuse("--scale: write the notes from the lowest up, each once, as in --scale 'D5 E5 F#5'");
    }
    instrument.scale.push_back(
        {.id = {note.midi}, .register_number = register_of(kind, note.midi - instrument.lowest_midi)});
  }
  return instrument;
}

}  // namespace

Air air_of(const PitchOptions& pitch, Air air) {
  if (pitch.bore_temp_c) air.temperature_c = *pitch.bore_temp_c;
  if (pitch.humidity_percent) air.relative_humidity = *pitch.humidity_percent / 100.0;
  if (pitch.co2_percent) air.co2_fraction = *pitch.co2_percent / 100.0;
  return air;
}

namespace {

/// The place of the head, where one is said.
std::optional<double> place_said_mm(const HeadOptions& options) {
  if (options.is_fully_in) return 0.0;
  return options.head_out_mm.empty() ? std::nullopt : std::optional(options.head_out_mm.front());
}

Head head_of(const HeadOptions& options) {
  const bool says_place = options.is_fully_in || !options.head_out_mm.empty();
  if (options.is_fully_in && !options.head_out_mm.empty()) {
    refuse("--fully-in and --head-out contradict each other; give one");
  }
  if (options.is_fixed_head && (says_place || options.travel_mm)) {
    refuse("--fixed-head says that the head does not move; leave out --fully-in, --head-out and --travel");
  }
  if (options.travel_mm && !options.head_out_mm.empty() && std::ranges::max(options.head_out_mm) > *options.travel_mm) {
    refuse("--head-out is more than --travel, the farthest that the head can be drawn out");
  }
  Head head;
  head.moves = !options.is_fixed_head;
  head.out_mm = place_said_mm(options);
  head.travel_mm = options.travel_mm;
  return head;
}

void refuse_several_places(const HeadOptions& options) {
  if (options.head_out_mm.size() < 2) return;
  refuse(
      "--head-out takes one place here, with a decimal point, as in --head-out 2.5; only windway measure takes "
      "several, one for each take");
}

/// Empty where one place holds for all.
std::vector<double> places_of_takes_mm(const HeadOptions& options, std::size_t takes) {
  const std::size_t places = options.head_out_mm.size();
  if (places < 2) return {};
  if (places == takes) return options.head_out_mm;
  refuse(
      fmt::format("--head-out gives {} places for {}: give one place for all, or one for each take in order, as in "
                  "--head-out 0,2.5 (2.5 mm is written with a point)",
                  places, count_in_words(takes, "take")));
}

}  // namespace

NoteNames note_names_of(const FluteOptions& flute) {
  return flute.note_names == "german" ? NoteNames::german : NoteNames::english;
}

Instrument instrument_from(const std::string& file_or_name) {
  if (file_or_name.ends_with(".toml") || std::filesystem::is_regular_file(file_or_name)) {
    return read_instrument(file_or_name);
  }
  if (const auto named = instrument_called(file_or_name)) return *named;
  refuse("no instrument and no file is called '" + file_or_name + "'; " + remedy_for_name(file_or_name));
}

InstrumentHint hint_of(const FluteOptions& flute) {
  InstrumentHint hint;
  hint.note_names = note_names_of(flute);
  if (!flute.kind.empty()) hint.kind = flute.kind == "recorder" ? Kind::recorder : Kind::whistle;
  if (!flute.lowest.empty()) hint.lowest = parse_note(flute.lowest, hint.note_names);
  if (!flute.instrument.empty()) {
    if (!flute.kind.empty() || !flute.lowest.empty() || !flute.scale.empty()) {
      refuse("--instrument gives the kind and the notes: leave out --kind, --lowest and --scale, or --instrument");
    }
    hint.instrument = instrument_from(flute.instrument);
    if (flute.note_names == "english") hint.note_names = hint.instrument->note_names;
  }
  if (!flute.order.empty()) hint.order = parse_order(flute.order, hint.note_names);
  if (flute.scale.empty()) return hint;
  if (!flute.lowest.empty()) refuse("--scale begins with the lowest note: leave --lowest out");
  hint.instrument = instrument_of_scale(flute, hint.kind.value_or(Kind::whistle), hint.note_names);
  return hint;
}

Tuning tuning_of(const PitchOptions& pitch, const InstrumentHint& hint) {
  Tuning tuning;
  if (hint.instrument && hint.instrument->a4_hz) tuning.a4_hz = *hint.instrument->a4_hz;
  if (hint.instrument && hint.instrument->temperament) tuning.temperament = *hint.instrument->temperament;
  if (pitch.a4_hz) tuning.a4_hz = *pitch.a4_hz;
  if (!pitch.temperament.empty()) tuning.temperament = {*temperament_called(pitch.temperament), {}, {}};
  if (pitch.key.empty()) return tuning;
  if (tuning.temperament.name == TemperamentName::equal) {
    refuse("--key is the key note of a temperament other than equal: give --temperament too, as in --temperament just");
  }
  tuning.temperament.key_pitch_class = parse_note(pitch.key, hint.note_names).pitch_class;
  return tuning;
}

std::pair<Tuning, std::optional<double>> tuning_with_partner(const PitchOptions& pitch, const InstrumentHint& hint) {
  Tuning tuning = tuning_of(pitch, hint);
  if (pitch.partner.empty()) return {tuning, std::nullopt};
  // How the flute is to be tempered says nothing of the partner, unless the call says it of both.
  const Temperament of_partner = pitch.temperament.empty() ? Temperament{} : tuning.temperament;
  const PartnerPitch partner = partner_pitch(pitch.partner, {{tuning.a4_hz, of_partner}, hint});
  complain_of(partner.warnings);
  tuning.a4_hz = partner.a4_hz;
  return {tuning, partner.a4_u95_hz};
}

BlowHint blow_hint_of(const BlowOptions& blow) {
  BlowHint hint;
  std::ranges::transform(blow.blown, std::back_inserter(hint.order), blow_called);
  hint.is_warm = blow.is_warm;
  return hint;
}

namespace {

/// What is said of the takes; of several places of the head only the first.
MeasureSettings settings_but_places(const TakeOptions& take) {
  MeasureSettings settings;
  settings.instrument = hint_of(take.flute);
  settings.note_names = settings.instrument.note_names;
  std::tie(settings.tuning, settings.a4_u95_hz) = tuning_with_partner(take.pitch, settings.instrument);
  settings.air = air_of(take.pitch, {});
  const auto& instrument = settings.instrument.instrument;
  settings.quote_at_c = take.pitch.quote_at_c || !instrument ? take.pitch.quote_at_c : instrument->quote_at_c;
  settings.head = head_of(take.head);
  settings.hold_rules = take.blow.hold_rules;
  settings.blows = blow_hint_of(take.blow);
  return settings;
}

}  // namespace

MeasureSettings settings_of(const TakeOptions& take) {
  refuse_several_places(take.head);
  return settings_but_places(take);
}

MeasureSettings settings_of(const TakeOptions& take, std::size_t takes) {
  const std::vector<double> places_mm = places_of_takes_mm(take.head, takes);
  MeasureSettings settings = settings_but_places(take);
  settings.head_out_mm_of_takes = places_mm;
  return settings;
}

void refuse_take_options(const CLI::App& command, const std::string& why_none, const std::vector<std::string>& but) {
  static const std::vector<std::string> of_results{"--format",     "--output",     "--results",
                                                   "--figure",     "--plot",       "--tolerance",
                                                   "--max-spread", "--max-octave", "--head-out-range"};
  for (const std::string& option : given_options(command))
    if (std::ranges::find(of_results, option) == of_results.end() && std::ranges::find(but, option) == but.end())
      refuse(why_none + ", and " + option + " is for measuring a recording; leave " + option +
             " out, or give the recording");
}

void refuse_options_with_saved(const CLI::App& command, const std::string& saved) {
  refuse_take_options(command, saved + " is a saved result");
}

Measurement measured_or_saved(const std::string& path, const TakeOptions& take, const MeasureSettings& settings) {
  return is_saved_result(path) ? saved_as_called(read_measurement(path), take, settings) : measure({path}, settings);
}

}  // namespace windway::cli
