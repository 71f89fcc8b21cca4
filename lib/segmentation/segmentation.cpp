// SPDX-License-Identifier: GPL-3.0-or-later
#include "segmentation/segmentation.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

#include "segmentation/best_path.hpp"
#include "segmentation/take_traits.hpp"
#include "units/order_statistics.hpp"

namespace windway {

namespace {

constexpr double silence_s = 0.12;  // without a tone: no interruption lasts so long, and no echo is heard through it
constexpr double outlier_cents = 45.0;        // off its cell a frame is an outlier of its note
constexpr std::size_t least_span_frames = 5;  // as many as one window of the track reaches over

/// The frames from tone to tone, without silence between them, where they are as many as the shortest blow has.
std::vector<FrameSpan> phrases(const FrameSeries& series, double shortest_s) {
  const std::size_t silence = series.frames_in(silence_s);
  std::vector<FrameSpan> found;
  for (std::size_t i = 0; i < series.cents.size(); ++i) {
    if (!series.cents[i]) continue;
    if (found.empty() || i > found.back().last + silence) found.push_back({i, i});
    found.back().last = i;
  }
  std::erase_if(found, [&](const FrameSpan& span) { return span.frames() < series.frames_in(shortest_s); });
  return found;
}

/// The cells in which, with their neighbours, tones stand for as long as the shortest blow lasts.
PitchCells cells_of(const FrameSeries& series, const FrameSpan& phrase, double shortest_s) {
  std::map<long, std::size_t> frames_in_cell;
  for (std::size_t i = phrase.first; i <= phrase.last; ++i)
    if (series.cents[i]) ++frames_in_cell[std::lround(*series.cents[i] / PitchCells::width_cents)];
  const auto frames_in = [&](long cell) {
    const auto found = frames_in_cell.find(cell);
    return found == frames_in_cell.end() ? 0 : found->second;
  };
  PitchCells cells;
  for (const auto& [cell, frames] : frames_in_cell)
    if (frames_in(cell - 1) + frames + frames_in(cell + 1) >= series.frames_in(shortest_s))
      cells.cents.push_back(static_cast<float>(static_cast<double>(cell) * PitchCells::width_cents));
  return cells;
}

/// The path through one phrase.
struct Path {
  FrameSpan phrase;
  std::vector<PathFrame> frames;
};

/// Adds how fast the noise falls in each frame that the path takes for an echo.
void append_echo_falls(const Path& path, const CostModel& costs, std::vector<double>& db_per_s) {
  for (std::size_t t = 0; t < path.frames.size(); ++t) {
    const auto fall = costs.noise_fall_db_per_s(path.phrase.first + t);
    if (path.frames[t].state == PathFrame::State::echo && fall) db_per_s.push_back(*fall);
  }
}

/// The path through each phrase. The first echoes show at what rate this room's echoes die; with it all phrases are
/// gone through.
std::vector<Path> best_paths(const FrameSeries& series, const TakeTraits& traits, const SegmentationModel& model) {
  constexpr double least_s = 0.5, enough_s = 5.0;  // of echoes
  constexpr double slowest_db_per_s = 24.0;        // 60 dB in 2.5 s: longer than rooms ring that one plays in
  CostModel costs(series, traits, model);
  const auto through = [&](const FrameSpan& phrase) {
    return Path{phrase, best_path(costs, model, cells_of(series, phrase, model.shortest_blow_s), phrase, series.hop_s)};
  };
  const std::vector<FrameSpan> spans = phrases(series, model.shortest_blow_s);
  std::vector<Path> paths;
  std::vector<double> falls;
  while (paths.size() < spans.size() && falls.size() < series.frames_in(enough_s)) {
    paths.push_back(through(spans[paths.size()]));
    append_echo_falls(paths.back(), costs, falls);
  }
  const auto fall = falls.size() < series.frames_in(least_s) ? std::nullopt : median_of(std::move(falls));
  if (fall && *fall > slowest_db_per_s) {
    costs = costs.with_echo_fall(*fall);
    paths.clear();
  }
  while (paths.size() < spans.size()) paths.push_back(through(spans[paths.size()]));
  return paths;
}

/// True where the tone is far softer than it was a window before and is a window later: its phase is lost there.
bool is_lost(const FrameSeries& series, std::size_t frame) {
  constexpr double lost_db = 12.0;
  const std::size_t window = series.frames_in(series.window_s);
  if (frame < window || frame + window >= series.cents.size()) return false;
  const auto level = series.level_db.begin() + static_cast<long>(frame);
  const double before_db = *std::max_element(level - static_cast<long>(window), level);
  const double after_db = *std::max_element(level + 1, level + 1 + static_cast<long>(window));
  return *level < std::min(before_db, after_db) - lost_db;
}

void append_pieces(const FrameSeries& series, std::size_t first, const std::vector<PathFrame>& path,
                   std::vector<Piece>& pieces) {
  bool open = false;
  for (std::size_t t = 0; t < path.size(); ++t) {
    const std::size_t i = first + t;
    const bool blown = path[t].state == PathFrame::State::blown;
    if (path[t].begins) pieces.emplace_back();
    const bool sounds =
        blown && series.cents[i] && std::abs(*series.cents[i] - path[t].cents) < outlier_cents && !is_lost(series, i);
    if (sounds && open && !path[t].begins) {
      pieces.back().spans.back().last = i;
    } else if (sounds) {
      pieces.back().spans.push_back({i, i});
    }
    open = sounds;
  }
}

/// A fall is read over a window's length either side of a frame, so that the path leaves a blow as much too early: the
/// tone is followed on for that long.
void extend_ends(const FrameSeries& series, std::vector<Piece>& pieces) {
  const std::size_t side = series.frames_in(series.window_s);
  for (std::size_t p = 0; p < pieces.size(); ++p) {
    FrameSpan& span = pieces[p].spans.back();
    const std::size_t past = p + 1 < pieces.size() ? pieces[p + 1].first() : series.cents.size();
    const std::size_t last = std::min(past - 1, span.last + 2 * side);
    while (span.last < last && series.cents[span.last + 1] &&
           std::abs(*series.cents[span.last + 1] - *series.cents[span.last]) < outlier_cents)
      ++span.last;
  }
}

}  // namespace

std::vector<Piece> find_pieces(const FrameSeries& series, const SegmentationModel& model) {
  const auto traits = traits_of(series, model);
  if (!traits) return {};
  std::vector<Piece> pieces;
  for (const Path& path : best_paths(series, *traits, model))
    append_pieces(series, path.phrase.first, path.frames, pieces);
  for (Piece& piece : pieces)
    std::erase_if(piece.spans, [](const FrameSpan& span) { return span.frames() < least_span_frames; });
  std::erase_if(pieces, [](const Piece& piece) { return piece.spans.empty(); });
  extend_ends(series, pieces);
  return pieces;
}

}  // namespace windway
