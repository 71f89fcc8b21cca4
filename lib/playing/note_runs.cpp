// SPDX-License-Identifier: GPL-3.0-or-later
#include "playing/note_runs.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <optional>

namespace windway {
namespace {

// Prices are logs of likelihoods; judgements, as no frame is independent of the next.
constexpr double pitch_sd_cents = 18;  // of a frame about its note: breath and vibrato
constexpr double furthest_price = 10;  // a frame that went wrong, or an ornament
constexpr double other_price = 6;      // of what is none of the notes: such as 62 cents off all of them
constexpr double unheard_price = 4;    // for a note, of a frame without a tone
constexpr double change_price = 8;     // so that a frame or two change nothing

constexpr double phrase_gap_s = 0.15;         // no note sounds over that much silence
constexpr double least_run_s = 0.07;          // of a note of 80 ms, by the hop
constexpr double longest_ornament_s = 0.075;  // what two runs of one note may have between them
constexpr double strayed_cents = 70;          // a cut or a tap within a run
constexpr float echo_under_db = 8;            // a note's own level moves less

/// Consecutive frames, the last not included.
struct Phrase {
  std::size_t first = 0;
  std::size_t past = 0;
};

std::vector<Phrase> find_phrases(const Melody& melody) {
  const std::size_t gap = melody.frames_in(phrase_gap_s);
  std::vector<Phrase> phrases;
  for (std::size_t i = 0; i < melody.frames.size(); ++i) {
    if (!melody.frames[i].sounds()) continue;
    if (phrases.empty() || i > phrases.back().past + gap) phrases.push_back({i, i});
    phrases.back().past = i + 1;
  }
  return phrases;
}

/// Price of a frame for a note.
double frame_price(const MelodyFrame& frame, const MelodyPitch& pitch) {
  if (!frame.sounds()) return unheard_price;
  const double off = (frame.cents - pitch.cents) / pitch_sd_cents;
  return std::min(0.5 * off * off, furthest_price);
}

/// By frame of a phrase, the note that sounds; pitches.size(): none of them.
std::vector<std::size_t> cheapest_path(const Melody& melody, const Phrase& phrase,
                                       const std::vector<MelodyPitch>& pitches) {
  const std::size_t states = pitches.size() + 1;
  const std::size_t frames = phrase.past - phrase.first;
  std::vector<double> price(states, 0.0);
  std::vector<std::uint8_t> from(frames * states);
  for (std::size_t i = 0; i < frames; ++i) {
    const MelodyFrame& frame = melody.frames[phrase.first + i];
    const auto least = static_cast<std::size_t>(std::ranges::min_element(price) - price.begin());
    const double changed = price[least] + change_price;
    for (std::size_t s = 0; s < states; ++s) {
      const bool changes = changed < price[s];
      from[i * states + s] = static_cast<std::uint8_t>(changes ? least : s);
      if (changes) price[s] = changed;
      price[s] += s < pitches.size() ? frame_price(frame, pitches[s]) : frame.sounds() ? other_price : 0.0;
    }
  }
  std::vector<std::size_t> path(frames);
  auto at = static_cast<std::size_t>(std::ranges::min_element(price) - price.begin());
  for (std::size_t i = frames; i-- > 0;) {
    path[i] = at;
    at = from[i * states + at];
  }
  return path;
}

void append_runs(const std::vector<std::size_t>& path, std::size_t first, std::size_t none,
                 std::vector<NoteRun>& runs) {
  for (std::size_t i = 0; i < path.size(); ++i) {
    if (path[i] == none) continue;
    const std::size_t frame = first + i;
    if (i > 0 && path[i - 1] == path[i])
      runs.back().last = frame;
    else
      runs.push_back({path[i], frame, frame, 0, {}});
  }
}

/// Puts together what a cut or a tap has parted, where the tone sounds on between.
std::vector<NoteRun> bridged(const std::vector<NoteRun>& runs, const Melody& melody) {
  const auto sounds_on = [&](std::size_t from, std::size_t to) {
    for (std::size_t i = from; i < to; ++i)
      if (!melody.frames[i].sounds()) return false;
    return true;
  };
  std::vector<NoteRun> out;
  for (const NoteRun& run : runs) {
    const bool goes_on = !out.empty() && out.back().pitch == run.pitch &&
                         run.first - out.back().last - 1 <= melody.frames_in(longest_ornament_s) &&
                         sounds_on(out.back().last, run.first);
    if (goes_on)
      out.back().last = run.last;
    else
      out.push_back(run);
  }
  return out;
}

/// How far in from an end of a run the note stands, frames: beside silence it speaks or dies away first; beside another
/// note only the window smears it.
std::size_t margin_frames(const Melody& melody, const NoteRun& run, bool beside_silence) {
  const double length_s = static_cast<double>(run.last - run.first + 1) * melody.hop_s;
  const double share_s = 0.3 * length_s;
  return melody.frames_in(beside_silence ? std::clamp(share_s, 0.02, 0.11) : std::clamp(share_s, 0.02, 0.045));
}

/// Silent, or no more than an echo of this level.
bool is_silent_near(const Melody& melody, std::size_t first, std::size_t past, float echo_db) {
  for (std::size_t i = first; i < std::min(past, melody.frames.size()); ++i)
    if (!melody.frames[i].sounds() || melody.frames[i].level_db < echo_db) return true;
  return past > melody.frames.size();
}

/// The level that three quarters of the run's frames stand under.
float level_of(const Melody& melody, const NoteRun& run) {
  std::vector<float> levels;
  for (std::size_t i = run.first; i <= run.last; ++i)
    if (melody.frames[i].sounds()) levels.push_back(melody.frames[i].level_db);
  const auto at = levels.begin() + static_cast<long>(levels.size() * 3 / 4);
  std::nth_element(levels.begin(), at, levels.end());
  return *at;
}

/// Leaves out the echo that follows a note, and what sounds before it speaks.
void trim(const Melody& melody, NoteRun& run) {
  const float least_db = level_of(melody, run) - echo_under_db;
  const auto is_note = [&](std::size_t i) { return melody.frames[i].sounds() && melody.frames[i].level_db > least_db; };
  while (run.first < run.last && !is_note(run.first)) ++run.first;
  while (run.last > run.first && !is_note(run.last)) --run.last;
}

void find_steady(const Melody& melody, const MelodyPitch& pitch, NoteRun& run) {
  const std::size_t smear = melody.frames_in(0.03);
  const float echo_db = level_of(melody, run) - echo_under_db;
  const bool silence_before = run.first < smear || is_silent_near(melody, run.first - smear, run.first, echo_db);
  const bool silence_after = is_silent_near(melody, run.last + 1, run.last + 1 + smear, echo_db);
  const std::size_t from = run.first + margin_frames(melody, run, silence_before);
  const std::size_t to = run.last - std::min(run.last, margin_frames(melody, run, silence_after));
  std::optional<std::size_t> strayed;
  for (std::size_t i = run.first; i <= run.last; ++i) {
    const MelodyFrame& frame = melody.frames[i];
    if (!frame.sounds() || std::abs(frame.cents - pitch.cents) > strayed_cents) {
      while (!run.steady.empty() && run.steady.back() + smear >= i) run.steady.pop_back();
      strayed = i;
      continue;
    }
    ++run.sounding;
    if (i >= from && i <= to && (!strayed || i > *strayed + smear)) {
      run.steady.push_back(i);
    }
  }
}

}  // namespace

std::vector<NoteRun> find_note_runs(const Melody& melody, const std::vector<MelodyPitch>& pitches) {
  std::vector<NoteRun> runs;
  for (const Phrase& phrase : find_phrases(melody))
    append_runs(cheapest_path(melody, phrase, pitches), phrase.first, pitches.size(), runs);
  // Parts of a rolled note may be short themselves, so what lies between is bridged before the ornaments go.
  std::erase_if(runs, [&](const NoteRun& run) { return run.last - run.first + 1 < melody.frames_in(0.04); });
  runs = bridged(runs, melody);
  std::erase_if(runs, [&](const NoteRun& run) { return run.last - run.first + 1 < melody.frames_in(least_run_s); });
  runs = bridged(runs, melody);
  for (NoteRun& run : runs) {
    trim(melody, run);
    find_steady(melody, pitches[run.pitch], run);
  }
  std::erase_if(runs, [](const NoteRun& run) { return run.steady.empty(); });
  return runs;
}

}  // namespace windway
