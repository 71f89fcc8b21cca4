// SPDX-License-Identifier: GPL-3.0-or-later
#include "partner/note_runs.hpp"

#include <algorithm>
#include <cmath>

#include "units/order_statistics.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double same_pitch_cents = 40.0;
constexpr std::size_t longest_gap_frames = 2;
constexpr std::size_t strike_frames = 5;
constexpr double strike_db = 6.0;

/// Index into `notes` of the one that goes on from `hz`; its size where none does.
std::size_t continuing(const std::vector<HeardNote>& notes, const std::vector<bool>& taken, double hz) {
  std::size_t best = notes.size();
  double best_cents = same_pitch_cents;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    const double cents = std::abs(cents_between(hz, notes[i].first_hz()));
    if (taken[i] || cents >= best_cents) continue;
    best = i;
    best_cents = cents;
  }
  return best;
}

/// By how much the first partial has grown louder, and the others one with another: beats raise one after the other,
/// another note some, a strike all at once.
double rise_between(const HeardNote& before, const HeardNote& after) {
  std::vector<double> rises_db;
  for (std::size_t i = 0; i < most_partials; ++i)
    if (before.partials[i] && after.partials[i])
      rises_db.push_back(db_from_power(after.partials[i]->power / before.partials[i]->power));
  return std::min(median_of(rises_db).value_or(0.0), 2.0 * rises_db.front());  // the first dies away least
}

/// Places in the run where the power has risen by that of a strike, each the steepest of its neighbours.
std::vector<std::size_t> rises(const LinkedNote& run) {
  const auto rise_db = [&](std::size_t at) {
    return at < strike_frames || at >= run.notes.size() ? 0.0
                                                        : rise_between(run.notes[at - strike_frames], run.notes[at]);
  };
  std::vector<std::size_t> found;
  for (std::size_t at = strike_frames; at < run.notes.size(); ++at) {
    bool is_steepest = rise_db(at) >= strike_db;
    for (std::size_t near = at > strike_frames ? at - strike_frames : 0; is_steepest && near <= at + strike_frames;
         ++near)
      is_steepest = near < at ? rise_db(near) < rise_db(at) : rise_db(near) <= rise_db(at);
    if (is_steepest) found.push_back(at);
  }
  return found;
}

}  // namespace

std::vector<LinkedNote> linked_notes(const std::vector<std::vector<HeardNote>>& chords) {
  std::vector<LinkedNote> done, open;
  for (std::size_t frame = 0; frame < chords.size(); ++frame) {
    std::vector<bool> taken(chords[frame].size(), false);
    for (LinkedNote& run : open) {
      const std::size_t next = continuing(chords[frame], taken, run.notes.back().first_hz());
      if (next == chords[frame].size()) continue;
      taken[next] = true;
      run.frames.push_back(frame);
      run.notes.push_back(chords[frame][next]);
    }
    for (std::size_t i = 0; i < chords[frame].size(); ++i)
      if (!taken[i]) open.push_back({{frame}, {chords[frame][i]}});
    const auto is_over = [&](const LinkedNote& run) { return frame - run.frames.back() > longest_gap_frames; };
    std::ranges::copy_if(open, std::back_inserter(done), is_over);
    std::erase_if(open, is_over);
  }
  done.insert(done.end(), open.begin(), open.end());
  return done;
}

std::vector<LinkedNote> cut_at_strikes(const LinkedNote& run, std::size_t beat_frames) {
  const std::vector<std::size_t> rising = rises(run);
  std::vector<std::size_t> cuts{0};
  for (const std::size_t at : rising) {
    const auto is_near = [&](std::size_t other) {
      return other != at && run.frames[std::max(other, at)] - run.frames[std::min(other, at)] < beat_frames;
    };
    if (std::ranges::none_of(rising, is_near)) cuts.push_back(at - strike_frames / 2);
  }
  cuts.push_back(run.frames.size());
  std::vector<LinkedNote> parts;
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    LinkedNote part;
    part.frames.assign(run.frames.begin() + static_cast<long>(cuts[i]),
                       run.frames.begin() + static_cast<long>(cuts[i + 1]));
    part.notes.assign(run.notes.begin() + static_cast<long>(cuts[i]),
                      run.notes.begin() + static_cast<long>(cuts[i + 1]));
    if (!part.frames.empty()) parts.push_back(std::move(part));
  }
  return parts;
}

}  // namespace windway
