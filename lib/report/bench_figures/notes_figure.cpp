// SPDX-License-Identifier: GPL-3.0-or-later
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "report/bench/notes_text.hpp"
#include "report/bench_figures/bench_figures.hpp"
#include "report/bench_figures/far_values.hpp"
#include "report/page/marks.hpp"
#include "report/wording/figures.hpp"

namespace windway {
namespace {

constexpr double least_row_px = 24.0;
constexpr double line_px = 17.0;

Axis cents_axis(const BenchFindings& findings) {
  constexpr double least_width_cents = 20;
  std::vector<double> usual, far;
  for (const NoteFinding& note : findings.notes) {
    if (note.tolerance_cents) usual.insert(usual.end(), {-1.15 * *note.tolerance_cents, 1.15 * *note.tolerance_cents});
    if (const auto range = usual_range(note)) usual.insert(usual.end(), {range->lower_cents, range->upper_cents});
    if (!usual_range(note)) usual.push_back(note.left.mean);
    for (const auto* named : {&note.beyond_tolerance, &note.outliers_within_tolerance})
      for (const NamedDeviation& each : named->listed) far.push_back(each.cents);
  }
  return axis_with_far(std::move(usual), far, least_width_cents);
}

bool any_beyond_axis(const BenchFindings& findings, const Axis& axis) {
  return std::ranges::any_of(findings.notes, [&](const NoteFinding& note) {
    return !axis.holds(note.left.min) || !axis.holds(note.left.max);
  });
}

Markup behind(const NoteFinding& note, const Axis& axis, double row_px) {
  Markup drawn;
  if (note.tolerance_cents)
    drawn += band(axis, axis.least, -*note.tolerance_cents, row_px, "beyond") +
             band(axis, *note.tolerance_cents, axis.most, row_px, "beyond") +
             upright(axis, -*note.tolerance_cents, row_px, "limit") +
             upright(axis, *note.tolerance_cents, row_px, "limit");
  return drawn + grid_lines(axis, most_ticks_across, row_px) + upright(axis, 0, row_px, "zero");
}

/// One mark where several would cover each other.
template <typename Mark>
Markup marks_of(const NamedDeviations& named, const Axis& axis, double row_px, const Mark& mark) {
  constexpr double marks_a_percent = 2;
  std::set<long> taken;
  Markup drawn;
  for (const NamedDeviation& each : named.listed) {
    const double x = axis.percent(each.cents);
    if (taken.insert(std::lround(marks_a_percent * x)).second) drawn += mark(x, row_px / 2);
  }
  return drawn;
}

Markup picture_of(const NoteFinding& note, const Axis& axis, double row_px) {
  Markup drawn = behind(note, axis, row_px);
  const auto range = usual_range(note);
  const WedgeLook look{note.register_number > 1, false};
  if (range) drawn += spindle(axis, range->lower_cents, range->middle_cents, range->upper_cents, row_px, look);
  drawn += notch(axis, range ? range->middle_cents : note.left.mean, row_px);
  drawn +=
      marks_of(note.outliers_within_tolerance, axis, row_px, [](double x, double y) { return ring(x, y, "reach"); });
  return drawn + marks_of(note.beyond_tolerance, axis, row_px, cross);
}

std::string cents_words(double cents) { return signed_fixed(cents, 1); }

std::string said_of(const NoteFinding& note) {
  const auto range = usual_range(note);
  std::string words =
      range ? fmt::format("usually from {} to {} cents, the middle at {}", cents_words(range->lower_cents),
                          cents_words(range->upper_cents), cents_words(range->middle_cents))
            : fmt::format("at {} cents", cents_words(note.left.mean));
  if (note.tolerance_cents) words += "; tolerance " + shortest(*note.tolerance_cents);
  if (note.beyond_tolerance.count > 0) words += "; read beyond it " + named(note.beyond_tolerance);
  const NamedDeviations& far = note.outliers_within_tolerance;
  if (far.count > 0) words += "; far from the rest " + named(far);
  return words;
}

/// Those that read beyond the tolerance and those far from the rest: the few that a row has room for.
std::string names_of(const NoteFinding& note) {
  NamedDeviations all = note.beyond_tolerance;
  const NamedDeviations& far = note.outliers_within_tolerance;
  all.listed.insert(all.listed.end(), far.listed.begin(), far.listed.end());
  all.count += far.count;
  constexpr std::size_t most_names = 2;
  return all.count > 0 ? named(all, all.count > most_names ? 1 : most_names) : "";
}

std::string figure_of(const NoteFinding& note, bool with_cpk) {
  if (with_cpk) return note.capability ? fixed(note.capability->cpk, 2) : "–";
  return note.sd_cents ? fixed(*note.sd_cents, 1) : "–";
}

FigureRow row_of(const BenchTally& tally, const NoteFinding& note, const Axis& axis, bool with_cpk) {
  FigureRow row{
      spelt(*tally.model, note.note), {}, least_row_px, said_of(note), figure_of(note, with_cpk), names_of(note)};
  row.height_px = std::max(least_row_px, line_px * static_cast<double>(lines_of(row).size()));
  row.picture = picture_of(note, axis, row.height_px);
  return row;
}

std::vector<FigureKey> keys_of(const BenchFindings& findings) {
  constexpr double wide_px = 46;
  const Axis axis{0, 1};
  const auto any = [&](auto is) { return std::ranges::any_of(findings.notes, is); };
  std::vector<FigureKey> keys{{spindle(axis, 0.02, 0.5, 0.98, key_px, {}) + notch(axis, 0.5, key_px), wide_px,
                               "the usual range of the instruments, with a line at their middle"}};
  if (any([](const NoteFinding& note) { return note.register_number > 1; }))
    keys.push_back({spindle(axis, 0.02, 0.5, 0.98, key_px, {true, false}), wide_px, "of an overblown note"});
  if (any([](const NoteFinding& note) { return note.tolerance_cents.has_value(); }))
    keys.push_back(band_key("beyond", "beyond the tolerance"));
  if (any([](const NoteFinding& note) { return note.beyond_tolerance.count > 0; }))
    keys.push_back(cross_key("an instrument beyond it"));
  if (any([](const NoteFinding& note) { return note.outliers_within_tolerance.count > 0; }))
    keys.push_back(ring_key("reach", "an instrument far from the rest"));
  return keys;
}

}  // namespace

RowsFigure notes_figure(const BenchTally& tally, const BenchFindings& findings) {
  const Axis axis = cents_axis(findings);
  const bool with_cpk = any_capability(findings);
  const bool has_tolerance =
      std::ranges::any_of(findings.notes, [](const NoteFinding& note) { return note.tolerance_cents.has_value(); });
  RowsFigure figure;
  figure.id = "notes";
  figure.title = has_tolerance ? "Each note and its tolerance" : "Each note of all instruments";
  figure.sentences = {cents_legend(tally), range_legend(findings)};
  if (any_beyond_axis(findings, axis)) figure.sentences.emplace_back(edge_sentence);
  figure.keys = keys_of(findings);
  figure.axis_name = "cents: − flat, + sharp";
  figure.axis = axis_row(axis, most_ticks_across);
  figure.words_name = with_cpk ? "Cpk" : "SD";
  for (const NoteFinding& note : findings.notes) figure.rows.push_back(row_of(tally, note, axis, with_cpk));
  const auto has_names = [](const FigureRow& row) { return !row.further.empty(); };
  figure.further_name = std::ranges::any_of(figure.rows, has_names) ? "beyond it, or far from the rest" : "";
  return figure;
}

}  // namespace windway
