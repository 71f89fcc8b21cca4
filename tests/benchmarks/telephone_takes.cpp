// SPDX-License-Identifier: GPL-3.0-or-later
// Takes as a telephone keeps them, 44.1 kHz: AAC in .m4a and Opus in .webm by ffmpeg's coders, beside the same takes
// lossless. A table of each note's moderate pitch: against what was blown while the hold is steady, and
// against the lossless file. Half of the takes are in a room.
// usage: windway_telephone_takes [takes = 48 [first seed = 1]]
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "analysis.hpp"
#include "error.hpp"
#include "support/ffmpeg.hpp"
#include "support/played_takes.hpp"
#include "support/sound_file.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

using namespace synthesis;

constexpr double rate_hz = 44100.0;

struct Format {
  const char* name;
  const char* ending;
  const char* codec;
  double kbit_s;
};
constexpr std::array formats{Format{"lossless", ".wav", "", 0}, Format{"AAC, 128 kbit/s", ".m4a", "aac", 128},
                             Format{"AAC, 96 kbit/s", ".m4a", "aac", 96}, Format{"AAC, 64 kbit/s", ".m4a", "aac", 64},
                             Format{"Opus, 64 kbit/s", ".webm", "libopus", 64}};

struct Tally {
  std::vector<double> off_truth_cents, off_lossless_cents, off_slide_mm;
  int holds = 0, missing_notes = 0, refused = 0;
};

FluteModel drawn_flute(Random& random) {
  FluteDraw draw;
  draw.kind = random.chance(0.5) ? Kind::whistle : Kind::recorder;
  draw.lowest_midi = random.one_of(std::array{65, 70, 72, 74, 77});
  draw.overall_cents = random.uniform(-20.0, 20.0);
  draw.breath_db = random.uniform(14.0, 34.0);
  return draw_flute(draw, random);
}

PlayedTake drawn_take(std::uint64_t seed) {
  Random random(seed * 64 + 17);
  PlayedTake take;
  take.flute = drawn_flute(random);
  take.strengths = {random.uniform(-1.5, -1.0), random.uniform(0.8, 1.2)};
  Performance performance;
  performance.rate_hz = rate_hz;
  performance.playing.breath_wander_doublings = random.uniform(0.01, 0.05);
  performance.playing.pitch_wander_cents = random.uniform(0.2, 0.5);
  performance.playing.sag_doublings = random.uniform(0.0, 0.08);
  performance.chain.reverb_s = seed % 2 == 0 ? 0.0 : random.uniform(0.4, 0.8);
  performance.chain.reverb_db = random.uniform(-14.0, -8.0);
  take.blowings = note_by_note(major_scale(take.flute.notes.front().midi, 16), {Blow::soft, Blow::moderate, Blow::hard},
                               take.strengths, {}, random);
  take.sound = synthesise_take(take.flute, take.blowings, performance, random);
  return take;
}

MeasureSettings settings_of(const PlayedTake& take) {
  MeasureSettings settings;
  settings.tuning.a4_hz = take.flute.a4_hz;
  settings.head.out_mm = 15.0;  // told, or every take would ask for it
  settings.instrument.kind = take.flute.kind;
  settings.instrument.instrument = builtin_instrument(take.flute.kind, take.flute.notes.front().midi);
  return settings;
}

std::optional<Measurement> measured(const std::string& path, const PlayedTake& take) {
  try {
    return measure({path}, settings_of(take));
  } catch (const Error& error) {
    std::fprintf(stderr, "%s\n", error.what());
    return std::nullopt;
  }
}

std::optional<double> moderate_cents(const Measurement& measurement, int midi) {
  const auto& notes = measurement.breath.notes;
  const auto found = std::ranges::find(notes, NoteId{midi}, &NoteBreath::id);
  return found == notes.end() ? std::nullopt : std::optional(found->moderate.cents);
}

double overlap_s(const TrueHold& blown, const Hold& found) {
  return std::min(blown.end_s, found.end_s) - std::max(blown.start_s, found.start_s);
}

