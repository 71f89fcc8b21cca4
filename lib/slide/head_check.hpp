// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "slide/slide.hpp"

namespace windway {

/// A note heard after the move, beside what it should read.
struct CheckedNote {
  NoteId id;
  CentsEstimate reads;  ///< its moderate pitch; u95 with how well the player repeats a moderate blow
  double should_cents = 0;
  double before_cents = 0;  ///< what it read before the move
  double rest_mm = 0;       ///< of the move, by this note alone; + draws out
  double mm_per_cent = 0;   ///< of drawing out, at the length it has now
  double rest_u95_mm = 0;   ///< the law's doubt and the flute's warmth included
};

/// A note that reads nearer to another: fingered otherwise, or overblown.
struct UnexpectedNote {
  NoteId id;             ///< as it was named
  int heard_midi = 0;    ///< the nearest note to what was heard, were the flute where it should be
  double off_cents = 0;  ///< from the nearer of what it read before the move and what it should read after it
};

/// Whether the head is set, and the rest of the move if it is not.
struct HeadCheck {
  std::vector<CheckedNote> notes;  ///< ascending; those of the earlier take that were heard again where expected
  std::vector<UnexpectedNote>
      unexpected;      ///< say nothing of the head; where there are no others, neither does the rest
  double rest_mm = 0;  ///< of the move, by all notes together; + draws out
  /// What the notes are unsure of, and beside it what errs alike on all of them: the law of the slide, as a share of
  /// the rest, and how warm the flute is against the earlier take.
  double rest_u95_mm = 0;
  double off_cents = 0;  ///< weighted mean of reads less should
  double off_u95_cents = 0;
  bool is_set = false;          ///< the rest is less than a player can set, or not sure; never where the notes disagree
  bool notes_disagree = false;  ///< by far more than they are unsure: another flute, or other blowing
  bool went_the_other_way = false;  ///< the pitch moved away from where it should go
  std::optional<SlideLimit> limit;  ///< stops the head on the way
};

/// How far a dB of breath bends the note: as measured, else the median of the others, else 2 cents.
double cents_per_db_of(const std::vector<NoteBreath>& notes, const NoteBreath& note);

/// `earlier` and `compromise` are of the take before the move, `later` the notes heard after it; `head` says where the
/// head stood before. Empty where no note was heard again, expected or not. `repeat_db`: how well the player repeats a
/// blow (absent: 1 dB).
std::optional<HeadCheck> check_head(const std::vector<NoteBreath>& earlier, const Compromise& compromise,
                                    const Head& head, const std::vector<NoteBreath>& later,
                                    std::optional<double> repeat_db);

}  // namespace windway
