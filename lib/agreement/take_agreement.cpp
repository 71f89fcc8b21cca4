// SPDX-License-Identifier: GPL-3.0-or-later
#include "agreement/take_agreement.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numeric>
#include <set>
#include <utility>

#include "agreement/compared_takes.hpp"
#include "slide/warming.hpp"
#include "statistics/random_effects.hpp"
#include "units/coverage_factor.hpp"

namespace windway {
namespace {

/// Chance with which takes that agree are said not to; half of it for each of the two tests.
constexpr double takes_false_alarm = 0.01;
/// The same for single notes, all together, and for what is left of them all.
constexpr double note_false_alarm = 0.001;
/// A cause this many times less likely than the likeliest explains nothing.
constexpr double least_relative_likelihood = 0.05;

/// By take compared: variance of its notes' common offset where the takes agree.
std::vector<double> own_variances_cents2(const ComparedTakes& all, const std::vector<TakeNotes>& takes,
                                         bool head_was_set) {
  const double set_cents = head_was_set ? place_sd_mm * mean_cents_per_mm(all) : 0.0;
  std::vector<double> variances;
  for (const std::size_t take : all.table.takes)
    variances.push_back(0.5 * alike_sd_cents * alike_sd_cents + set_cents * set_cents +
                        std::pow(drift_sd_cents(takes[take]), 2));
  return variances;
}

double coverage(const TakeFit& fit) { return fit.excess() > 1 ? u95_factor(fit.degrees) : normal_u95_factor; }

/// u95 of the difference of two takes' effects.
double u95_between(const TakeFit& fit, std::size_t a, std::size_t b) {
  const auto& c = fit.covariance.front();
  return coverage(fit) * std::sqrt(std::max(0.0, fit.excess() * (c[a][a] + c[b][b] - 2 * c[a][b])));
}

CentsEstimate farthest_apart(const TakeFit& fit) {
  const auto [low, high] = std::ranges::minmax_element(fit.effect.front());
  const auto at = [&](auto take) { return static_cast<std::size_t>(take - fit.effect.front().begin()); };
  return {*high - *low, u95_between(fit, at(low), at(high))};
}

double note_u95_cents(const TakeFit& fit) {
  if (fit.degrees < 1) return 0.0;
  double squares = 0;
  for (const double residual : fit.residual_cents) squares += residual * residual;
  return u95_factor(fit.degrees) * std::sqrt(squares / fit.degrees);
}

double mean_of(const std::vector<double>& values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

/// Variance of each take's common offset by its notes alone.
std::vector<double> variances_by_notes(const ComparedTakes& all, double excess) {
  std::vector<double> weights(all.table.takes.size(), 0.0);
  for (const TakeCell& cell : all.table.cells) weights[cell.take] += 1.0 / (excess * cell.variance_cents2);
  for (double& weight : weights) weight = 1.0 / weight;
  return weights;
}

/// Sum of squares about the weighted mean over the variances, `added` to each.
double squares_about_mean(const std::vector<double>& values, const std::vector<double>& variances, double added) {
  double weights = 0, mean = 0, squares = 0;
  for (const double variance : variances) weights += 1.0 / (variance + added);
  for (std::size_t i = 0; i < values.size(); ++i) mean += values[i] / (variances[i] + added) / weights;
  for (std::size_t i = 0; i < values.size(); ++i) squares += std::pow(values[i] - mean, 2) / (variances[i] + added);
  return squares;
}

/// Of the mean over the takes: what they vary by beyond their notes' uncertainty; where the head was set for each, at
/// least what is usual.
double pooled_u95_cents(const ComparedTakes& all, const TakeFit& fit, double usual_variance) {
  const std::vector<double>& offsets = fit.effect.front();
  const std::vector<double> variances = variances_by_notes(all, fit.excess());
  const auto takes = static_cast<double>(offsets.size());
  const double between =
      added_variance([&](double added) { return squares_about_mean(offsets, variances, added); }, takes - 1);
  return normal_u95_factor * std::sqrt(std::max(between, usual_variance) / takes);
}

/// The fit of all other notes, which still foretells this one.
TakeFit fit_of_others(ComparedTakes all, std::size_t note) {
  constexpr double counts_for_nothing = 1e6;
  for (TakeCell& cell : all.table.cells)
    if (cell.note == note) cell.variance_cents2 *= counts_for_nothing;
  return fit_all(all);
}

/// How far the note is off in the take where it is farthest, against its mean in the others.
NoteApart note_apart(const ComparedTakes& all, std::size_t note, const std::vector<TakeNotes>& takes) {
  const TakeFit others = fit_of_others(all, note);
  std::size_t farthest = 0;
  double sum = 0, variances = 0, count = 0;
  for (std::size_t c = 0; c < all.table.cells.size(); ++c) {
    if (all.table.cells[c].note != note) continue;
    if (count == 0 || std::abs(others.residual_cents[c]) > std::abs(others.residual_cents[farthest])) farthest = c;
    sum += others.residual_cents[c];
    variances += all.table.cells[c].variance_cents2;
    ++count;
  }
  const double own = others.residual_cents[farthest], own_variance = all.table.cells[farthest].variance_cents2;
  const double rest = (sum - own) / (count - 1), rest_variance = (variances - own_variance) / std::pow(count - 1, 2);
  return {all.table.notes[note],
          takes[all.table.takes[all.table.cells[farthest].take]].take,
          {own - rest, coverage(others) * std::sqrt(others.excess() * (own_variance + rest_variance))}};
}

bool has_cells_of_all(const TakeTable& table) {
  std::set<std::size_t> takes;
  for (const TakeCell& cell : table.cells) takes.insert(cell.take);
  return takes.size() == table.takes.size();
}

/// Takes the notes that stand out from the table.
std::vector<NoteApart> notes_apart(ComparedTakes& all, const std::vector<TakeNotes>& takes,
                                   const std::function<ComparedTakes(TakeTable)>& anew) {
  std::vector<NoteApart> found;
  for (;;) {
    const TakeFit fit = fit_all(all);
    const auto note = note_standing_out(fit, note_false_alarm / static_cast<double>(all.table.notes.size()));
    if (!note || !may_leave_out(all.table, found.size())) return found;
    ComparedTakes others = anew(without_note(all.table, *note));
    if (!has_cells_of_all(others.table)) return found;
    found.push_back(note_apart(all, *note, takes));
    all = std::move(others);
  }
}

/// Which single cause explains how the takes differ; none where several together are needed, or something else.
void add_causes(const ComparedTakes& all, const TakeFit& together, const TakeFit& fit, TakeAgreement& found) {
  const double warmth = together.squares, head = fit_patterns(all, {all.cents_per_mm}).squares;
  const bool knows_breath = !all.bend_cents.empty();
  const double breath = knows_breath ? fit_patterns(all, {all.bend_cents}).squares : std::max(warmth, head);
  const double least = std::min({warmth, head, breath});
  if (chance_of((least - fit.squares) / fit.excess(), together.degrees - fit.degrees,
                fit.excess() > 1 ? fit.degrees : 0.0) < note_false_alarm)
    return;
  const auto is_likely = [&](double squares) {
    return std::exp(-0.5 * (squares - least) / fit.excess()) >= least_relative_likelihood;
  };
  found.as_warmth = is_likely(warmth);
  found.as_head = is_likely(head);
  found.as_breath = knows_breath && is_likely(breath);
}

void add_offsets(const ComparedTakes& all, const std::vector<TakeNotes>& takes, const TakeFit& together,
                 TakeAgreement& found) {
  const TakeFit by_head = fit_patterns(all, {all.cents_per_mm});
  for (std::size_t t = 0; t < all.table.takes.size(); ++t)
    found.takes.push_back({takes[all.table.takes[t]].take,
                           {together.effect.front()[t], u95_between(together, t, 0)},
                           -by_head.effect.front()[t],
                           {},
                           {}});
}

}  // namespace

std::optional<TakeAgreement> take_agreement(const std::vector<TakeNotes>& takes, double speed_of_sound_m_s,
                                            const std::optional<HeadPlaces>& places, const SlideFactor& factor) {
  const auto anew = [&](TakeTable table) {
    return compared_takes(std::move(table), takes, speed_of_sound_m_s, places, factor);
  };
  ComparedTakes all = anew(take_table(takes));
  if (all.table.cells.empty()) return std::nullopt;
  TakeAgreement found;
  found.left_out = all.table.left_out;
  found.notes = notes_apart(all, takes, anew);

  const TakeFit together = fit_patterns(all, {alike(all)}), whole = fit_all(all);
  const std::vector<double> usual = own_variances_cents2(all, takes, places.has_value());
  const double set_variance_mm2 = places ? place_sd_mm * place_sd_mm : 0.0;
  found.notes_scatter = chance_of(whole.squares, whole.degrees, 0.0) < note_false_alarm;
  found.agree = !found.notes_scatter && chance_of_effects(together, 0, usual) >= takes_false_alarm / 2 &&
                chance_of_effects(whole, head_pattern, std::vector<double>(usual.size(), set_variance_mm2)) >=
                    takes_false_alarm / 2;
  found.apart = farthest_apart(together);
  found.note_u95_cents = note_u95_cents(together);
  found.pooled_u95_cents = pooled_u95_cents(all, together, places ? mean_of(usual) : 0.0);
  add_offsets(all, takes, together, found);
  if (!found.agree) add_causes(all, together, whole, found);
  return found;
}

}  // namespace windway