/// How far the hold that was found of a blow is off, as an absolute figure; nothing: none was found.
std::optional<double> off_blown_cents(const PlayedTake& take, const TrueHold& blown, const Measurement& found) {
  const auto& holds = found.naming.holds;
  const auto best =
      std::ranges::max_element(holds, {}, [&](const NamedHold& named) { return overlap_s(blown, named.hold); });
  if (best == holds.end() || overlap_s(blown, best->hold) <= 0) return std::nullopt;
  const auto truth_cents = mean_cents(blown, best->hold.steady_start_s, best->hold.steady_end_s);
  if (!truth_cents) return std::nullopt;
  return std::abs(cents_between(target_hz(take.flute, blown.midi), best->hold.frequency_hz) - *truth_cents);
}

void judge(const PlayedTake& take, const Measurement& found, const Measurement& lossless, Tally& tally) {
  tally.holds += static_cast<int>(found.naming.holds.size());
  for (const TrueHold& blown : take.sound.holds) {
    if (blown.blow != Blow::moderate) continue;
    const auto off_cents = off_blown_cents(take, blown, found);
    if (off_cents) tally.off_truth_cents.push_back(*off_cents);
    const auto cents = moderate_cents(found, blown.midi), lossless_cents = moderate_cents(lossless, blown.midi);
    tally.missing_notes += !cents;
    if (cents && lossless_cents) tally.off_lossless_cents.push_back(std::abs(*cents - *lossless_cents));
  }
  if (found.compromise && lossless.compromise)
    tally.off_slide_mm.push_back(std::abs(found.compromise->slide_mm - lossless.compromise->slide_mm));
}

void judge_take(std::uint64_t seed, const std::string& folder, std::vector<Tally>& tallies) {
  const PlayedTake take = drawn_take(seed);
  const std::string original = folder + "/take.wav";
  synthesis::write_sound(original, take.sound.samples, take.sound.rate_hz);
  const auto lossless = measured(original, take);
  for (std::size_t at = 0; lossless && at < formats.size(); ++at) {
    const std::string path = folder + "/take" + formats[at].ending;
    if (formats[at].kbit_s > 0) synthesis::convert_sound(original, path, formats[at].codec, formats[at].kbit_s);
    const auto found = measured(path, take);
    tallies[at].refused += !found;
    if (found) judge(take, *found, *lossless, tallies[at]);
  }
}

/// "0.003 | 0.021": what 95 % keep within, and the largest.
void print(std::vector<double> errors) {
  std::ranges::sort(errors);
  if (errors.empty())
    std::printf(" | - | -");
  else
    std::printf(" | %.3f | %.3f", errors[(errors.size() - 1) * 95 / 100], errors.back());
}

}  // namespace
}  // namespace windway

int main(int argc, char** argv) {
  using namespace windway;
  const int takes = argc > 1 ? std::max(std::atoi(argv[1]), 1) : 48;
  const std::uint64_t first_seed = argc > 2 ? std::strtoull(argv[2], nullptr, 10) : 1;
  if (!synthesis::has_ffmpeg()) return std::fprintf(stderr, "ffmpeg is not installed\n"), 1;
  const auto folder = std::filesystem::temp_directory_path() / ("windway_telephone_" + std::to_string(getpid()));
  std::filesystem::create_directory(folder);
  std::vector<Tally> tallies(formats.size());
  for (int i = 0; i < takes; ++i) judge_take(first_seed + static_cast<std::uint64_t>(i), folder.string(), tallies);
  std::filesystem::remove_all(folder);
  std::printf(
      "| take | moderate, 95 %% within | largest | from lossless, 95 %% | largest | move from lossless, mm, 95 %% | "
      "largest | holds | notes lost | refused |\n|---|---:|---:|---:|---:|---:|---:|---:|---:|---:|\n");
  for (std::size_t at = 0; at < formats.size(); ++at) {
    const Tally& t = tallies[at];
    std::printf("| %s", formats[at].name);
    print(t.off_truth_cents);
    print(t.off_lossless_cents);
    print(t.off_slide_mm);
    std::printf(" | %d | %d | %d |\n", t.holds, t.missing_notes, t.refused);
  }
  return 0;
}
