// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/player/check_report.hpp"

#include <cmath>

#include "report/wording/figures.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/spelling.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

constexpr double coarse_mm = 0.35;  // about two cents of a whistle in D: less goes without a word

std::string name_of(const CheckedNote& note, const Measurement& earlier) { return spelt_for_people(note.id, earlier); }

std::string cents_in_words(double cents, double u95_cents) {
  return signed_fixed(cents, places_deserved(u95_cents, 1));
}

/// "D5 reads +4.1 cents (± 0.8) and should read +0.9", or of several notes "The scale is 3.2 cents (± 0.4) sharper
/// ...".
std::string finding(const HeadCheck& check, const Measurement& earlier) {
  if (check.notes.size() == 1) {
    const CheckedNote& note = check.notes.front();
    const int places = places_deserved(note.reads.u95_cents, 1);
    return name_of(note, earlier) + " reads " +
           count_in_words(cents_in_words(note.reads.cents, note.reads.u95_cents), "cent") + " (" +
           plus_minus(note.reads.u95_cents, places) + ") and should read " +
           cents_in_words(note.should_cents, note.reads.u95_cents);
  }
  const int places = places_deserved(check.off_u95_cents, 1);
  if (fixed(std::abs(check.off_cents), places) == fixed(0, places)) return "The notes are where they should be";
  return "The notes are " + size_in_words({check.off_cents, check.off_u95_cents}) +
         (check.off_cents > 0 ? " sharper" : " flatter") + " than they should be";
}

bool goes_on(const HeadCheck& check, const Measurement& earlier) {
  return check.rest_mm * earlier.compromise->slide_mm > 0;
}

std::string move_in_words(const HeadCheck& check, const Measurement& earlier) {
  const int places = places_deserved(check.rest_u95_mm, 1);
  const std::string millimetres =
      fixed(std::abs(check.rest_mm), places) + " mm (" + plus_minus(check.rest_u95_mm, places) + ")";
  const std::string direction = check.rest_mm > 0 ? "out " : "in ";
  return (check.rest_mm > 0 ? "draw the head " : "push the head ") +
         (goes_on(check, earlier) ? direction + "another " : "back " + direction) + millimetres;
}

std::string limit_in_words(const HeadCheck& check, const Measurement& earlier) {
  if (!check.limit) return "";
  const bool fully_in = check.limit == SlideLimit::fully_in;
  if (std::abs(check.rest_mm) < finest_move_mm) {
    return fully_in ? ", but the head is fully in and goes no further: blow a little harder"
                    : ", but the head is at the end of its travel: blow a little softer";
  }
  return ": " + move_in_words(check, earlier) + (fully_in ? ", until it is fully in" : ", to the end of its travel") +
         "; the breath must do the rest";
}

std::string answer(const HeadCheck& check, const Measurement& earlier) {
  if (check.is_set) return "Set: " + finding(check, earlier) + ".";
  const std::string what = finding(check, earlier);
  if (check.notes_disagree) return "These notes cannot tell whether the head is set. " + what + ".";
  if (check.limit) return what + limit_in_words(check, earlier) + ".";
  return what + ": " + move_in_words(check, earlier) + ".";
}

/// "F5 was heard in place of F#5 (84 cents lower)"
std::string unexpected_in_words(const HeadCheck& check, const Measurement& earlier) {
  std::vector<std::string> words;
  for (const UnexpectedNote& note : check.unexpected)
    words.push_back(spelt_for_people(note.heard_midi, earlier) + " was heard in place of " +
                    spelt_for_people(note.id, earlier) + " (" +
                    count_in_words(fixed(std::abs(note.off_cents), 0), "cent") +
                    (note.off_cents > 0 ? " higher)" : " lower)"));
  return list_in_words(words);
}

Prose note_table(const HeadCheck& check, const Measurement& earlier) {
  std::vector<std::vector<std::string>> rows;
  for (const CheckedNote& note : check.notes) {
    const int places = places_deserved(note.rest_u95_mm, 2);
    rows.push_back({name_of(note, earlier), cents_in_words(note.before_cents, note.reads.u95_cents),
                    cents_in_words(note.reads.cents, note.reads.u95_cents),
                    cents_in_words(note.should_cents, note.reads.u95_cents), signed_fixed(note.rest_mm, places),
                    plus_minus(note.rest_u95_mm, places)});
  }
  return Prose(
             Grid{{{"note"}, {"before", true}, {"reads", true}, {"should", true}, {"rest", true}, {"", true}}, rows}) +
         words("  before, reads, should: cents from the target, at moderate breath", 2) +
         words("  rest: mm still to move by this note alone, + out, - in", 2);
}

}  // namespace

std::string why_no_check(const HeadCheck& check, const Measurement& earlier) {
  return unexpected_in_words(check, earlier) +
         "; finger it as in the earlier take, and check that the head is about where it was then";
}

Prose check_prose(const HeadCheck& check, const Measurement& earlier) {
  Prose prose = words(answer(check, earlier), 2);
  if (!check.unexpected.empty()) prose += words("Left out: " + unexpected_in_words(check, earlier) + ".", 2);
  if (check.went_the_other_way) {
    prose += words(
        "Since the earlier take the pitch has gone the wrong way: was the head moved the wrong way, or has the flute "
        "got warmer or colder?",
        2);
  }
  if (check.notes_disagree) {
    prose += words(
        "The notes disagree by far more than their ±: is it the same flute, and blown as in the earlier take? "
        "If so, record the whole scale and measure that.",
        2);
  }
  if (check.is_set && check.rest_u95_mm > coarse_mm) {
    prose += words("This shows the head's place only to " + plus_minus(check.rest_u95_mm, 1) +
                       " mm. Several notes, each blown moderately a few times, show it better.",
                   2);
  }
  if (check.notes.size() == 1 && !check.is_set) {
    prose += words("Blow it moderately, as in the earlier take: blown harder it reads sharper.", 2);
  }
  return prose + Prose(Gap{}) + note_table(check, earlier);
}

}  // namespace windway
