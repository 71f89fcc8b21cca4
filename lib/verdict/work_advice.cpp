// SPDX-License-Identifier: GPL-3.0-or-later
#include "verdict/work_advice.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "units/coverage_factor.hpp"

namespace windway {
namespace {

/// A take knows its own u95 to about a quarter (an estimate of our own): 1 / (2 * 0.25^2) degrees of freedom (JCGM
/// 100:2008, G.4.2).
constexpr double freedom_of_a_take = 8.0;

/// A note that counts, as recorded.
struct Recorded {
  PlaceOfNote place;
  CentsEstimate moderate;
};

std::vector<Recorded> recorded_notes(const Measurement& measurement) {
  std::vector<Recorded> recorded;
  const auto& notes = measurement.breath.notes;
  for (std::size_t i = 0; i < notes.size(); ++i) {
    const double length_mm = measurement.compromise->notes[i].effective_length_mm;
    if (!(notes[i].weight > 0) || !notes[i].id.fingering.empty() || !(length_mm > 0)) continue;
    const int above_lowest = notes[i].id.midi - measurement.naming.instrument.lowest_midi;
    recorded.push_back({{notes[i].id, notes[i].register_number, above_lowest, length_mm}, notes[i].moderate});
  }
  return recorded;
}

/// Of one instrument: each note errs by itself, by its own u95.
CommonErrors own_errors(const std::vector<Recorded>& notes) {
  CommonErrors errors;
  errors.instruments = 1;
  errors.freedom = freedom_of_a_take;
  errors.covariance.assign(notes.size() * notes.size(), 0.0);
  for (std::size_t note = 0; note < notes.size(); ++note) {
    errors.cents.emplace_back(notes[note].moderate.cents);
    errors.covariance[note * notes.size() + note] =
        std::pow(notes[note].moderate.u95_cents / u95_factor(freedom_of_a_take), 2);
  }
  return errors;
}

/// How many notes of each degree its scale has, half-holed ones and further fingerings aside.
std::map<int, std::size_t> registers_by_degree(const Instrument& instrument) {
  std::map<int, std::size_t> registers;
  for (const ScaleNote& note : instrument.scale)
    if (note.weight > 0 && note.id.fingering.empty())
      ++registers[hole_degree(note.register_number, note.id.midi - instrument.lowest_midi)];
  return registers;
}

const Judged* judgement_of(const NoteId& note, const std::vector<Judged>& judged) {
  const auto found = std::ranges::find_if(
      judged, [&](const Judged& each) { return each.criterion == Criterion::note && each.note == note; });
  return found == judged.end() ? nullptr : &*found;
}

bool fails(const RegisterCents& note, const std::vector<Judged>& judged) {
  const Judged* judgement = judgement_of(note.id, judged);
  return judgement != nullptr && judgement->result == VerdictResult::fail;
}

/// A hole can bring the mean of its registers to the line; each of them stays as far from that mean as it is.
bool one_hole_mends(const HoleAdvice& degree, const std::vector<Judged>& judged) {
  return degree.is_sure && std::ranges::all_of(degree.by_register, [&](const RegisterCents& note) {
           const Judged* judgement = judgement_of(note.id, judged);
           return judgement == nullptr || std::abs(note.common.cents - degree.common.cents) <= *judgement->upper;
         });
}

/// The work that the degree is off by is the work that its failing note needs.
bool answers_a_failure(const HoleAdvice& degree, const std::vector<Judged>& judged) {
  return std::ranges::any_of(degree.by_register, [&](const RegisterCents& note) {
    return fails(note, judged) && *judgement_of(note.id, judged)->value * degree.common.cents > 0;
  });
}

bool is_worth_saying(const WorkAdvice& advice, const std::vector<Judged>& judged) {
  const HoleAdvice& degree = advice.degree;
  if (std::ranges::none_of(degree.by_register, [&](const RegisterCents& note) { return fails(note, judged); }))
    return false;
  if (!advice.one_hole_mends) return degree.registers_disagree;
  return degree.move_mm && answers_a_failure(degree, judged);
}

}  // namespace

std::vector<WorkAdvice> work_advice(const Measurement& measurement, const std::vector<Judged>& judged) {
  const Instrument& instrument = measurement.naming.instrument;
  const std::vector<Recorded> notes = recorded_notes(measurement);
  const auto registers = registers_by_degree(instrument);
  std::vector<PlaceOfNote> places;
  for (const Recorded& note : notes) places.push_back(note.place);
  std::vector<WorkAdvice> work;
  for (HoleAdvice& degree : degree_advice(places, own_errors(notes), instrument.kind)) {
    const auto has = registers.find(degree.degree_semitones);
    if (has == registers.end() || degree.by_register.size() < has->second) continue;
    const bool mends = one_hole_mends(degree, judged);
    WorkAdvice advice{std::move(degree), mends};
    if (is_worth_saying(advice, judged)) work.push_back(std::move(advice));
  }
  return work;
}

}  // namespace windway
