// SPDX-License-Identifier: GPL-3.0-or-later
#include "drone.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <memory>

#include "call_files.hpp"
#include "drone/write_drone.hpp"
#include "exit_status.hpp"
#include "help.hpp"
#include "options.hpp"
#include "report/wording/layout.hpp"
#include "results/output_file.hpp"
#include "shared_settings.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

/// `windway drone` as it was called.
struct DroneCall {
  std::vector<std::string> notes;
  DroneSettings sound;
  std::string output;
  std::string note_names = "english";
  PitchOptions pitch;
};

constexpr auto drone_examples =
    R"(Play a long moderate note against it. If blowing harder makes the beating
faster, you are sharp; if it makes it slower, you are flat. Where nothing beats,
you are in tune. Start your loudspeaker low: long steady notes tire the ears.

Examples:
  windway drone D5 --output d5.wav
  windway drone D5 --a4 441.3 --temperament just --key D --seconds 120 \
      --output d5.flac)";

WrittenNote note_of(const DroneCall& call) {
  if (call.notes.size() != 1) refuse("which note? One, with its octave, as in: windway drone D5 --output d5.wav");
  const NoteNames names = call.note_names == "german" ? NoteNames::german : NoteNames::english;
  const WrittenNote note = parse_note(call.notes.front(), names);
  if (!note.octave) {
    refuse("in which octave should " + call.notes.front() +
           " sound? A whistle in D has D5 as its lowest, so: " + call.notes.front() + "5");
  }
  return note;
}

/// The key has to be said: a drone has no instrument that would tell it.
Tuning tuning_of_drone(const DroneCall& call) {
  InstrumentHint hint;
  hint.note_names = call.note_names == "german" ? NoteNames::german : NoteNames::english;
  const Tuning tuning = tuning_with_partner(call.pitch, hint).first;
  if (tuning.temperament.name != TemperamentName::equal && !tuning.temperament.key_pitch_class) {
    refuse("--temperament other than equal needs a key note: add it, as in --key D");
  }
  return tuning;
}

void write_drone_file(const DroneCall& call) {
  const WrittenNote note = note_of(call);
  const Tuning tuning = tuning_of_drone(call);
  if (call.output.empty()) refuse("where to? Give the name of a sound file, as in --output d5.wav");
  if (!is_drone_name(call.output)) refuse("--output: a drone is a file that ends in .wav or .flac, as in d5.wav");
  DroneSettings sound = call.sound;
  sound.frequency_hz = target_hz(midi_of(note), tuning);
  if (sound.frequency_hz < 20 || sound.frequency_hz > 10000) {
    refuse(call.notes.front() + " would sound at " + fmt::format("{:.0f}", sound.frequency_hz) +
           " Hz; give a note from 20 to 10000 Hz");
  }
  refuse_overwriting("--output", call.output, {call.pitch.partner});
  if (!is_drone_file(call.output)) refuse_replacing_sound("--output", call.output);
  OutputFile file(call.output);
  write_drone(sound, file.descriptor(), call.output);
  file.finish("");
  print(wrapped(fmt::format("{}: {} at {:.3f} Hz, {} s. Start your loudspeaker low.", call.output, call.notes.front(),
                            sound.frequency_hz, sound.duration_s),
                2, columns_of_output()) +
        wrapped("If blowing harder makes the beating faster, you are sharp; if slower, flat.", 0, columns_of_output()));
}

}  // namespace

Action declare_drone(CLI::App& command) {
  const auto call = std::make_shared<DroneCall>();
  add_recordings_option(command, "NOTE", call->notes, "the note as it should sound: D5, Bb4, F#5");
  add_tuning_options(command, call->pitch);
  const std::string group = "The result";
  accept_choices(command.add_option("--note-names", call->note_names, "english (B, Bb) or german (H, B)")
                     ->group(group)
                     ->type_name("NAMES"),
                 {"english", "german"});
  accept_numbers(command.add_option("--seconds", call->sound.duration_s, "how long")->group(group),
                 {0.2, 14400, "SECONDS", "seconds", "four hours at most"});
  command.add_option("--output", call->output, "the sound file, .wav or .flac")->group(group)->type_name("FILE");
  add_help_option(command);
  command.footer(drone_examples);
  return [call] { return write_drone_file(*call), exit_measured; };
}

}  // namespace windway::cli
