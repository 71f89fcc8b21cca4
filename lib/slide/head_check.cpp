// SPDX-License-Identifier: GPL-3.0-or-later
#include "slide/head_check.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

#include "slide/law_of_slide.hpp"
#include "slide/warming.hpp"
#include "units/order_statistics.hpp"

namespace windway {
namespace {

constexpr double notes_disagree_from = 3.0;  // times what they are unsure: no player blows so differently
constexpr double usual_cents_per_db = 2.0;   // an estimate of our own, where no note's answer is known

/// What the note reads: where it was not blown soft and hard too, nobody knows that the blow was quite moderate.
CentsEstimate reading(const NoteBreath& later, double cents_per_db, double repeat_db) {
  if (later.spread) return later.moderate;
  const double breath_u95_cents =
      normal_u95_factor * cents_per_db * repeat_db / std::sqrt(std::max(1.0, static_cast<double>(later.holds)));
  return {later.moderate.cents, std::hypot(later.moderate.u95_cents, breath_u95_cents)};
}

CheckedNote checked_note(const NoteBreath& before, const MovedNote& moved, const CentsEstimate& reads,
                         const Head& head) {
  const double factor = head.factor ? head.factor->factor : 1.0;
  // As long as it reads now: that is where the rest of the move begins.
  const double length_mm = moved.effective_length_mm +
                           slide_for_change_mm(moved.effective_length_mm, reads.cents - before.moderate.cents, factor);
  CheckedNote note{before.id, reads, moved.cents, before.moderate.cents, 0, 0, 0};
  note.rest_mm = slide_for_change_mm(length_mm, moved.cents - reads.cents, factor);
  // What it should read is as sure as its place among the others was measured.
  const double u95_cents = std::hypot(reads.u95_cents, before.moderate.u95_cents);
  note.mm_per_cent = slide_mm_per_cent(length_mm, factor);
  note.rest_u95_mm = u95_cents * note.mm_per_cent;
  return note;
}

/// Mean of `value` weighted by the squares of 1 / `u95`, and its u95. No note is surer than a hundredth of its unit.
template <typename Value, typename U95>
std::pair<double, double> weighted_mean(const std::vector<CheckedNote>& notes, Value value, U95 u95) {
  double sum = 0, weights = 0;
  for (const CheckedNote& note : notes) {
    const double weight = 1.0 / std::pow(std::max(u95(note), 0.01), 2);
    sum += weight * value(note);
    weights += weight;
  }
  return {sum / weights, 1.0 / std::sqrt(weights)};
}

/// How far the notes' rests scatter beyond what they are unsure: 1 where they agree (R. T. Birge, Phys. Rev. 40 (1932)
/// 207, from memory).
double excess_scatter(const std::vector<CheckedNote>& notes, double mean_mm) {
  if (notes.size() < 2) return 1.0;
  double squares = 0;
  for (const CheckedNote& note : notes)
    squares += std::pow(normal_u95_factor * (note.rest_mm - mean_mm) / std::max(note.rest_u95_mm, 0.01), 2);
  return std::max(1.0, std::sqrt(squares / static_cast<double>(notes.size() - 1)));
}

/// The u95 of a rest with what no number of notes makes surer: the law, and a flute not quite as warm as before.
double with_common_doubts(double rest_u95_mm, double rest_mm, double mm_per_cent, const Head& head) {
  return std::hypot(rest_u95_mm, law_u95_share(head) * rest_mm, normal_u95_factor * alike_sd_cents * mm_per_cent);
}

/// The rest by all notes, weighted by what each is unsure of by itself; then every u95 with the common doubts.
void pool(HeadCheck& check, const Head& head) {
  const auto rest_u95_mm = [](const CheckedNote& n) { return n.rest_u95_mm; };
  std::tie(check.rest_mm, check.rest_u95_mm) = weighted_mean(
      check.notes, [](const CheckedNote& n) { return n.rest_mm; }, rest_u95_mm);
  const double mm_per_cent = weighted_mean(
                                 check.notes, [](const CheckedNote& n) { return n.mm_per_cent; }, rest_u95_mm)
                                 .first;
  std::tie(check.off_cents, check.off_u95_cents) = weighted_mean(
      check.notes, [](const CheckedNote& n) { return n.reads.cents - n.should_cents; },
      [](const CheckedNote& n) { return n.reads.u95_cents; });
  const double excess = excess_scatter(check.notes, check.rest_mm);
  check.notes_disagree = excess > notes_disagree_from;
  check.off_u95_cents *= excess;
  check.rest_u95_mm = with_common_doubts(excess * check.rest_u95_mm, check.rest_mm, mm_per_cent, head);
  for (CheckedNote& note : check.notes)
    note.rest_u95_mm = with_common_doubts(note.rest_u95_mm, note.rest_mm, note.mm_per_cent, head);
}

/// Did the pitch surely go away from where the move was to bring it?
bool went_away(const std::vector<CheckedNote>& notes, double u95_cents) {
  double asked = 0, went = 0;
  for (const CheckedNote& note : notes) {
    asked += (note.should_cents - note.before_cents) / static_cast<double>(notes.size());
    went += (note.reads.cents - note.before_cents) / static_cast<double>(notes.size());
  }
  return asked * went < 0 && std::abs(went) > u95_cents && std::abs(asked) > u95_cents;
}

/// How far a note is from both what it read before the move and what it should read after it; 0 between them.
double off_expected_cents(double reads_cents, double before_cents, double should_cents) {
  const auto [least, most] = std::minmax(before_cents, should_cents);
  return reads_cents - std::clamp(reads_cents, least, most);
}

/// The rest of the move as far as the head can go, and what stops it.
void keep_within_travel(HeadCheck& check, const Head& head, const Compromise& compromise) {
  const bool asks_beyond = compromise.limit && (compromise.limit == SlideLimit::fully_in) == (check.rest_mm < 0);
  if (asks_beyond) check.limit = compromise.limit;
  if (!head.out_mm) return;
  // Where the head stands now: where it should, but for the rest.
  const double out_mm = *head.out_mm + compromise.slide_mm - check.rest_mm;
  if (out_mm + check.rest_mm < 0) {
    check.rest_mm = -std::max(0.0, out_mm);
    check.limit = SlideLimit::fully_in;
  } else if (head.travel_mm && out_mm + check.rest_mm > *head.travel_mm) {
    check.rest_mm = std::max(0.0, *head.travel_mm - out_mm);
    check.limit = SlideLimit::travel;
  }
}

}  // namespace

double cents_per_db_of(const std::vector<NoteBreath>& notes, const NoteBreath& note) {
  if (note.cents_per_db) return std::abs(note.cents_per_db->cents);
  std::vector<double> known;
  for (const NoteBreath& other : notes)
    if (other.cents_per_db) known.push_back(std::abs(other.cents_per_db->cents));
  return median_of(std::move(known)).value_or(usual_cents_per_db);
}

std::optional<HeadCheck> check_head(const std::vector<NoteBreath>& earlier, const Compromise& compromise,
                                    const Head& head, const std::vector<NoteBreath>& later,
                                    std::optional<double> repeat_db) {
  HeadCheck check;
  for (std::size_t i = 0; i < earlier.size(); ++i) {
    const auto again = std::ranges::find(later, earlier[i].id, &NoteBreath::id);
    if (again == later.end()) continue;
    const double off_cents =
        off_expected_cents(again->moderate.cents, earlier[i].moderate.cents, compromise.notes[i].cents);
    if (std::abs(off_cents) > half_semitone_cents) {
      const int semitones = static_cast<int>(std::lround(off_cents / 100.0));
      check.unexpected.push_back({earlier[i].id, earlier[i].id.midi + semitones, off_cents});
      continue;
    }
    const CentsEstimate reads =
        reading(*again, cents_per_db_of(earlier, earlier[i]), repeat_db.value_or(usual_repeat_db));
    check.notes.push_back(checked_note(earlier[i], compromise.notes[i], reads, head));
  }
  if (check.notes.empty()) return check.unexpected.empty() ? std::nullopt : std::optional(check);
  pool(check, head);
  check.is_set = !check.notes_disagree && std::abs(check.rest_mm) <= std::max(finest_move_mm, check.rest_u95_mm);
  check.went_the_other_way = !check.is_set && went_away(check.notes, check.off_u95_cents);
  if (!check.is_set) keep_within_travel(check, head, compromise);
  return check;
}

}  // namespace windway
