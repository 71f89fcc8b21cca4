// SPDX-License-Identifier: GPL-3.0-or-later
#include "agreement/compared_takes.hpp"

#include <utility>

#include "slide/effort.hpp"
#include "slide/law_of_slide.hpp"
#include "units/order_statistics.hpp"

namespace windway {
namespace {

double cents_per_mm_of(const NoteId& id, const std::vector<TakeNotes>& takes, double speed_of_sound_m_s) {
  double sum = 0, count = 0;
  for (const TakeNotes& take : takes)
    if (const NoteBreath* note = note_in(take, id)) {
      sum += slide_cents_per_mm(slide_notes({*note}, speed_of_sound_m_s).front().effective_length_mm);
      ++count;
    }
  return sum / count;
}

std::optional<double> mean_spread_cents(const NoteId& id, const std::vector<TakeNotes>& takes) {
  double sum = 0, count = 0;
  for (const TakeNotes& take : takes)
    if (const NoteBreath* note = note_in(take, id); note && note->spread) sum += note->spread->cents, ++count;
  return count > 0 ? std::optional(sum / count) : std::nullopt;
}

/// Empty where less than half of the notes have a spread.
std::vector<double> bends_cents(const std::vector<NoteId>& notes, const std::vector<TakeNotes>& takes) {
  std::vector<double> known;
  for (const NoteId& note : notes)
    if (const auto spread = mean_spread_cents(note, takes)) known.push_back(*spread);
  if (2 * known.size() < notes.size() || known.empty()) return {};
  const double usual = *median_of(known);
  std::vector<double> bends;
  for (const NoteId& note : notes) bends.push_back(mean_spread_cents(note, takes).value_or(usual));
  return bends;
}

}  // namespace

ComparedTakes compared_takes(TakeTable table, const std::vector<TakeNotes>& takes, double speed_of_sound_m_s,
                             const std::optional<HeadPlaces>& places, const SlideFactor& factor) {
  ComparedTakes out{std::move(table), {}, {}, {}, factor.u95 / normal_u95_factor};
  for (const NoteId& note : out.table.notes)
    out.cents_per_mm.push_back(factor.factor * cents_per_mm_of(note, takes, speed_of_sound_m_s));
  out.bend_cents = bends_cents(out.table.notes, takes);
  if (places) out.foretold_cents = foretold_cents(out.table, takes, *places, speed_of_sound_m_s);
  return out;
}

TakeFit fit_patterns(const ComparedTakes& all, std::vector<std::vector<double>> patterns) {
  TakeModel model;
  model.takes = all.table.takes.size();
  model.notes = all.table.notes.size();
  model.patterns = std::move(patterns);
  if (all.factor_sd > 0 && !all.foretold_cents.empty()) {  // a factor without doubt is in the notes already
    model.foretold_cents = all.foretold_cents;
    model.factor_prior = Prior{0.0, all.factor_sd};
  }
  return fit_takes(all.table.cells, model);
}

std::vector<double> alike(const ComparedTakes& all) { return std::vector<double>(all.table.notes.size(), 1.0); }

TakeFit fit_all(const ComparedTakes& all) {
  std::vector<double> about_mean = all.cents_per_mm;
  const double mean = mean_cents_per_mm(all);
  for (double& cents : about_mean) cents -= mean;
  std::vector<std::vector<double>> patterns{alike(all), about_mean};
  if (!all.bend_cents.empty()) patterns.push_back(all.bend_cents);
  return fit_patterns(all, std::move(patterns));
}

double mean_cents_per_mm(const ComparedTakes& all) {
  double sum = 0;
  for (const double cents : all.cents_per_mm) sum += cents;
  return sum / static_cast<double>(all.cents_per_mm.size());
}

}  // namespace windway
