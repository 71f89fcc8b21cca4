// SPDX-License-Identifier: GPL-3.0-or-later
#include "agreement/take_model.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <boost/math/distributions/chi_squared.hpp>
#include <boost/math/distributions/fisher_f.hpp>
#include <cassert>
#include <cmath>

namespace windway {
namespace {

using Eigen::Index;

Index index(std::size_t at) { return static_cast<Index>(at); }

/// Which column stands for what: notes, effects pattern by pattern, factor.
struct Columns {
  explicit Columns(const TakeModel& model)
      : notes(index(model.notes)),
        has_all_takes(model.effect_sd.has_value()),
        takes(index(model.takes) - (has_all_takes ? 0 : 1)),
        effects(takes * index(model.patterns.size())),
        count(notes + effects + (model.foretold_cents.empty() ? 0 : 1)) {}

  /// Negative: that take's effects are 0.
  Index effect(std::size_t pattern, std::size_t take) const {
    const Index own = index(take) - (has_all_takes ? 0 : 1);
    return own < 0 ? -1 : notes + index(pattern) * takes + own;
  }

  Index notes = 0;
  bool has_all_takes = false;
  Index takes = 0;
  Index effects = 0;
  Index count = 0;
};

/// Rows over their SDs: the cells, then the priors.
struct Equations {
  Eigen::MatrixXd rows;
  Eigen::VectorXd values;
};

void add_cells(const std::vector<TakeCell>& cells, const TakeModel& model, const Columns& columns, Equations& out) {
  for (std::size_t c = 0; c < cells.size(); ++c) {
    const TakeCell& cell = cells[c];
    const double weight = 1.0 / std::sqrt(cell.variance_cents2);
    out.rows(index(c), index(cell.note)) = weight;
    for (std::size_t p = 0; p < model.patterns.size(); ++p)
      if (const Index at = columns.effect(p, cell.take); at >= 0)
        out.rows(index(c), at) = weight * model.patterns[p][cell.note];
    if (!model.foretold_cents.empty()) out.rows(index(c), columns.count - 1) = weight * model.foretold_cents[c];
    out.values(index(c)) = weight * cell.cents;
  }
}

Equations equations(const std::vector<TakeCell>& cells, const TakeModel& model, const Columns& columns) {
  const Index of_effects = model.effect_sd ? columns.effects : 0;
  const Index of_factor = model.factor_prior ? 1 : 0;
  const Index count = index(cells.size()) + of_effects + of_factor;
  Equations out{Eigen::MatrixXd::Zero(count, columns.count), Eigen::VectorXd::Zero(count)};
  add_cells(cells, model, columns, out);
  for (Index e = 0; e < of_effects; ++e) out.rows(index(cells.size()) + e, columns.notes + e) = 1.0 / *model.effect_sd;
  if (of_factor > 0) {
    out.rows(count - 1, columns.count - 1) = 1.0 / model.factor_prior->sd;
    out.values(count - 1) = model.factor_prior->mean / model.factor_prior->sd;
  }
  return out;
}

/// With `spare` = 1 - hat matrix, leaving rows out lowers the squares by r' spare(rows, rows)^-1 r (R. D. Cook & S.
/// Weisberg, Residuals and Influence in Regression (1982), sec. 3.6).
NoteShare share_of(const std::vector<Index>& rows, const Eigen::MatrixXd& spare, const Eigen::VectorXd& residuals) {
  if (rows.empty()) return {};
  const Index count = index(rows.size());
  Eigen::MatrixXd own(count, count);
  Eigen::VectorXd off(count);
  for (Index i = 0; i < count; ++i) {
    off(i) = residuals(rows[static_cast<std::size_t>(i)]);
    for (Index j = 0; j < count; ++j)
      own(i, j) = spare(rows[static_cast<std::size_t>(i)], rows[static_cast<std::size_t>(j)]);
  }
  Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd> inverse;
  inverse.setThreshold(1e-8);  // the note's own pitch takes up one direction but for rounding
  inverse.compute(own);
  return {off.dot(inverse.solve(off)), static_cast<double>(inverse.rank())};
}

void add_effects(const TakeModel& model, const Columns& columns, const Eigen::VectorXd& found,
                 const Eigen::MatrixXd& covariance, TakeFit& fit) {
  for (std::size_t p = 0; p < model.patterns.size(); ++p) {
    std::vector<double>& effect = fit.effect.emplace_back(model.takes, 0.0);
    auto& of_effects = fit.covariance.emplace_back(model.takes, std::vector<double>(model.takes, 0.0));
    for (std::size_t t = 0; t < model.takes; ++t) {
      const Index at = columns.effect(p, t);
      if (at < 0) continue;
      effect[t] = found(at);
      for (std::size_t u = 0; u < model.takes; ++u)
        if (const Index other = columns.effect(p, u); other >= 0) of_effects[t][u] = covariance(at, other);
    }
  }
}

}  // namespace

TakeFit fit_takes(const std::vector<TakeCell>& cells, const TakeModel& model) {
  assert(!cells.empty() && model.takes > 0);
  const Columns columns(model);
  const Equations system = equations(cells, model, columns);
  const Eigen::CompleteOrthogonalDecomposition<Eigen::MatrixXd> solver(system.rows);
  const Eigen::MatrixXd inverse = solver.pseudoInverse();
  const Eigen::VectorXd found = inverse * system.values;
  const Eigen::MatrixXd covariance = inverse * inverse.transpose();
  const Eigen::VectorXd residuals = system.values - system.rows * found;
  const Eigen::MatrixXd spare =
      Eigen::MatrixXd::Identity(system.rows.rows(), system.rows.rows()) - system.rows * inverse;

  TakeFit fit;
  add_effects(model, columns, found, covariance, fit);
  if (!model.foretold_cents.empty()) {
    fit.factor = found(columns.count - 1);
    fit.factor_sd = std::sqrt(covariance(columns.count - 1, columns.count - 1));
  }
  fit.squares = residuals.squaredNorm();
  fit.degrees = static_cast<double>(system.rows.rows() - solver.rank());
  std::vector<std::vector<Index>> rows_of_note(model.notes);
  for (std::size_t c = 0; c < cells.size(); ++c) {
    fit.residual_cents.push_back(residuals(index(c)) * std::sqrt(cells[c].variance_cents2));
    rows_of_note[cells[c].note].push_back(index(c));
  }
  for (const std::vector<Index>& rows : rows_of_note) fit.of_note.push_back(share_of(rows, spare, residuals));
  return fit;
}

double chance_of(double squares, double degrees, double of_scale) {
  if (degrees <= 0 || squares <= 0) return 1.0;
  using boost::math::cdf, boost::math::complement;
  if (of_scale <= 0) return cdf(complement(boost::math::chi_squared(degrees), squares));
  return cdf(complement(boost::math::fisher_f(degrees, of_scale), squares / degrees));
}

double chance_of_effects(const TakeFit& fit, std::size_t pattern, const std::vector<double>& own_variance) {
  const Index others = index(own_variance.size()) - 1;
  if (others < 1) return 1.0;
  Eigen::VectorXd effects(others);
  Eigen::MatrixXd total = Eigen::MatrixXd::Constant(others, others, own_variance.front());
  double by_cells = 0;
  for (Index i = 0; i < others; ++i) {
    const auto take = static_cast<std::size_t>(i) + 1;
    effects(i) = fit.effect[pattern][take];
    total(i, i) += own_variance[take] + 1e-9;  // a pattern that is 0 has no effects
    for (Index j = 0; j < others; ++j)
      total(i, j) += fit.excess() * fit.covariance[pattern][take][static_cast<std::size_t>(j) + 1];
    by_cells += fit.excess() * fit.covariance[pattern][take][take];
  }
  const double of_scale = fit.excess() > 1 ? fit.degrees * std::pow(total.trace() / by_cells, 2) : 0.0;
  return chance_of(effects.dot(total.ldlt().solve(effects)), static_cast<double>(others), of_scale);
}

std::optional<std::size_t> note_standing_out(const TakeFit& fit, double level) {
  std::optional<std::size_t> found;
  double least = level;
  for (std::size_t note = 0; note < fit.of_note.size(); ++note) {
    const auto& [squares, degrees] = fit.of_note[note];
    const double others_degrees = fit.degrees - degrees;
    if (degrees <= 0 || others_degrees < 1) continue;
    const double scale = std::max(1.0, (fit.squares - squares) / others_degrees);
    const double chance = chance_of(squares / scale, degrees, scale > 1 ? others_degrees : 0.0);
    if (chance < least) found = note, least = chance;
  }
  return found;
}

}  // namespace windway
