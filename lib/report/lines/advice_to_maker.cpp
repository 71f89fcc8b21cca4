// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/lines/advice_to_maker.hpp"

#include <fmt/format.h>

#include <cmath>
#include <functional>

#include "report/wording/figures.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

constexpr int most_mm_places = 2;
constexpr int most_cents_places = 1;

std::string cents_words(const CentsEstimate& common) {
  const int places = places_deserved(common.u95_cents, most_cents_places);
  return fmt::format("{} {} ({})", count_in_words(fixed(std::abs(common.cents), places), "cent"),
                     common.cents > 0 ? "sharp" : "flat", plus_minus(common.u95_cents, places));
}

/// Spells a note for people.
using Spell = std::function<std::string(const NoteId&)>;

std::string notes_of(const HoleAdvice& degree, const Spell& spell) {
  std::vector<std::string> names;
  for (const RegisterCents& each : degree.by_register) names.push_back(spell(each.id));
  return list_in_words(names);
}

std::string is_or_are(const HoleAdvice& degree) { return degree.by_register.size() == 1 ? " is " : " are "; }

/// "A5 5.3 cents flat (± 0.4) and A6 2.1 cents sharp (± 0.4)"
std::string each_register(const HoleAdvice& degree, const Spell& spell) {
  std::vector<std::string> each;
  for (const RegisterCents& one : degree.by_register) each.push_back(spell(one.id) + " " + cents_words(one.common));
  return list_in_words(each);
}

/// "0.83 mm (± 0.07)", no finer than it is sure.
std::string place_words(const HoleAdvice& degree) {
  const int places = places_deserved(*degree.move_u95_mm, most_mm_places);
  return fmt::format("{} mm ({})", fixed(std::abs(*degree.move_mm), places), plus_minus(*degree.move_u95_mm, places));
}

std::string work_words(const HoleAdvice& degree, const std::string& hole) {
  switch (degree.work) {
    case HoleWork::enlarge:
      return fmt::format(
          "the hole that opens for {} belongs {} nearer to the window; enlarging or undercutting it would "
          "raise them too",
          hole, place_words(degree));
    case HoleWork::fill:
      return fmt::format(
          "the hole that opens for {} belongs {} farther from the window; a smaller hole would lower them "
          "too",
          hole, place_words(degree));
    case HoleWork::shorten:
      return "it has no hole: the body should be " + place_words(degree) + " shorter at its end";
    case HoleWork::lengthen:
      return "it has no hole: the body should be " + place_words(degree) + " longer at its end";
    case HoleWork::none:
    case HoleWork::no_one_hole:
      break;
  }
  return "no single hole gives it";
}

/// "B5 and B6 differ (B5 9.9 cents flat (± 0.4) and B6 ...): both use one hole, ...".
std::string disagreement(const HoleAdvice& degree, const Spell& spell) {
  return notes_of(degree, spell) + " differ (" + each_register(degree, spell) +
         "): both use one hole, and its place can only share the difference out; check the voicing and the bore too.";
}

/// What to do at the hole, or the end, of an instrument that is finished.
std::string finished_work_words(const HoleAdvice& degree, const std::string& hole) {
  switch (degree.work) {
    case HoleWork::enlarge:
      return fmt::format(
          "enlarge the hole that opens for {}, or undercut it towards the window. It sounds as if it were {} too far "
          "from the window",
          hole, place_words(degree));
    case HoleWork::fill:
      return fmt::format(
          "make the hole that opens for {} smaller (wax, best at its edge towards the window). It sounds as if "
          "it were {} too near to the window",
          hole, place_words(degree));
    case HoleWork::shorten:
      return "it has no hole: it sounds as if the body were " + place_words(degree) + " too long at its end";
    case HoleWork::lengthen:
      return "it has no hole: it sounds as if the body were " + place_words(degree) +
             " too short at its end; wax inside the end lowers it";
    case HoleWork::none:
    case HoleWork::no_one_hole:
      break;
  }
  return "no single hole gives it";
}

/// "A6 is 10 cents sharper than A5", the highest register against the lowest.
std::string apart_words(const HoleAdvice& degree, const Spell& spell) {
  const RegisterCents &low = degree.by_register.front(), &high = degree.by_register.back();
  const double apart_cents = high.common.cents - low.common.cents;
  return fmt::format("{} is {} {} than {}", spell(high.id), count_in_words(fixed(std::abs(apart_cents), 0), "cent"),
                     apart_cents > 0 ? "sharper" : "flatter", spell(low.id));
}

/// What the octaves differ by stays.
std::string what_stays(const HoleAdvice& degree, const Spell& spell) {
  return degree.registers_disagree ? ". " + apart_words(degree, spell) + "; that remains, within the tolerance" : "";
}

}  // namespace

std::string degree_in_words(const HoleAdvice& degree, const BenchEntry& model) {
  const Spell spell = [&](const NoteId& note) { return spelt(model, note); };
  const std::string hole = spelt(model, degree.by_register.front().id);
  const bool has_place = degree.move_mm && degree.move_u95_mm;
  const std::string work = has_place || degree.work == HoleWork::no_one_hole ? ": " + work_words(degree, hole) : "";
  return notes_of(degree, spell) + is_or_are(degree) + cents_words(degree.common) + work + "." +
         (degree.registers_disagree ? " " + disagreement(degree, spell) : "");
}

std::string work_in_words(const WorkAdvice& work, const Instrument& instrument) {
  const HoleAdvice& degree = work.degree;
  const Spell spell = [&](const NoteId& note) { return spelt(note, instrument); };
  if (!work.one_hole_mends)
    return notes_of(degree, spell) + " differ: " + apart_words(degree, spell) +
           ", and work at one hole cannot put both right; check the voicing and the bore.";
  const std::string hole = spell(degree.by_register.front().id);
  return notes_of(degree, spell) + is_or_are(degree) + cents_words(degree.common) +
         " compared with the other notes: " + finished_work_words(degree, hole) + what_stays(degree, spell) + ".";
}

Prose work_caution() {
  return words(
      "Before work at a hole: record again, and check the window and the voicing. One take cannot tell a wrong hole "
      "from a finger that shades it. What is taken off cannot be put back, and voids warranties. Try it on one "
      "instrument, in small steps, and record again after each, with the flute warm. Dust of wood, metal and plastic "
      "and old finishes harm the lungs: use extraction and a mask, and follow your local rules.",
      2);
}

Prose advice_to_maker(const BenchAdvice& advice, const BenchEntry& model) {
  Prose sure;
  for (const HoleAdvice& degree : advice.degrees)
    if (degree.is_sure && !degree.by_register.empty()) sure += words("  " + degree_in_words(degree, model), 4);
  Prose prose = Prose(Gap{}) + words(fmt::format("What {} instruments have in common, compared with their other notes:",
                                                 advice.instruments));
  prose += sure.empty() ? words("  no note is off by more than chance.", 2) : sure;
  const Spell spell = [&](const NoteId& note) { return spelt(model, note); };
  for (const HoleAdvice& degree : advice.degrees)
    if (!degree.is_sure && degree.registers_disagree) prose += words("  " + disagreement(degree, spell), 4);
  return prose + words(
                     "  If all holes and the end are off by what a move of the head would correct, a scale cannot "
                     "show it. Measure the body with a ruler.",
                     2);
}

}  // namespace windway
