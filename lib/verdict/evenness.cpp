// SPDX-License-Identifier: GPL-3.0-or-later
#include "verdict/evenness.hpp"

#include <cmath>
#include <vector>

namespace windway {
namespace {

/// A note that counts, after the move.
struct Residual {
  const NoteBreath* note = nullptr;
  double cents = 0;
};

std::vector<Residual> residuals_of(const Measurement& measurement) {
  std::vector<Residual> residuals;
  const auto& notes = measurement.breath.notes;
  for (std::size_t i = 0; i < notes.size(); ++i)
    if (notes[i].weight > 0 && notes[i].id.fingering.empty())
      residuals.push_back({&notes[i], measurement.compromise->notes[i].cents});
  return residuals;
}

}  // namespace

std::optional<OctaveRelation> octave_relation(const Measurement& measurement) {
  const std::vector<Residual> residuals = residuals_of(measurement);
  OctaveRelation relation;
  double variance = 0;      // u95 squared, of the sum
  double warmed_cents = 0;  // by which all may be too narrow together: the higher notes played later, in a warmer flute
  for (const Residual& low : residuals)
    for (const Residual& high : residuals) {
      if (high.note->id.midi != low.note->id.midi + 12 || high.note->register_number != low.note->register_number + 1)
        continue;
      ++relation.pairs;
      relation.wide.cents += high.cents - low.cents;
      variance += std::pow(high.note->moderate.u95_cents, 2) + std::pow(low.note->moderate.u95_cents, 2);
      warmed_cents += low.note->later_warming_u95_cents.value_or(0) - high.note->later_warming_u95_cents.value_or(0);
    }
  if (relation.pairs == 0) return std::nullopt;
  relation.wide.cents /= relation.pairs;
  relation.wide.u95_cents = std::hypot(std::sqrt(variance), warmed_cents) / relation.pairs;
  return relation;
}

std::optional<double> evenness_cents(const Measurement& measurement) {
  const std::vector<Residual> residuals = residuals_of(measurement);
  if (residuals.empty()) return std::nullopt;
  double sum = 0;
  for (const Residual& each : residuals) sum += each.cents * each.cents;
  return std::sqrt(sum / static_cast<double>(residuals.size()));
}

std::optional<UnevenStep> worst_step(const Measurement& measurement) {
  const std::vector<Residual> residuals = residuals_of(measurement);
  std::optional<UnevenStep> worst;
  for (std::size_t i = 1; i < residuals.size(); ++i) {
    const UnevenStep step{residuals[i - 1].note->id, residuals[i].note->id,
                          residuals[i].cents - residuals[i - 1].cents};
    if (!worst || std::abs(step.wide_cents) > std::abs(worst->wide_cents)) worst = step;
  }
  return worst;
}

}  // namespace windway
