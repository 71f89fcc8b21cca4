// SPDX-License-Identifier: GPL-3.0-or-later
#include "segmentation/best_path.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

namespace windway {

namespace {

using State = PathFrame::State;

constexpr float never = 1e9F;

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

/// The cheapest beginning of a blow with a frame.
struct Start {
  double cost = 0;  ///< of the whole path up to there
  Place from;
};

/// How the states of a cell were reached. A blown one: it begins; or else it bends; or else it resumes; or else it goes
/// on.
enum Step : unsigned { bends = 1, from_above = 2, resumes = 4, begins = 8, interrupts = 16, dies = 32 };

using Costs = std::vector<float>;

/// Of what the cost of a blown cell is made, by cell. There must be a cell on either side of those of `before`.
struct Blown {
  const float* before;
  const float* bend;
  const float* interrupted;
  const float* blown;
  const float* over_shortest;
};

// Plain arithmetic without branches and aliases, which the compiler does for several cells at once.

void step_blown(const Blown& from, float start, std::size_t cells, float* __restrict__ next,
                std::uint8_t* __restrict__ steps) {
  const auto [before, bend, interrupted, blown, over_shortest] = from;
  const float* const one_below = before - 1;
  for (std::size_t g = 0; g < cells; ++g) {
    const float bent = least(one_below[g] + bend[g], before[g + 1] + bend[g + 1]);
    const float goes_on = least(least(before[g], bent), interrupted[g]) + blown[g];
    next[g] = least(goes_on, start + over_shortest[g]);
  }
  for (std::size_t g = 0; g < cells; ++g) {
    const float below = one_below[g] + bend[g], above = before[g + 1] + bend[g + 1];
    const float kept = least(before[g], interrupted[g]), bent = least(below, above);
    unsigned step = bent < kept ? unsigned{bends} : 0U;
    step |= above < below ? unsigned{from_above} : 0U;
    step |= interrupted[g] < before[g] ? unsigned{resumes} : 0U;
    step |= start + over_shortest[g] == next[g] ? unsigned{begins} : 0U;
    steps[g] = static_cast<std::uint8_t>(step);
  }
}

/// A state that a blown cell falls into at a cost, and that then goes on.
void step_after(const float* __restrict__ blown, float change, Step step, const Costs& costs, Costs& state,
                std::uint8_t* __restrict__ steps) {
  float* const __restrict__ at = state.data();
  const float* const __restrict__ cost = costs.data();
  const std::size_t cells = state.size();
  for (std::size_t g = 0; g < cells; ++g) {
    const float entering = blown[g] + change;
    steps[g] = static_cast<std::uint8_t>(steps[g] | (entering < at[g] ? unsigned{step} : 0U));
    at[g] = least(entering, at[g]) + cost[g];
  }
}

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
        bend_(cells.count() + 1, never),
        blown_(cells.count() + 2, never),
        interrupted_(cells.count(), never),
        echo_(interrupted_),
        blown_before_(blown_),
        over_shortest_(cells.count(), 0.0F),
        recent_(shortest_, over_shortest_) {
    for (std::size_t g = 1; g < cells.count(); ++g)
      if (cells.are_neighbours(g - 1)) bend_[g] = static_cast<float>(model.bend);
    steps_.reserve(frames * cells.count());
    starts_.reserve(frames);
    unpitched_from_.reserve(frames);
    unpitched_.fill(never);
    unpitched_[static_cast<std::size_t>(Unpitched::silence)] = 0.0F;
  }

  void add(const FrameCosts& costs) {
    starts_.push_back(start());
    add_to_shortest(costs.blown);
    blown_before_.swap(blown_);
    add_pitched(costs);
    add_unpitched(costs);
    const auto count = static_cast<long>(cells_.count());
    blowing_ = cheapest(State::blown, blown_.begin() + 1, count);
    dying_ = cheapest(State::echo, echo_.begin(), count);
    rescale();
  }

  std::vector<PathFrame> path() const {
    std::vector<PathFrame> path(starts_.size());
    Place at = cheapest_end();
    for (std::size_t t = path.size(); t-- > 0;) {
      path[t] = {at.state, false, at.state == State::unpitched ? 0.0 : cells_.cents[at.index]};
      if (at.state == State::unpitched) {
        at = unpitched_from_[t][at.index];
        continue;
      }
      const std::uint8_t step = steps_[t * cells_.count() + at.index];
      if (at.state != State::blown || !(step & begins)) {
        at = before(step, at);
        continue;
      }
      const std::size_t start = t + 1 - shortest_;
      std::fill(path.begin() + static_cast<long>(start), path.begin() + static_cast<long>(t), path[t]);
      path[start].begins = true;
      at = starts_[start].from;
      t = start;
    }
    return path;
  }

