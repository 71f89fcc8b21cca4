// SPDX-License-Identifier: GPL-3.0-or-later
#include "verdict/hole_advice.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <map>

#include "slide/law_of_slide.hpp"
#include "slide/slide.hpp"
#include "units/coverage_factor.hpp"
#include "verdict/common_errors.hpp"
#include "verdict/degree_baseline.hpp"

namespace windway {
namespace {

constexpr std::size_t least_degrees = 4;  // one, and three others that can disagree about the slide
constexpr int octave = 12;

bool one_hole_gives(Kind kind, int degree) {
  constexpr std::array whistle = {2, 4, 5, 7, 9, 11};
  constexpr std::array recorder = {2, 4, 7, 9, 11};
  return kind == Kind::whistle ? std::ranges::count(whistle, degree) > 0 : std::ranges::count(recorder, degree) > 0;
}

/// Which notes (indices into the places) are common to the bench, by degree.
std::map<int, std::vector<std::size_t>> notes_by_degree(const std::vector<PlaceOfNote>& places,
                                                        const CommonErrors& errors) {
  std::map<int, std::vector<std::size_t>> notes;
  for (std::size_t note = 0; note < places.size(); ++note)
    if (errors.cents[note])
      notes[hole_degree(places[note].register_number, places[note].semitones_above_lowest)].push_back(note);
  return notes;
}

std::vector<DegreeMean> degree_means(const std::vector<PlaceOfNote>& places, const CommonErrors& errors,
                                     const std::map<int, std::vector<std::size_t>>& by_degree) {
  std::vector<DegreeMean> means;
  for (const auto& [degree, notes] : by_degree) {
    DegreeMean mean;
    mean.share.assign(places.size(), 0.0);
    const double share = 1.0 / static_cast<double>(notes.size());
    for (const std::size_t note : notes) {
      mean.cents += share * *errors.cents[note];
      mean.length_mm += share * places[note].effective_length_mm;
      mean.share[note] = share;
    }
    means.push_back(std::move(mean));
  }
  return means;
}

HoleWork work_of(Kind kind, int degree, double cents) {
  if (degree == 0) return cents < 0.0 ? HoleWork::shorten : HoleWork::lengthen;
  if (!one_hole_gives(kind, degree)) return HoleWork::no_one_hole;
  return cents < 0.0 ? HoleWork::enlarge : HoleWork::fill;
}

/// How many times its u95 an error must be so that, of all degrees together, in 95 of 100 benches none is by chance.
double sure_factor(std::size_t degrees, double freedom) { return u95_factor(freedom, degrees) / u95_factor(freedom); }

/// Half of what the registers differ by, where that is sure among so many degrees; else 0.
double half_of_disagreement(const std::vector<std::size_t>& notes, const CommonErrors& errors, std::size_t degrees) {
  const std::size_t count = errors.cents.size();
  const double factor = u95_factor(errors.freedom, degrees);
  double half = 0.0;
  for (const std::size_t a : notes) {
    for (const std::size_t b : notes) {
      const double apart = *errors.cents[a] - *errors.cents[b];
      const double variance =
          errors.covariance[a * count + a] + errors.covariance[b * count + b] - 2.0 * errors.covariance[a * count + b];
      if (a != b && apart > factor * std::sqrt(std::max(0.0, variance))) half = std::max(half, 0.5 * apart);
    }
  }
  return half;
}

/// An estimate along that gradient, held against a baseline that is unsure by `baseline_cents` (SD) beside.
struct Unsure {
  double u95_cents = 0.0;
  double freedom = 1.0;  ///< effective degrees of it (Welch and Satterthwaite: JCGM 100:2008, G.4)
};

Unsure unsure_of(const std::vector<double>& gradient, const CommonErrors& errors, double baseline_cents,
                 double agreeing) {
  const double instruments = variance_along(gradient, errors);
  const double baseline = baseline_cents * baseline_cents;
  const double sum = instruments + baseline;
  const double most = errors.freedom;
  if (sum <= 0.0) return {0.0, most};
  const double spread = instruments * instruments / most + baseline * baseline / std::max(1.0, agreeing - 1.0);
  const double freedom = std::clamp(sum * sum / spread, 1.0, most + agreeing);
  return {u95_factor(freedom) * std::sqrt(sum), freedom};
}

/// What every degree is worked out from.
struct Bench {
  const std::vector<PlaceOfNote>& places;
  const CommonErrors& errors;
  const std::vector<DegreeMean>& means;
  Kind kind;
};

/// An error against the baseline: of the notes by their share, which speak with that length.
struct AgainstBaseline {
  CentsEstimate common;
  double freedom = 1.0;
};

AgainstBaseline against(const DegreeBaseline& baseline, const CommonErrors& errors, double cents, double length_mm,
                        std::vector<double> gradient) {
  const double cents_per_mm = slide_cents_per_mm(length_mm + baseline.slide_mm);
  for (std::size_t note = 0; note < gradient.size(); ++note)
    gradient[note] += cents_per_mm * baseline.mm_per_cent[note];
  const Unsure unsure = unsure_of(gradient, errors, cents_per_mm * baseline.scatter_mm, baseline.agreeing);
  return {{cents - slide_change_cents(length_mm, baseline.slide_mm), unsure.u95_cents}, unsure.freedom};
}

std::vector<RegisterCents> registers_of(const Bench& bench, const DegreeBaseline& baseline,
                                        const std::vector<std::size_t>& notes) {
  std::vector<RegisterCents> registers;
  for (const std::size_t note : notes) {
    const PlaceOfNote& place = bench.places[note];
    std::vector<double> alone(bench.places.size(), 0.0);
    alone[note] = 1.0;
    const auto found =
        against(baseline, bench.errors, *bench.errors.cents[note], place.effective_length_mm, std::move(alone));
    registers.push_back({place.id, place.register_number, found.common});
  }
  return registers;
}

HoleAdvice advice_for(const Bench& bench, std::size_t index, int degree, const std::vector<std::size_t>& notes) {
  const DegreeMean& mean = bench.means[index];
  const DegreeBaseline baseline = degree_baseline(bench.means, bench.errors, index);
  const auto found = against(baseline, bench.errors, mean.cents, mean.length_mm, mean.share);
  HoleAdvice advice;
  advice.degree_semitones = degree;
  advice.common = found.common;
  advice.by_register = registers_of(bench, baseline, notes);
  const double half_cents = half_of_disagreement(notes, bench.errors, bench.means.size());
  advice.registers_disagree = half_cents > 0.0;
  const double u95_cents = std::hypot(found.common.u95_cents, half_cents);
  advice.is_sure = std::abs(found.common.cents) > sure_factor(bench.means.size(), found.freedom) * u95_cents;
  if (!advice.is_sure) return advice;
  advice.work = work_of(bench.kind, degree, found.common.cents);
  if (advice.work == HoleWork::no_one_hole) return advice;
  advice.move_mm = -found.common.cents * slide_mm_per_cent(mean.length_mm);
  advice.move_u95_mm =
      std::hypot(u95_cents * slide_mm_per_cent(mean.length_mm), law_u95_share(Head{}) * *advice.move_mm);
  return advice;
}

}  // namespace

int hole_degree(int register_number, int semitones_above_lowest) {
  return semitones_above_lowest - (register_number == 2 ? octave : 0);
}

std::vector<HoleAdvice> degree_advice(const std::vector<PlaceOfNote>& places, const CommonErrors& errors, Kind kind) {
  const auto by_degree = notes_by_degree(places, errors);
  if (by_degree.size() < least_degrees) return {};
  const auto means = degree_means(places, errors, by_degree);
  const Bench bench{places, errors, means, kind};
  std::vector<HoleAdvice> degrees;
  for (std::size_t index = 0; const auto& [degree, notes] : by_degree)
    degrees.push_back(advice_for(bench, index++, degree, notes));
  return degrees;
}

std::optional<BenchAdvice> bench_advice(const std::vector<PlaceOfNote>& places,
                                        const std::vector<InstrumentCents>& instruments, Kind kind) {
  std::vector<std::vector<std::optional<double>>> rows;
  for (const InstrumentCents& instrument : instruments) {
    assert(instrument.moderate_cents.size() == places.size());
    rows.push_back(instrument.moderate_cents);
  }
  std::vector<double> lengths_mm;
  for (const PlaceOfNote& place : places) lengths_mm.push_back(place.effective_length_mm);
  const CommonErrors errors = common_errors(rows, lengths_mm);
  const auto by_degree = notes_by_degree(places, errors);
  if (errors.instruments < least_bench || by_degree.size() < least_degrees) return std::nullopt;
  const auto means = degree_means(places, errors, by_degree);
  const DegreeBaseline of_all = degree_baseline(means, errors, means.size());
  BenchAdvice advice;
  advice.instruments = errors.instruments;
  advice.unobservable_slide_mm = of_all.slide_mm;
  advice.baseline_sd_cents = of_all.scatter_cents;
  advice.degrees = degree_advice(places, errors, kind);
  return advice;
}

}  // namespace windway
