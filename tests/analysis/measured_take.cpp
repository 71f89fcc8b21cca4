// SPDX-License-Identifier: GPL-3.0-or-later
#include "measured_take.hpp"

#include "recording/written_file.hpp"
#include "support/plan.hpp"
#include "support/sound_file.hpp"

namespace windway::test {

PlayedTake steps_take(const std::vector<int>& notes, std::uint64_t seed, const synthesis::Performance& performance,
                      double overall_cents) {
  synthesis::Random random(seed);
  PlayedTake take;
  take.flute = synthesis::draw_flute({.overall_cents = overall_cents}, random);
  const auto plan = synthesis::note_by_note(notes, {Blow::soft, Blow::moderate, Blow::hard}, {}, {}, random);
  take.sound = synthesis::synthesise_take(take.flute, plan, performance, random);
  return take;
}

MeasureSettings whistle_in_d() {
  MeasureSettings settings;
  settings.instrument.kind = Kind::whistle;
  settings.instrument.lowest = WrittenNote{.pitch_class = 2, .octave = 5};
  settings.blows.is_warm = true;
  return settings;
}

Measurement measured(const std::vector<float>& samples, double rate_hz, const MeasureSettings& settings, int channels,
                     int bits) {
  const TemporaryFolder folder;
  const std::string path = folder.path_of("take.wav");
  synthesis::write_sound(path, samples, rate_hz, channels, bits);
  return measure({path}, settings);
}

Measurement measured_together(const std::vector<std::vector<float>>& takes, double rate_hz,
                              const MeasureSettings& settings) {
  const TemporaryFolder folder;
  std::vector<std::string> paths;
  for (const auto& samples : takes) {
    paths.push_back(folder.path_of("take" + std::to_string(paths.size()) + ".wav"));
    synthesis::write_sound(paths.back(), samples, rate_hz, 1, 32);
  }
  return measure(paths, settings);
}

std::vector<int> midi_of_holds(const Measurement& measurement) {
  std::vector<int> midi;
  for (const NamedHold& hold : measurement.naming.holds) midi.push_back(hold.note.midi);
  return midi;
}

}  // namespace windway::test