 private:
  /// What a blow costs that begins with this frame: out of silence or an echo, or by a change of note.
  Start start() const {
    Reached start;
    start.consider(dying_.cost + begin_, dying_.from);
    for (std::uint16_t k = 0; k < unpitched_states; ++k) start.consider(unpitched_[k] + begin_, {State::unpitched, k});
    start.consider(blowing_.cost + change_, blowing_.from);
    return {start.cost + offset_, start.from};
  }

  /// Keeps, by cell, what the last frames cost as blown, as many as the shortest blow has.
  void add_to_shortest(const Costs& blown) {
    Costs& recent = recent_[(starts_.size() - 1) % shortest_];
    for (std::size_t g = 0; g < blown.size(); ++g) over_shortest_[g] += blown[g] - recent[g];
    recent = blown;
  }

  void add_pitched(const FrameCosts& costs) {
    const bool may_begin = starts_.size() >= shortest_;
    const float start = may_begin ? static_cast<float>(starts_[starts_.size() - shortest_].cost - offset_) : never;
    steps_.resize(steps_.size() + cells_.count());
    std::uint8_t* const steps = steps_.data() + (steps_.size() - cells_.count());  // no cells where nothing is tonal
    const float* const before = &blown_before_[1];
    const Blown blown{before, bend_.data(), interrupted_.data(), costs.blown.data(), over_shortest_.data()};
    step_blown(blown, start, cells_.count(), &blown_[1], steps);
    step_after(before, interrupt_, interrupts, costs.interrupted, interrupted_, steps);
    step_after(before, end_, dies, costs.echo, echo_, steps);
  }

  void add_unpitched(const FrameCosts& costs) {
    std::array<float, unpitched_states> next{};
    auto& from = unpitched_from_.emplace_back();
    for (std::uint16_t k = 0; k < unpitched_states; ++k) {
      Reached reached{unpitched_[k], {State::unpitched, k}};
      for (std::uint16_t j = 0; j < unpitched_states; ++j)
        reached.consider(unpitched_[j] + other_, {State::unpitched, j});
      reached.consider(dying_.cost + other_, dying_.from);
      reached.consider(blowing_.cost + end_, blowing_.from);
      next[k] = reached.cost + costs.unpitched[k];
      from[k] = reached.from;
    }
    unpitched_ = next;
  }

  static Reached cheapest(State state, Costs::const_iterator costs, long count) {
    const auto least = std::min_element(costs, costs + count);
    if (count == 0) return {};
    return {*least, {state, static_cast<std::uint16_t>(least - costs)}};
  }

  /// Keeps the costs small, so that their differences stay exact.
  void rescale() {
    const float least = std::min({blowing_.cost, dying_.cost, *std::min_element(unpitched_.begin(), unpitched_.end())});
    for (Costs* costs : {&blown_, &interrupted_, &echo_})
      for (float& cost : *costs) cost = std::min(cost - least, never);
    for (float& cost : unpitched_) cost -= least;
    blowing_.cost -= least;
    dying_.cost -= least;
    offset_ += least;
  }

  Place cheapest_end() const {
    Reached best;
    for (std::uint16_t k = 0; k < unpitched_states; ++k) best.consider(unpitched_[k], {State::unpitched, k});
    best.consider(blowing_.cost + end_, blowing_.from);
    best.consider(dying_.cost + other_, dying_.from);
    return best.from;
  }

  static Place before(std::uint8_t step, Place at) {
    const auto blown = [&](int by) { return Place{State::blown, static_cast<std::uint16_t>(at.index + by)}; };
    if (at.state == State::interrupted) return step & interrupts ? blown(0) : at;
    if (at.state == State::echo) return step & dies ? blown(0) : at;
    if (step & bends) return blown(step & from_above ? 1 : -1);
    if (step & resumes) return {State::interrupted, at.index};
    return at;
  }

  PitchCells cells_;
  float begin_, end_, change_, other_, interrupt_;
  std::size_t shortest_;                             // frames
  Costs bend_;                                       // by cell, from the cell below; never where it is no neighbour
  Costs blown_, interrupted_, echo_, blown_before_;  // by cell, blown ones with one that never sounds on either side
  std::array<float, unpitched_states> unpitched_{};
  double offset_ = 0;  // taken off all costs so far
  Costs over_shortest_;
  std::vector<Costs> recent_;        // by frame, in turn: cost as blown
  Reached blowing_, dying_;          // the cheapest blown cell and echo
  std::vector<Start> starts_;        // by frame
  std::vector<std::uint8_t> steps_;  // by frame and cell: Step
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
