// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "measurement.hpp"
#include "verdict/hole_advice.hpp"

namespace windway {

/// What a finished instrument must keep. What is absent is not judged.
struct JudgeLimits {
  std::optional<double>
      tolerance_cents{};              ///< of a note after the instrument's own best slide; a note may have its own
  bool notes_have_their_own = false;  ///< some note of the instrument has a limit of its own
  std::optional<double> max_spread_cents{};  ///< of a note, from soft to hard; a note may have its own
  /// The upper notes against the lower, mean of all pairs, either way; absent: twice the tolerance.
  std::optional<double> max_octave_cents{};
  std::optional<HeadRange> head_out_range_mm{};  ///< where the head must come to rest
  bool every_note = false;                       ///< each note of the instrument must have been heard
};

/// What the call said, and for the rest what the instrument's own file says.
JudgeLimits limits_for(const JudgeLimits& said, const std::optional<Instrument>& instrument);

enum class VerdictResult { pass, fail, too_close, not_measured };

enum class Criterion {
  take,        ///< the take as a whole could not be judged
  heard,       ///< a note of the instrument was not held
  note,        ///< what is left of a note after the instrument's own best slide, cents
  spread,      ///< of a note, cents
  octave,      ///< upper notes less lower notes, cents
  head_place,  ///< how far out the head comes to rest, mm
  reach_of_a4  ///< how far the instrument stays from A4 at the end of the head's travel, cents
};

/// One criterion against its limits. A value whose interval straddles a limit is too close to call.
struct Judged {
  Criterion criterion = Criterion::take;
  VerdictResult result = VerdictResult::not_measured;
  std::optional<NoteId> note{};  ///< where the criterion is one of a note
  std::optional<double> value{};
  double u95 = 0;
  std::optional<double> lower{};
  std::optional<double> upper{};
  std::string why{};  ///< where it could not be judged: a sentence
};

/// How the upper register stands against the lower one.
struct OctaveRelation {
  CentsEstimate wide;  ///< mean over pairs of one fingering's two registers; + wider than the notes' targets are apart
  int pairs = 0;
};

/// The largest step between neighbouring notes that is not as it should be, after the move.
struct UnevenStep {
  NoteId from;
  NoteId to;
  double wide_cents = 0;  ///< + wider than the notes' targets have it
};

/// A degree of one finished instrument of which a note fails, and what work at its hole would mend.
struct WorkAdvice {
  HoleAdvice degree;  ///< off the line that the instrument's other degrees keep
  /// false: its registers differ by so much that no work at one hole surely brings both within their tolerances.
  bool one_hole_mends = true;
};

struct Verdict {
  VerdictResult result = VerdictResult::not_measured;
  std::vector<Judged> judged;           ///< all that was judged, what passed too
  std::optional<double> head_rests_mm;  ///< out of fully in; absent: not known how far out it was
  std::optional<double> head_rests_u95_mm;
  std::optional<CentsEstimate> octave;  ///< as OctaveRelation::wide; absent: no pairs
  int octave_pairs = 0;
  std::optional<double> evenness_cents;  ///< RMS of what is left of the notes after the move
  std::optional<UnevenStep> worst_step;
  std::vector<WorkAdvice> work;  ///< where it fails and the place is sure, from the lowest degree
};

/// pass where the whole interval lies within the limits (inclusive), fail where all of it lies outside.
VerdictResult judged_within(double value, double u95, double lower, double upper);

/// Fail before not measured before too close to call before pass; of nothing: not measured.
VerdictResult worst_of(const std::vector<Judged>& judged);

/// Judges one instrument by its measured take. A take whose scale is doubtful, or far from the reference pitch, is
/// not measured. Notes of weight 0 (half-holed ones) are not judged.
Verdict judge(const Measurement& measurement, const JudgeLimits& limits);

/// Of a take that could not be measured.
Verdict not_measured(const std::string& why);

/// True where anything at all is to be judged.
bool asks_anything(const JudgeLimits& limits);

}  // namespace windway
