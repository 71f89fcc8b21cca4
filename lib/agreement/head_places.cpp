// SPDX-License-Identifier: GPL-3.0-or-later
#include "agreement/head_places.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <utility>

#include "agreement/take_table.hpp"
#include "breath/as_asked.hpp"
#include "slide/law_of_slide.hpp"
#include "slide/warming.hpp"
#include "units/coverage_factor.hpp"

namespace windway {
namespace {

/// Chance with which a note of takes that all follow the law is said to stand out.
constexpr double false_alarm = 0.001;

double mean_place_mm(const std::vector<double>& out_mm) {
  const double sum = std::accumulate(out_mm.begin(), out_mm.end(), 0.0);
  return std::round(10.0 * sum / static_cast<double>(out_mm.size())) / 10.0;
}

double length_mm(int register_number, double frequency_hz, double speed_of_sound_m_s) {
  return 1000.0 * register_number * speed_of_sound_m_s / (2.0 * frequency_hz);
}

double length_mm(const NoteBreath& note, double speed_of_sound_m_s) {
  return length_mm(note.register_number, hz_at_cents(note.target_hz, note.moderate.cents), speed_of_sound_m_s);
}

int register_number(const Instrument& instrument, const NoteId& note) {
  const ScaleNote* of_scale = scale_note(instrument, note);
  return of_scale ? of_scale->register_number : register_of(instrument.kind, note.midi - instrument.lowest_midi);
}

/// Warmth, and how surely a head is set: alike on all notes, or nearly so.
double take_sd_cents(const TakeTable& table, const std::vector<TakeNotes>& takes, double speed_of_sound_m_s) {
  double cents_per_mm = 0;
  for (const TakeCell& cell : table.cells) {
    const NoteBreath& note = *note_in(takes[table.takes[cell.take]], table.notes[cell.note]);
    cents_per_mm += slide_cents_per_mm(length_mm(note, speed_of_sound_m_s)) / static_cast<double>(table.cells.size());
  }
  return std::hypot(alike_sd_cents / std::sqrt(2.0), cents_per_mm * place_sd_mm);
}

TakeFit fit_factor(const TakeTable& table, const std::vector<TakeNotes>& takes, const HeadPlaces& places,
                   double speed_of_sound_m_s) {
  TakeModel model;
  model.takes = table.takes.size();
  model.notes = table.notes.size();
  model.patterns = {std::vector<double>(table.notes.size(), 1.0)};
  model.effect_sd = take_sd_cents(table, takes, speed_of_sound_m_s);
  model.foretold_cents = foretold_cents(table, takes, places, speed_of_sound_m_s);
  return fit_takes(table.cells, model);
}

/// Whether some note was held at two places.
bool tells_of_moves(const TakeTable& table, const std::vector<TakeNotes>& takes, const HeadPlaces& places) {
  std::vector<std::optional<double>> place_mm(table.notes.size());
  for (const TakeCell& cell : table.cells) {
    const double own_mm = places.out_mm[static_cast<std::size_t>(takes[table.takes[cell.take]].take)];
    if (place_mm[cell.note].value_or(own_mm) != own_mm) return true;
    place_mm[cell.note] = own_mm;
  }
  return false;
}

double rest_sd_cents(const TakeFit& fit) {
  double squares = 0;
  for (const double residual : fit.residual_cents) squares += residual * residual;
  return std::sqrt(squares / std::max(1.0, fit.degrees));
}

}  // namespace

bool are_several_places(const std::vector<double>& out_mm) {
  return std::ranges::any_of(out_mm, [&](double place_mm) { return place_mm != out_mm.front(); });
}

double brought_cents(const HeadPlaces& places, int take, double length_mm, double factor) {
  const double move_mm = places.at_mm - places.out_mm[static_cast<std::size_t>(take)];
  return slide_change_cents(length_mm, move_mm, factor);
}

std::vector<double> foretold_cents(const TakeTable& table, const std::vector<TakeNotes>& takes,
                                   const HeadPlaces& places, double speed_of_sound_m_s) {
  std::vector<double> foretold;
  for (const TakeCell& cell : table.cells) {
    const TakeNotes& take = takes[table.takes[cell.take]];
    const NoteBreath& note = *note_in(take, table.notes[cell.note]);
    foretold.push_back(-brought_cents(places, take.take, length_mm(note, speed_of_sound_m_s), 1.0));
  }
  return foretold;
}

HeadPlaces fit_places(const std::vector<TakeNotes>& takes, const std::vector<double>& out_mm, const Head& known,
                      double speed_of_sound_m_s) {
  HeadPlaces places;
  places.out_mm = out_mm;
  places.at_mm = mean_place_mm(out_mm);
  TakeTable table = take_table(takes);
  if (!tells_of_moves(table, takes, places)) return places;
  TakeFit fit = fit_factor(table, takes, places, speed_of_sound_m_s);
  while (const auto note = note_standing_out(fit, false_alarm / static_cast<double>(table.notes.size()))) {
    if (!may_leave_out(table, places.not_following.size())) break;
    TakeTable others = without_note(table, *note);
    if (!tells_of_moves(others, takes, places)) break;
    places.not_following.push_back(table.notes[*note]);
    table = std::move(others);
    fit = fit_factor(table, takes, places, speed_of_sound_m_s);
  }
  std::ranges::sort(places.not_following);
  const double excess = fit.excess();
  const double coverage = excess > 1 ? u95_factor(fit.degrees) : normal_u95_factor;
  places.factor = SlideFactor{fit.factor, coverage * std::sqrt(excess) * fit.factor_sd};
  const bool is_plausible = fit.factor > least_slide_factor && fit.factor < most_slide_factor;
  places.factor_is_telling = is_plausible && places.factor->u95 < law_u95_share(known) * places.factor->factor;
  places.rest_sd_cents = rest_sd_cents(fit);
  return places;
}

SlideFactor factor_taken(const HeadPlaces& places, const Head& known) {
  if (places.factor && places.factor_is_telling) return *places.factor;
  return known.factor.value_or(SlideFactor{1.0, law_u95_share(known)});
}

Naming brought_together(Naming naming, const HeadPlaces& places, double factor, double speed_of_sound_m_s) {
  for (NamedHold& hold : naming.holds) {
    const int mode = register_number(naming.instrument, hold.note);
    hold.brought_cents =
        brought_cents(places, hold.hold.take, length_mm(mode, hold.hold.frequency_hz, speed_of_sound_m_s), factor);
  }
  return naming;
}

std::vector<TakeNotes> brought_together(std::vector<TakeNotes> takes, const HeadPlaces& places, double factor,
                                        double speed_of_sound_m_s) {
  for (TakeNotes& take : takes)
    for (NoteBreath& note : take.notes) {
      const double cents = brought_cents(places, take.take, length_mm(note, speed_of_sound_m_s), factor);
      note = shifted(std::move(note), cents);
    }
  return takes;
}

}  // namespace windway
