// SPDX-License-Identifier: GPL-3.0-or-later
#include "holds/best_path.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <optional>

namespace windway {

namespace {

using State = PathFrame::State;

constexpr float never = 1e9F;
/// So many nats over the best path no other one is made good for.
constexpr float hopeless = 80.0F;

/// A state at one frame, with its cell or which of the unpitched ones it is.
struct Place {
  State state = State::unpitched;
  std::uint16_t index = 0;
};

struct Reached {
  float cost = never;
  Place from;

  void consider(float other, Place place) {
    if (other >= cost) return;
    cost = other;
    from = place;
  }
};

/// How the pitched states of one cell at one frame were reached.
struct Steps {
  enum Blown : std::uint8_t { stays, from_below, from_above, resumes, begins };
  Blown blown : 3 = stays;
  bool interrupts : 1 = false;  ///< from blown; else the interruption goes on
  bool dies : 1 = false;        ///< likewise for the echo
};

/// What a blow that begins with a frame follows: the cells near the cheapest blown one do not follow it.
struct Before {
  Place usual;
  std::size_t first_near = 0;
  std::vector<Place> near;

  Place of(std::size_t cell) const {
    return cell >= first_near && cell - first_near < near.size() ? near[cell - first_near] : usual;
  }
};

class Viterbi {
 public:
  Viterbi(const SegmentationModel& model, const PitchCells& cells, std::size_t frames, double hop_s)
      : cells_(cells),
        begin_(static_cast<float>(model.begin)),
        end_(static_cast<float>(model.end)),
        change_(static_cast<float>(model.change)),
        other_(static_cast<float>(model.other)),
        interrupt_(static_cast<float>(model.interrupt)),
        shortest_(static_cast<std::size_t>(std::max(1.0, model.shortest_blow_s / hop_s))),
        least_step_cents_(static_cast<float>(model.least_step_cents)),
        bend_from_below_(cells.count(), never),
        blown_(cells.count(), never),
        interrupted_(blown_),
        echo_(blown_),
        blown_before_(blown_),
        over_shortest_(cells.count(), 0.0F),
        entry_(blown_),
        alive_(cells.count(), 0),
        starts_(shortest_, blown_),
        recent_(shortest_, over_shortest_),
        start_offset_(shortest_, 0.0) {
    for (std::size_t g = 1; g < cells.count(); ++g)
      bend_from_below_[g] = cells.are_neighbours(g - 1) ? static_cast<float>(model.bend) : never;
    steps_.reserve(frames);
    unpitched_.fill(never);
    unpitched_[static_cast<std::size_t>(Unpitched::silence)] = 0.0F;
  }

  void add(const FrameCosts& costs) {
    steps_.emplace_back(cells_.count());
    find_starts();
    find_entries(costs);
    blown_before_ = blown_;
    const Reached blowing = blowing_, dying = dying_;
    add_pitched(costs);
    add_unpitched(costs, blowing, dying);
    rescale();
  }

  std::vector<PathFrame> path() const {
    std::vector<PathFrame> path(steps_.size());
    Place at = cheapest_end();
    for (std::size_t t = steps_.size(); t-- > 0;) {
      path[t] = {at.state, false, at.state == State::unpitched ? 0.0 : cells_.cents[at.index]};
      const Steps* const steps = at.state == State::unpitched ? nullptr : &steps_[t][at.index];
      if (at.state != State::blown || steps->blown != Steps::begins) {
        at = steps ? before(*steps, at) : unpitched_from_[t][at.index];
        continue;
      }
      const std::size_t start = t + 1 - shortest_;
      std::fill(path.begin() + static_cast<long>(start), path.begin() + static_cast<long>(t), path[t]);
      path[start].begins = true;
      at = before_[start].of(at.index);
      t = start;
    }
    return path;
  }

 private:
  bool is_near(std::size_t a, std::size_t b) const {
    return std::abs(cells_.cents[a] - cells_.cents[b]) < least_step_cents_;
  }
  std::size_t row(std::size_t frame) const { return frame % shortest_; }

