// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "manifest/subject.hpp"
#include "takes/counting.hpp"
#include "verdict/verdict.hpp"

namespace windway {

/// One note of an instrument as the bench's statistics need it. Cents are deviations from the target, + sharp.
struct EntryNote {
  NoteId id{};
  int register_number = 1;
  double weight = 1.0;
  CentsEstimate moderate;              ///< as recorded
  std::optional<CentsEstimate> moved;  ///< after the instrument's own best slide
  std::optional<CentsEstimate> spread;
  std::optional<double> effective_length_mm;
};

/// One criterion as it was judged, with the sentence for what was not passed.
struct EntryJudged {
  Judged judged;
  std::string message;
};

/// What work would mend one of its holes, or that none would.
struct EntryWork {
  bool one_hole_mends = true;
  std::string message;
};

/// One take of a batch as its line of the results says it: all that summaries, tables and test reports need.
struct BenchEntry {
  std::string path;
  std::string sha256;  ///< empty: the file could not be read
  Subject subject;
  std::optional<std::string> recorded_at;  ///< as the subject says, else the sound file
  Counting counting;
  std::optional<double> bore_temp_c;  ///< as the manifest said it
  std::string settings_key;
  std::string error;                    ///< empty: it was measured
  std::optional<VerdictResult> result;  ///< absent: nothing was asked
  std::vector<EntryJudged> judged;
  std::vector<EntryWork> work;
  std::vector<EntryNote> notes;
  Kind kind = Kind::whistle;
  std::optional<int> lowest_midi;       ///< absent: not measured
  double stretch_cents_per_octave = 0;  ///< as the instrument's file means its octaves
  std::vector<NoteTarget> targets;      ///< its notes that are meant off the temperament by themselves
  NoteNames note_names = NoteNames::english;
  double a4_hz = 440;
  std::optional<double> air_c;        ///< in the bore, as the pitches are quoted
  bool is_quoted = false;             ///< at a temperature other than that of the recording, or the same by intent
  std::optional<double> head_out_mm;  ///< while recording; absent: not known
  std::optional<double> travel_mm;    ///< how far out the head can go at most; absent: not known
  std::optional<double> slide_mm;
  double slide_u95_mm = 0;  ///< the law's own doubt included
  std::optional<double> head_rests_mm;
  double head_rests_u95_mm = 0;
  bool head_moves = true;
  std::optional<SlideLimit> limit;  ///< of the head's way that its best place lies beyond
  std::optional<double> end_a4_hz;  ///< that it reaches at that end
  double shift_u95_cents = 0;       ///< of the change of pitch that the move makes
  std::optional<double> home_a4_hz;
  std::optional<CentsEstimate> octave;
  std::optional<double> evenness_cents;
  std::vector<WarningCode> warnings;
};

/// Its subject, with the sound file's date where the manifest gives none.
inline Subject dated_subject(const BenchEntry& entry) {
  Subject subject = entry.subject;
  subject.recorded_at = entry.recorded_at;
  return subject;
}

/// What the bench calls it: its serial, else its file.
inline const std::string& name_of(const BenchEntry& entry) {
  return entry.subject.serial ? *entry.subject.serial : entry.path;
}

/// A note's name for people, as the instrument's lowest note spells it.
std::string spelt(const BenchEntry& entry, const NoteId& note);

}  // namespace windway
