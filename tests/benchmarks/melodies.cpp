// SPDX-License-Identifier: GPL-3.0-or-later
// How exactly the notes of a melody are measured: invented flutes played by invented players, every pitch known.
//   windway_melodies [melodies of each kind, default 10] [first seed, default 1] [told]
// `told`: the instrument is said. Of notes that sound a second or more: how many lie within a cent of what sounded, the
// farthest, how many u95 hold what the player meant; and notes that no one played, notes missed.
#include "support/melodies.hpp"

#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>

#include "playing/playing.hpp"
#include "support/sound_file.hpp"

namespace {

using namespace windway::synthesis;

struct Tally {
  int melodies = 0, notes = 0, near = 0, held = 0, invented = 0, missed = 0, failed = 0;
  double farthest_cents = 0, squares = 0, invented_s = 0;
};

void judge(const RenderedMelody& melody, const windway::Playing& found, Tally& tally) {
  const auto truth = true_melody_notes(melody);
  for (const TrueMelodyNote& note : truth) {
    if (note.sounded_s < 1.0) continue;
    const auto own = std::ranges::find(found.notes, note.midi, &windway::PlayedPitch::midi);
    if (own == found.notes.end()) {
      ++tally.missed;
      continue;
    }
    const double off = own->median.cents - note.median_cents;
    ++tally.notes;
    tally.near += std::abs(off) <= 1.0;
    tally.held += std::abs(own->median.cents - note.meant_cents) <= own->median.u95_cents;
    tally.squares += off * off;
    tally.farthest_cents = std::max(tally.farthest_cents, std::abs(off));
    if (std::abs(off) > 1.0 && std::getenv("WINDWAY_VERBOSE"))
      std::printf("  %d off %.2f, %.2f s of %.2f s, %d times, u95 %.2f\n", note.midi, off, own->sounded_s,
                  note.sounded_s, own->occurrences, own->median.u95_cents);
  }
  for (const windway::PlayedPitch& note : found.notes) {
    if (std::ranges::find(truth, note.midi, &TrueMelodyNote::midi) != truth.end()) continue;
    ++tally.invented;
    tally.invented_s += note.sounded_s;
    if (std::getenv("WINDWAY_VERBOSE")) std::printf("  invented %d, %.2f s\n", note.midi, note.sounded_s);
  }
}

windway::MeasureSettings settings_of(const RenderedMelody& melody, bool told) {
  windway::MeasureSettings settings;
  if (!told) return settings;
  settings.instrument.instrument = windway::builtin_instrument(melody.flute.kind, melody.flute.notes.front().midi);
  return settings;
}

Tally tally_of(MelodyKind kind, int melodies, std::uint64_t first_seed, bool told) {
  const std::string path =
      (std::filesystem::temp_directory_path() / ("windway-melody-" + std::to_string(getpid()) + ".wav")).string();
  Tally tally;
  for (int i = 0; i < melodies; ++i) {
    const RenderedMelody melody = play_melody({.kind = kind}, first_seed + static_cast<std::uint64_t>(i));
    write_sound(path, melody.sound.samples, melody.sound.rate_hz);
    ++tally.melodies;
    try {
      judge(melody, windway::measure_playing(path, settings_of(melody, told), {}), tally);
    } catch (const windway::Error& error) {
      std::printf("  seed %d: %s\n", static_cast<int>(first_seed) + i, error.what());
      ++tally.failed;
    }
  }
  std::filesystem::remove(path);
  return tally;
}

}  // namespace

int main(int argc, char** argv) {
  const int melodies = argc > 1 ? std::atoi(argv[1]) : 10;
  const auto first_seed = static_cast<std::uint64_t>(argc > 2 ? std::atoi(argv[2]) : 1);
  const bool told = argc > 3;
  std::printf("%-10s %8s %6s %10s %9s %9s %9s %9s %7s %7s\n", "kind", "melodies", "notes", "within 1", "rms",
              "farthest", "held", "invented", "missed", "failed");
  for (const MelodyKind kind : melody_kinds()) {
    const Tally t = tally_of(kind, melodies, first_seed, told);
    const double notes = std::max(t.notes, 1);
    std::printf("%-10s %8d %6d %8.1f %% %7.2f c %7.2f c %7.1f %% %3d %.2f s %7d %7d\n", kind_name(kind).c_str(),
                t.melodies, t.notes, 100 * t.near / notes, std::sqrt(t.squares / notes), t.farthest_cents,
                100 * t.held / notes, t.invented, t.invented_s, t.missed, t.failed);
    std::fflush(stdout);
  }
}
