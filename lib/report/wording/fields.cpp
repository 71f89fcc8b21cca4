// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/wording/fields.hpp"

#include <cmath>

namespace windway {

const char* field_of(NoteNames names) { return names == NoteNames::german ? "german" : "english"; }

const char* field_of(Blow blow) {
  switch (blow) {
    case Blow::soft:
      return "soft";
    case Blow::moderate:
      return "moderate";
    case Blow::hard:
      return "hard";
    case Blow::swell:
      break;
  }
  return "swell";
}

const char* field_of(BreathAdvice advice) {
  switch (advice) {
    case BreathAdvice::as_it_is:
      return "as_it_is";
    case BreathAdvice::softer:
      return "softer";
    case BreathAdvice::harder:
      return "harder";
    case BreathAdvice::out_of_reach:
      break;
  }
  return "out_of_reach";
}

const char* field_of(SlideLimit limit) {
  switch (limit) {
    case SlideLimit::fully_in:
      return "fully_in";
    case SlideLimit::travel:
      return "travel";
    case SlideLimit::fixed_head:
      break;
  }
  return "fixed_head";
}

const char* field_of(VerdictResult result) {
  switch (result) {
    case VerdictResult::pass:
      return "pass";
    case VerdictResult::fail:
      return "fail";
    case VerdictResult::too_close:
      return "too_close";
    case VerdictResult::not_measured:
      break;
  }
  return "not_measured";
}

const char* field_of(Criterion criterion) {
  switch (criterion) {
    case Criterion::take:
      return "take";
    case Criterion::heard:
      return "heard";
    case Criterion::note:
      return "note";
    case Criterion::spread:
      return "spread";
    case Criterion::octave:
      return "octave";
    case Criterion::head_place:
      return "head_place";
    case Criterion::reach_of_a4:
      break;
  }
  return "reach_of_a4";
}

double rounded(double value) {
  constexpr double steps_per_unit = 1e6;
  return std::round(value * steps_per_unit) / steps_per_unit + 0.0;  // + 0.0 takes the sign off a zero
}

}  // namespace windway
