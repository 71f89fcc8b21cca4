// SPDX-License-Identifier: GPL-3.0-or-later
#include "verdict/common_errors.hpp"

#include <algorithm>
#include <cmath>

#include "slide/law_of_slide.hpp"
#include "statistics/robust_centre.hpp"
#include "units/order_statistics.hpp"

namespace windway {
namespace {

using Row = std::vector<std::optional<double>>;

constexpr double least_sd_cents = 1e-3;
constexpr int least_notes = 3;  // one slide and what is left of it
constexpr int most_rounds = 50;
constexpr double settled_cents = 1e-3;

struct Location {
  double cents = 0.0;
  double sd_cents = least_sd_cents;
};

Location bisquare_location(const std::vector<double>& values) {
  Location found{*median_of(values), 0.0};
  std::vector<double> residuals = values;
  for (double& r : residuals) r -= found.cents;
  found.sd_cents = scatter_cents(std::move(residuals));
  for (int round = 0; round < most_rounds; ++round) {
    double sum = 0.0, weights = 0.0;
    for (const double value : values) {
      const double weight = bisquare_weight((value - found.cents) / found.sd_cents);
      sum += weight * (value - found.cents);
      weights += weight;
    }
    if (weights <= 0.0) break;
    found.cents += sum / weights;
    if (std::abs(sum / weights) < 0.01 * settled_cents) break;
  }
  return found;
}

/// The notes' common errors and the instruments' slides, each fitted beside the other in turn.
class BenchFit {
 public:
  BenchFit(const std::vector<Row>& rows, const std::vector<double>& lengths_mm)
      : rows_(rows), lengths_mm_(lengths_mm), slides_mm_(rows.size(), 0.0), notes_(lengths_mm.size()) {
    fit_notes();
    for (int round = 0; round < most_rounds; ++round) {
      const auto before = notes_;
      fit_slides();
      fit_notes();
      if (farthest_moved(before) < settled_cents) break;
    }
  }

  std::vector<std::optional<double>> cents() const {
    std::vector<std::optional<double>> cents;
    for (const auto& note : notes_) cents.push_back(note ? std::optional(note->cents) : std::nullopt);
    return cents;
  }

  /// How much each instrument pulls each note's location, cents (its influence over the slope of psi). Huber 1981, 3.2.
  std::vector<double> influences(std::size_t note) const {
    std::vector<double> pulls(rows_.size(), 0.0);
    if (!notes_[note]) return pulls;
    double slope = 0.0;
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      const auto residual = residual_cents(i, note);
      if (!residual) continue;
      const double u = *residual / (bisquare_reach_sds * notes_[note]->sd_cents);
      if (std::abs(u) >= 1.0) continue;
      pulls[i] = *residual * (1.0 - u * u) * (1.0 - u * u);
      slope += (1.0 - u * u) * (1.0 - 5.0 * u * u);
    }
    for (double& pull : pulls) pull /= std::max(slope, 1.0);
    return pulls;
  }

 private:
  /// Of the note on that instrument, its slide and the common error taken out.
  std::optional<double> residual_cents(std::size_t instrument, std::size_t note) const {
    const auto& cents = rows_[instrument][note];
    if (!cents || !notes_[note]) return std::nullopt;
    return *cents - notes_[note]->cents - slide_change_cents(lengths_mm_[note], slides_mm_[instrument]);
  }

  void fit_notes() {
    for (std::size_t note = 0; note < notes_.size(); ++note) {
      std::vector<double> values;
      for (std::size_t i = 0; i < rows_.size(); ++i)
        if (const auto& cents = rows_[i][note])
          values.push_back(*cents - slide_change_cents(lengths_mm_[note], slides_mm_[i]));
      notes_[note].reset();
      if (values.size() >= static_cast<std::size_t>(least_bench)) notes_[note] = bisquare_location(values);
    }
  }

  double pooled_sd() const {
    std::vector<double> residuals;
    for (std::size_t i = 0; i < rows_.size(); ++i)
      for (std::size_t note = 0; note < notes_.size(); ++note)
        if (const auto residual = residual_cents(i, note)) residuals.push_back(*residual);
    return scatter_cents(std::move(residuals));
  }

  void fit_slides() {
    const double sd = pooled_sd();
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      double step_mm = 1.0;
      for (int round = 0; round < most_rounds && std::abs(step_mm) > 1e-5; ++round) {
        step_mm = slide_step_mm(i, sd);
        slides_mm_[i] += step_mm;
      }
    }
  }

  /// One step of Gauss and Newton, no farther than half of the shortest column in all.
  double slide_step_mm(std::size_t instrument, double sd) const {
    double sum = 0.0, weights = 0.0;
    for (std::size_t note = 0; note < notes_.size(); ++note) {
      const auto residual = residual_cents(instrument, note);
      if (!residual) continue;
      const double cents_per_mm = -slide_cents_per_mm(lengths_mm_[note] + slides_mm_[instrument]);
      const double weight = huber_weight(*residual / sd);
      sum += weight * cents_per_mm * *residual;
      weights += weight * cents_per_mm * cents_per_mm;
    }
    if (weights <= 0.0) return 0.0;
    const double most_mm = 0.5 * *std::ranges::min_element(lengths_mm_);
    return std::clamp(slides_mm_[instrument] + sum / weights, -most_mm, most_mm) - slides_mm_[instrument];
  }

  double farthest_moved(const std::vector<std::optional<Location>>& before) const {
    double farthest = 0.0;
    for (std::size_t note = 0; note < notes_.size(); ++note)
      if (notes_[note] && before[note])
        farthest = std::max(farthest, std::abs(notes_[note]->cents - before[note]->cents));
    return farthest;
  }

  const std::vector<Row>& rows_;
  const std::vector<double>& lengths_mm_;
  std::vector<double> slides_mm_;
  std::vector<std::optional<Location>> notes_;
};

/// Only what tells of more than its own slide.
std::vector<Row> telling_rows(const std::vector<Row>& rows) {
  std::vector<Row> telling;
  for (const Row& row : rows)
    if (std::ranges::count_if(row, [](const auto& cents) { return cents.has_value(); }) >= least_notes)
      telling.push_back(row);
  return telling;
}

}  // namespace

double scatter_cents(std::vector<double> residuals) {
  return std::max(least_sd_cents, robust_sd(std::move(residuals)));
}

CommonErrors common_errors(const std::vector<Row>& rows, const std::vector<double>& lengths_mm) {
  const std::vector<Row> telling = telling_rows(rows);
  const BenchFit fit(telling, lengths_mm);
  const std::size_t count = lengths_mm.size();
  const double n = static_cast<double>(telling.size());
  CommonErrors found{fit.cents(), std::vector<double>(count * count, 0.0), static_cast<int>(telling.size()), n - 1.0};
  std::vector<std::vector<double>> pulls;
  for (std::size_t note = 0; note < count; ++note) pulls.push_back(fit.influences(note));
  for (std::size_t a = 0; a < count; ++a) {
    for (std::size_t b = 0; b < count; ++b) {
      double sum = 0.0;
      for (std::size_t i = 0; i < telling.size(); ++i) sum += pulls[a][i] * pulls[b][i];
      found.covariance[a * count + b] = n > 1.0 ? sum * n / (n - 1.0) : 0.0;
    }
  }
  return found;
}

}  // namespace windway
