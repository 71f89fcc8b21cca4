// SPDX-License-Identifier: GPL-3.0-or-later
#include "external/soundfont.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <initializer_list>

#include "cli/run_program.hpp"

namespace windway::external_tests {
namespace {

constexpr int ticks_a_second = 960;  // 480 a quarter note at the format's own 120 quarter notes a minute

/// Most significant byte first, as MIDI files have it.
std::string number(unsigned value, int bytes) {
  std::string text;
  for (int byte = bytes - 1; byte >= 0; --byte) text += static_cast<char>((value >> (8 * byte)) & 0xFFU);
  return text;
}

/// A "variable-length quantity": seven bits a byte, the top bit set on all but the last.
std::string variable_length(unsigned value) {
  std::string text(1, static_cast<char>(value & 0x7FU));
  while ((value >>= 7U) != 0) text.insert(text.begin(), static_cast<char>((value & 0x7FU) | 0x80U));
  return text;
}

std::string bytes(std::initializer_list<int> values) {
  std::string text;
  for (const int value : values) text += static_cast<char>(value);
  return text;
}

std::string event(double after_s, std::initializer_list<int> values) {
  return variable_length(static_cast<unsigned>(std::lround(after_s * ticks_a_second))) + bytes(values);
}

/// Key, then the equal-tempered semitone at or below the pitch and the 14-bit fraction above it. The fraction is
/// rounded up, by 0.006 cents at most, because FluidSynth cuts the pitch to the whole cent below.
std::string tuning_of(const TunedKey& tuned) {
  const int semitone = tuned.offset_cents < 0 ? tuned.key - 1 : tuned.key;
  const int above_cents = tuned.offset_cents < 0 ? tuned.offset_cents + 100 : tuned.offset_cents;
  const int fraction = (above_cents * 16384 + 99) / 100;
  return bytes({tuned.key, semitone, fraction >> 7, fraction & 0x7F});
}

std::string tuning_message(const std::vector<TunedKey>& keys) {
  std::string message = bytes({0x7F, 0x7F, 0x08, 0x02, 0x00, static_cast<int>(keys.size())});
  for (const TunedKey& key : keys) message += tuning_of(key);
  message += bytes({0xF7});
  return event(0, {0xF0}) + variable_length(static_cast<unsigned>(message.size())) + message;
}

/// Registered parameter `parameter` of channel 0 set to 0: the tuning program (3) or bank (4) that was tuned.
std::string select_zero(int parameter) {
  return event(0, {0xB0, 101, 0}) + event(0, {0xB0, 100, parameter}) + event(0, {0xB0, 6, 0});
}

/// `events` between the tuning and the end of the track.
std::string tuned_track(int program, const std::vector<TunedKey>& keys, const std::string& events) {
  const std::string track = tuning_message(keys) + select_zero(4) + select_zero(3) + event(0, {0xC0, program}) +
                            events + event(0.5, {0xFF, 0x2F, 0x00});
  return "MThd" + number(6, 4) + number(0, 2) + number(1, 2) + number(ticks_a_second / 2, 2) + "MTrk" +
         number(static_cast<unsigned>(track.size()), 4) + track;
}

constexpr int velocity = 100;

}  // namespace

std::string midi_file(const std::vector<TunedKey>& keys, int program, bool wholly_left) {
  std::string events = wholly_left ? event(0, {0xB0, 10, 0}) : "";
  for (const TunedKey& key : keys) events += event(0.5, {0x90, key.key, velocity}) + event(2.0, {0x80, key.key, 0});
  return tuned_track(program, keys, events);
}

std::string midi_melody(int program, const std::vector<TunedKey>& tuning, const std::vector<PlayedKey>& melody) {
  std::string events;
  double rest_s = 0.5;
  for (const PlayedKey& played : melody) {
    events += event(rest_s, {0x90, played.key, velocity}) + event(played.length_s, {0x80, played.key, 0});
    rest_s = played.rest_s;
  }
  return tuned_track(program, tuning, events);
}

bool play_soundfont(const std::string& font, const std::string& midi_path, const std::string& wav_path) {
  const cli_tests::ProgramRun run = cli_tests::run_program(
      {"fluidsynth", "-q",     "-n", "-i",     "-f", "/dev/null", "-R", "0",   "-C", "0",
       "-g",         "0.6",    "-r", "48000",  "-T", "wav",       "-O", "s24", "-o", "synth.dynamic-sample-loading=1",
       "-F",         wav_path, font, midi_path});
  if (run.exit_status == 127) return false;
  EXPECT_EQ(run.exit_status, 0) << run.err;
  return true;
}

}  // namespace windway::external_tests