  /// The cheapest blow from which a blow in `cell` is a change of note.
  Reached cheapest_apart(std::size_t cell) const {
    Reached apart;
    for (std::size_t g = 0; g < cells_.count(); ++g)
      if (alive_[g] && !is_near(g, cell)) apart.consider(blown_[g], {State::blown, static_cast<std::uint16_t>(g)});
    return apart;
  }

  /// What a blow costs that begins with this frame, by cell: out of silence or an echo, or by a change of note.
  void find_starts() {
    Reached first;
    first.consider(dying_.cost + begin_, dying_.from);
    for (std::uint16_t k = 0; k < unpitched_states; ++k) first.consider(unpitched_[k] + begin_, {State::unpitched, k});
    Reached usual = first;
    usual.consider(blowing_.cost + change_, blowing_.from);
    const std::size_t at = blowing_.from.index;
    std::size_t from = at;
    while (from > 0 && is_near(from - 1, at)) --from;
    Before& before = before_.emplace_back(Before{usual.from, from, {}});
    std::vector<float>& starts = starts_[row(steps_.size() - 1)];
    std::fill(starts.begin(), starts.end(), usual.cost);
    for (std::size_t g = from; g < cells_.count() && is_near(g, at); ++g) {
      Reached near = first;
      const Reached apart = cheapest_apart(g);
      near.consider(apart.cost + change_, apart.from);
      starts[g] = near.cost;
      before.near.push_back(near.from);
    }
    start_offset_[row(steps_.size() - 1)] = offset_;
  }

  /// What it costs, with this frame, to have begun a blow the shortest blow's time ago, by cell.
  void find_entries(const FrameCosts& costs) {
    const std::size_t frame = steps_.size() - 1;
    std::vector<float>& recent = recent_[row(frame)];
    const std::vector<float>& starts = starts_[row(frame + 1)];  // of the shortest blow's first frame
    const auto rescaled = frame + 1 >= shortest_ ? static_cast<float>(start_offset_[row(frame + 1)] - offset_) : never;
    for (std::size_t g = 0; g < cells_.count(); ++g) {
      over_shortest_[g] += costs.blown[g] - recent[g];
      recent[g] = costs.blown[g];
      entry_[g] = starts[g] + rescaled + over_shortest_[g];
    }
  }

  /// Is the cell so dear, and all from which it can be reached, that no best path goes through it?
  bool is_hopeless(std::size_t g) const {
    const bool from_below = g > 0 && alive_[g - 1], from_above = g + 1 < cells_.count() && alive_[g + 1];
    return !alive_[g] && !from_below && !from_above && entry_[g] > hopeless;
  }

  void add_pitched(const FrameCosts& costs) {
    blowing_ = dying_ = {};
    next_alive_.assign(cells_.count(), 0);
    for (std::size_t g = 0; g < cells_.count(); ++g) {
      if (is_hopeless(g)) {
        blown_[g] = interrupted_[g] = echo_[g] = never;
        continue;
      }
      add_blown(g, costs.blown[g]);
      Steps& steps = steps_.back()[g];
      steps.interrupts = blown_before_[g] + interrupt_ < interrupted_[g];
      interrupted_[g] = std::min(interrupted_[g], blown_before_[g] + interrupt_) + costs.interrupted[g];
      steps.dies = blown_before_[g] + end_ < echo_[g];
      echo_[g] = std::min(echo_[g], blown_before_[g] + end_) + costs.echo[g];
      blowing_.consider(blown_[g], {State::blown, static_cast<std::uint16_t>(g)});
      dying_.consider(echo_[g], {State::echo, static_cast<std::uint16_t>(g)});
      next_alive_[g] = std::min({blown_[g], interrupted_[g], echo_[g]}) < hopeless;
    }
    alive_.swap(next_alive_);
  }

  void add_blown(std::size_t g, float cost) {
    float best = blown_before_[g];
    auto how = Steps::stays;
    const auto consider = [&](float other, Steps::Blown by) {
      if (other >= best) return;
      best = other;
      how = by;
    };
    if (g > 0) consider(blown_before_[g - 1] + bend_from_below_[g], Steps::from_below);
    if (g + 1 < cells_.count()) consider(blown_before_[g + 1] + bend_from_below_[g + 1], Steps::from_above);
    consider(interrupted_[g], Steps::resumes);
    best += cost;
    consider(entry_[g], Steps::begins);
    blown_[g] = best;
    steps_.back()[g].blown = how;
  }

