// SPDX-License-Identifier: GPL-3.0-or-later
#include "breath/blows/blows.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include "breath/blows/note_list.hpp"
#include "breath/blows/pitch_curve.hpp"
#include "breath/blows/strength_count.hpp"

namespace windway {
namespace {

constexpr double sure_enough = 0.8;  ///< a blow less probable than this is left out rather than averaged in

constexpr double softest_noise_db = -160.0;  ///< of a tone without any noise, dB per hertz: beneath any converter
constexpr double dullest_colour_db = -60.0;  ///< of a tone without harmonics

Blows nothing_judged(const Naming& naming) {
  Blows blows;
  blows.blow.resize(naming.holds.size());
  blows.strength.resize(naming.holds.size());
  for (const NamedHold& h : naming.holds) blows.used.push_back(h.in_scale);
  return blows;
}

/// Scatter and slopes: rough figures of makers' flutes and players (from memory); the take's own scatter replaces
/// repeat_sd where it is larger.
std::vector<Cue> empty_cues() {
  const Cue level_db{{}, 0.3, 0.25}, noise_db{{}, 0.5, 0.3}, colour_db{{}, 0.5, 0.6}, pitch_cents{{}, 0.5, 0.6};
  return {level_db, noise_db, colour_db, pitch_cents};
}

/// Which part of its note's holds each hold belongs to, in order of time: a note blown very often is judged in parts of
/// nearly equal size, since the ways to label many holds grow out of hand.
std::vector<int> part_of(const Naming& naming, const std::vector<std::size_t>& judged) {
  constexpr std::size_t most_holds = 12;  // as many ways to label them as are worth the time
  std::map<std::pair<int, NoteId>, std::size_t> count, seen;
  const auto key = [&](std::size_t h) { return std::pair(naming.holds[h].hold.take, naming.holds[h].note); };
  for (const std::size_t h : judged) ++count[key(h)];
  std::vector<int> part;
  for (const std::size_t h : judged) {
    const std::size_t holds = count[key(h)], parts = (holds + most_holds - 1) / most_holds;
    part.push_back(static_cast<int>(seen[key(h)]++ * parts / holds));
  }
  return part;
}

StrengthProblem strength_problem(const Naming& naming, const std::vector<std::size_t>& judged) {
  StrengthProblem problem;
  problem.cues = empty_cues();
  const std::vector<int> part = part_of(naming, judged);
  std::map<std::tuple<int, NoteId, int>, int> group;
  for (std::size_t i = 0; i < judged.size(); ++i) {
    const NamedHold& h = naming.holds[judged[i]];
    // Levels of different takes are not compared, so a note has an offset of its own in each.
    const std::tuple key(h.hold.take, h.note, part[i]);
    problem.group.push_back(group.try_emplace(key, static_cast<int>(group.size())).first->second);
    problem.follows.push_back(i > 0 && naming.holds[judged[i - 1]].hold.take == h.hold.take);
    problem.cues[level_at].value.push_back(h.hold.level_db);
    problem.cues[noise_at].value.push_back(std::max(h.hold.noise_db, softest_noise_db));
    problem.cues[colour_at].value.push_back(std::max(h.hold.colour_db, dullest_colour_db));
    problem.cues[pitch_at].value.push_back(deviation_as_brought_cents(h));
  }
  return problem;
}

std::vector<std::size_t> in_order_of_time(const Naming& naming, const std::vector<bool>& is_swell) {
  std::vector<std::size_t> judged;
  for (std::size_t h = 0; h < naming.holds.size(); ++h)
    if (naming.holds[h].in_scale && !is_swell[h]) judged.push_back(h);
  std::stable_sort(judged.begin(), judged.end(), [&](std::size_t a, std::size_t b) {
    const Hold &x = naming.holds[a].hold, &y = naming.holds[b].hold;
    return std::pair(x.take, x.start_s) < std::pair(y.take, y.start_s);
  });
  return judged;
}

std::optional<Blow> blow_of_strength(int strength, int strengths) {
  if (strength == 0) return Blow::soft;
  if (strength == strengths - 1) return Blow::hard;
  const auto [lower, upper] = middle_strengths(strengths);
  return strength == lower || strength == upper ? std::optional(Blow::moderate) : std::nullopt;
}

void warn_unsure(const Naming& naming, Blows& blows) {
  std::vector<NoteId> unsure;
  for (std::size_t h = 0; h < naming.holds.size(); ++h)
    if (naming.holds[h].in_scale && !blows.used[h]) unsure.push_back(naming.holds[h].note);
  if (unsure.empty()) return;
  blows.warnings.push_back(
      {WarningCode::blow_not_sure, "a hold of " + list_notes(unsure, naming.instrument) +
                                       " was left out, because windway cannot tell how hard it was blown. Blow every"
                                       " note equally often, or say the order with --blown."});
}

Warning blow_count(const std::vector<NoteId>& odd, std::size_t named, const Instrument& instrument) {
  return {
      WarningCode::blow_count,
      "--blown names " + std::to_string(named) + (named == 1 ? " blow" : " blows") + ", but the number of blows of " +
          list_notes(odd, instrument) +
          " is not a multiple of that. Surplus blows were left out. A note with too few blows has no known strength. "
          "Record these notes again, or leave out --blown."};
}

/// A note of doubtful blows is better than none.
void keep_notes_in_use(const Naming& naming, const std::vector<std::size_t>& judged, Blows& blows) {
  std::set<NoteId> in_use;
  for (std::size_t h : judged)
    if (blows.used[h]) in_use.insert(naming.holds[h].note);
  for (std::size_t h : judged)
    if (!in_use.contains(naming.holds[h].note)) blows.used[h] = true;
}

}  // namespace

bool says_anything(const BlowHint& hint) {
  return !hint.order.empty() ||
         std::ranges::any_of(hint.blow_of_take, [](const auto& blow) { return blow.has_value(); });
}

Blows blows_as_said(const Naming& naming, const BlowHint& hint) {
  Blows blows = nothing_judged(naming);
  std::map<std::pair<int, NoteId>, std::vector<std::size_t>> by_note;
  for (std::size_t h : in_order_of_time(naming, std::vector<bool>(naming.holds.size(), false))) {
    const auto take = static_cast<std::size_t>(naming.holds[h].hold.take);
    if (take < hint.blow_of_take.size() && hint.blow_of_take[take])
      blows.blow[h] = hint.blow_of_take[take];
    else if (!hint.order.empty())
      by_note[{naming.holds[h].hold.take, naming.holds[h].note}].push_back(h);
  }
  std::vector<NoteId> odd;
  for (const auto& [note, holds] : by_note) {
    const std::size_t whole = holds.size() - holds.size() % hint.order.size();
    for (std::size_t i = 0; i < holds.size(); ++i) {
      if (i < whole) blows.blow[holds[i]] = hint.order[i % hint.order.size()];
      // Where no round is whole the note stays, its blows unknown. A response cannot be fitted to a short curve.
      if ((whole > 0 && i >= whole) ||
          (blows.blow[holds[i]] == Blow::swell && !is_long_enough_for_a_swell(naming.holds[holds[i]])))
        blows.used[holds[i]] = false;
    }
    if (whole < holds.size()) odd.push_back(note.second);
  }
  if (!odd.empty()) blows.warnings.push_back(blow_count(odd, hint.order.size(), naming.instrument));
  for (std::size_t h = 0; h < blows.blow.size(); ++h)
    if (blows.blow[h] && *blows.blow[h] != Blow::swell) blows.strength[h] = static_cast<int>(*blows.blow[h]);
  blows.strengths = 3;
  return blows;
}

Blows judge_blows(const Naming& naming, const std::vector<bool>& is_swell) {
  Blows blows = nothing_judged(naming);
  const std::vector<std::size_t> judged = in_order_of_time(naming, is_swell);
  for (std::size_t h = 0; h < naming.holds.size(); ++h)
    if (is_swell[h] && naming.holds[h].in_scale) blows.blow[h] = Blow::swell;
  if (judged.empty()) return blows;
  const StrengthFit fit = count_strengths(strength_problem(naming, judged));
  blows.strengths = fit.strengths;
  if (fit.strengths == 1) return blows;
  for (std::size_t i = 0; i < judged.size(); ++i) {
    blows.used[judged[i]] = fit.certainty[i] >= sure_enough;
    if (!blows.used[judged[i]]) continue;
    blows.strength[judged[i]] = fit.label[i];
    blows.blow[judged[i]] = blow_of_strength(fit.label[i], fit.strengths);
  }
  keep_notes_in_use(naming, judged, blows);
  warn_unsure(naming, blows);
  return blows;
}

LabelledHolds labelled_holds(const Naming& naming, const Blows& blows) {
  LabelledHolds labelled;
  std::map<std::pair<NoteId, int>, int> number;
  for (std::size_t h = 0; h < naming.holds.size(); ++h) {
    if (!blows.used[h] || !blows.strength[h]) continue;
    labelled.hold.push_back(h);
    labelled.label.push_back(*blows.strength[h]);
    const std::pair key(naming.holds[h].note, naming.holds[h].hold.take);
    labelled.group.push_back(number.try_emplace(key, static_cast<int>(number.size())).first->second);
  }
  labelled.strengths = blows.strengths;
  return labelled;
}

}  // namespace windway
