// SPDX-License-Identifier: GPL-3.0-or-later
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "playing/playing.hpp"
#include "recording/written_file.hpp"
#include "support/melodies.hpp"
#include "support/sound_file.hpp"

namespace windway {
namespace {

using synthesis::MelodyKind;
using synthesis::RenderedMelody;

constexpr double tolerance_cents = 1.0;  // of a note that sounds a second or more in all

Playing measured(const std::vector<float>& samples, double rate_hz, const MeasureSettings& settings = {},
                 const std::vector<NoteBreath>& scale_take = {}) {
  const test::TemporaryFolder folder;
  const std::string path = folder.path_of("melody.wav");
  synthesis::write_sound(path, samples, rate_hz);
  return measure_playing(path, settings, scale_take);
}

struct Judged {
  int notes = 0;
  int near = 0;
  int held = 0;  ///< u95 holds what the player meant
};

/// Every note that sounds a second is there, none that was not played is.
Judged judged(const RenderedMelody& melody, const Playing& found, const std::string& what) {
  Judged out;
  const auto truth = synthesis::true_melody_notes(melody);
  for (const auto& note : truth) {
    if (note.sounded_s < 1.0) continue;
    const auto own = std::ranges::find(found.notes, note.midi, &PlayedPitch::midi);
    if (own == found.notes.end()) {
      ADD_FAILURE() << what << ": missed " << note.midi;
      continue;
    }
    ++out.notes;
    out.near += std::abs(own->median.cents - note.median_cents) <= tolerance_cents;
    out.held += std::abs(own->median.cents - note.meant_cents) <= own->median.u95_cents;
    EXPECT_NEAR(own->sounded_s, note.sounded_s, 0.2 * note.sounded_s) << what << ": " << note.midi;
  }
  for (const PlayedPitch& note : found.notes) {
    EXPECT_TRUE(std::ranges::find(truth, note.midi, &synthesis::TrueMelodyNote::midi) != truth.end())
        << what << ": invented " << note.midi;
  }
  return out;
}

TEST(MeasurePlaying, MediansOfAMinuteAreWithinACent) {
  for (const MelodyKind kind : synthesis::melody_kinds()) {
    const RenderedMelody melody = synthesis::play_melody({.kind = kind}, 1);
    const Playing found = measured(melody.sound.samples, melody.sound.rate_hz);
    const Judged of = judged(melody, found, kind_name(kind));
    EXPECT_GE(of.notes, 8) << kind_name(kind);
    EXPECT_EQ(of.near, of.notes) << kind_name(kind);
    EXPECT_EQ(found.instrument.lowest_midi, melody.flute.notes.front().midi) << kind_name(kind);
  }
}

TEST(MeasurePlaying, AFluteSixtyCentsSharpIsNamedRight) {
  // The whole recording is played back faster: all pitches rise by the same.
  for (const double sharp_cents : {60.0, -60.0}) {
    const RenderedMelody melody = synthesis::play_melody({.kind = MelodyKind::ornaments}, 3);
    MeasureSettings settings;
    settings.instrument.instrument = builtin_instrument(melody.flute.kind, melody.flute.notes.front().midi);
    settings.tuning.a4_hz = hz_at_cents(440.0, -sharp_cents);
    const Playing found = measured(melody.sound.samples, melody.sound.rate_hz, settings);
    for (const auto& note : synthesis::true_melody_notes(melody)) {
      if (note.sounded_s < 1.0) continue;
      const auto own = std::ranges::find(found.notes, note.midi, &PlayedPitch::midi);
      ASSERT_NE(own, found.notes.end()) << note.midi;
      EXPECT_NEAR(own->median.cents, note.median_cents + sharp_cents, tolerance_cents) << note.midi;
    }
  }
}

TEST(MeasurePlaying, QuartilesAreAboutTheMedianAndSharesSumToOne) {
  const RenderedMelody melody = synthesis::play_melody({.kind = MelodyKind::runs, .duration_s = 20.0}, 5);
  const Playing found = measured(melody.sound.samples, melody.sound.rate_hz);
  double share = 0;
  for (const PlayedPitch& note : found.notes) {
    EXPECT_LE(note.lower_quartile_cents, note.median.cents);
    EXPECT_GE(note.upper_quartile_cents, note.median.cents);
    EXPECT_GT(note.occurrences, 0);
    share += note.time_share;
  }
  EXPECT_NEAR(share, 1.0, 1e-9);
}

TEST(MeasurePlaying, AShortMelodySaysSo) {
  const auto is_short = [](double duration_s) {
    const RenderedMelody melody = synthesis::play_melody({.duration_s = duration_s}, 6);
    const Playing found = measured(melody.sound.samples, melody.sound.rate_hz);
    return find_warning(found.warnings, WarningCode::short_melody) != nullptr;
  };
  EXPECT_TRUE(is_short(10.0));
  EXPECT_FALSE(is_short(40.0));
}

TEST(MeasurePlaying, OfNoNoteOfTheScaleTakeAsksWhetherBothAreOfOneFlute) {
  const RenderedMelody melody = synthesis::play_melody({.duration_s = 10.0}, 6);
  const int played_midi = synthesis::true_melody_notes(melody).front().midi;
  const auto is_asked = [&](int midi) {
    NoteBreath note;
    note.id.midi = midi;
    const Playing found = measured(melody.sound.samples, melody.sound.rate_hz, {}, {note});
    return find_warning(found.warnings, WarningCode::no_note_in_scale_take) != nullptr;
  };
  EXPECT_TRUE(is_asked(played_midi - 24));
  EXPECT_FALSE(is_asked(played_midi));
}

TEST(MeasurePlaying, SilenceAroundTheMelodyChangesNothing) {
  const RenderedMelody melody = synthesis::play_melody({.duration_s = 20.0}, 6);
  const double rate_hz = melody.sound.rate_hz;
  std::vector<float> longer(static_cast<std::size_t>(2.0 * rate_hz), 0.0F);
  longer.insert(longer.end(), melody.sound.samples.begin(), melody.sound.samples.end());
  longer.insert(longer.end(), static_cast<std::size_t>(3.0 * rate_hz), 0.0F);
  const Playing found = measured(melody.sound.samples, rate_hz);
  const Playing with_silence = measured(longer, rate_hz);
  ASSERT_EQ(found.notes.size(), with_silence.notes.size());
  for (std::size_t i = 0; i < found.notes.size(); ++i) {
    EXPECT_EQ(found.notes[i].midi, with_silence.notes[i].midi);
    EXPECT_NEAR(found.notes[i].median.cents, with_silence.notes[i].median.cents, 0.1);
  }
}

TEST(MeasurePlayingSlow, OfAHundredMelodiesNearlyAllNotesAreWithinACentAndNoneIsMisnamed) {
  Judged all;
  for (const MelodyKind kind : synthesis::melody_kinds()) {
    for (std::uint64_t seed = 1000; seed < 1015; ++seed) {
      const RenderedMelody melody = synthesis::play_melody({.kind = kind}, seed);
      const Judged of = judged(melody, measured(melody.sound.samples, melody.sound.rate_hz),
                               kind_name(kind) + " " + std::to_string(seed));
      all.notes += of.notes;
      all.near += of.near;
      all.held += of.held;
    }
  }
  testing::Test::RecordProperty("notes", all.notes);
  testing::Test::RecordProperty("near", all.near);
  testing::Test::RecordProperty("held", all.held);
  EXPECT_GE(all.near, 0.98 * all.notes) << all.near << " of " << all.notes;
  EXPECT_GE(all.held, 0.94 * all.notes) << all.held << " of " << all.notes;
}

}  // namespace
}  // namespace windway