  void add_unpitched(const FrameCosts& costs, const Reached& blowing, const Reached& dying) {
    std::array<float, unpitched_states> next{};
    auto& from = unpitched_from_.emplace_back();
    for (std::uint16_t k = 0; k < unpitched_states; ++k) {
      Reached reached{unpitched_[k], {State::unpitched, k}};
      for (std::uint16_t j = 0; j < unpitched_states; ++j)
        reached.consider(unpitched_[j] + other_, {State::unpitched, j});
      reached.consider(dying.cost + other_, dying.from);
      reached.consider(blowing.cost + end_, blowing.from);
      next[k] = reached.cost + costs.unpitched[k];
      from[k] = reached.from;
    }
    unpitched_ = next;
  }

  /// Keeps the costs small, so that their differences stay exact.
  void rescale() {
    const float least = std::min({blowing_.cost, dying_.cost, *std::min_element(unpitched_.begin(), unpitched_.end())});
    const auto less = [least](float& cost) { cost = std::min(cost - least, never); };
    for (std::size_t g = 0; g < cells_.count(); ++g) {
      if (!alive_[g]) continue;
      for (auto* costs : {&blown_, &interrupted_, &echo_}) less((*costs)[g]);
    }
    for (float& cost : unpitched_) less(cost);
    less(blowing_.cost);
    less(dying_.cost);
    offset_ += least;
  }

  Place cheapest_end() const {
    Reached best;
    for (std::uint16_t k = 0; k < unpitched_states; ++k) best.consider(unpitched_[k], {State::unpitched, k});
    best.consider(blowing_.cost + end_, blowing_.from);
    best.consider(dying_.cost + other_, dying_.from);
    return best.from;
  }

  static Place before(const Steps& steps, Place at) {
    const auto shifted = [&](int by) { return Place{State::blown, static_cast<std::uint16_t>(at.index + by)}; };
    switch (at.state) {
      case State::blown:
        if (steps.blown == Steps::resumes) return {State::interrupted, at.index};
        return shifted(steps.blown == Steps::from_below ? -1 : steps.blown == Steps::from_above ? 1 : 0);
      case State::interrupted:
        return steps.interrupts ? shifted(0) : at;
      default:
        return steps.dies ? shifted(0) : at;
    }
  }

  PitchCells cells_;
  float begin_, end_, change_, other_, interrupt_;
  std::size_t shortest_;  // frames
  float least_step_cents_;
  std::vector<float> bend_from_below_;  // by cell: never where there is no neighbour
  std::vector<float> blown_, interrupted_, echo_, blown_before_;
  std::array<float, unpitched_states> unpitched_{};
  double offset_ = 0;                         // taken off all costs so far
  std::vector<float> over_shortest_, entry_;  // cost of the last frames as blown, as many as the shortest blow has
  std::vector<char> alive_, next_alive_;      // by cell: not hopeless
  Reached blowing_, dying_;                   // the cheapest blown cell and echo
  std::vector<std::vector<float>> starts_, recent_;  // by frame, in turn: cost of a blow that begins; of a blown frame
  std::vector<double> start_offset_;
  std::vector<std::vector<Steps>> steps_;  // by frame, by cell
  std::vector<Before> before_;             // by frame
  std::vector<std::array<Place, unpitched_states>> unpitched_from_;
};

}  // namespace

std::vector<PathFrame> best_path(const CostModel& costs, const SegmentationModel& model, const PitchCells& cells,
                                 const FrameSpan& span, double hop_s) {
  Viterbi viterbi(model, cells, span.frames(), hop_s);
  FrameCosts frame_costs;
  for (std::size_t i = span.first; i <= span.last; ++i) {
    costs.find(i, cells, frame_costs);
    viterbi.add(frame_costs);
  }
  return viterbi.path();
}

}  // namespace windway
