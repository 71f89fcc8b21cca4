// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "agreement/head_places.hpp"
#include "agreement/take_notes.hpp"
#include "slide/slide.hpp"

namespace windway {

/// How one take stands to the first of those compared.
struct TakeOffset {
  int take = 0;
  CentsEstimate above_first;       ///< all its notes together, + sharper
  double head_out_mm = 0;          ///< the same told as a move of the head from the first take's place, + out
  std::optional<double> slide_mm;  ///< the move that this take by itself asks for; absent: the takes agree
  std::optional<double> slide_u95_mm;
};

/// A note that in one take differs from what the take's other notes do.
struct NoteApart {
  NoteId note;
  int take = 0;  ///< the one in which it is farthest off
  CentsEstimate off;
};

/// Whether several takes say the same. What may differ: each note by its own uncertainty, each take by how unlike a
/// flute is that its player warmed up for both (alike_sd_cents); at several places also by how surely a head is set.
struct TakeAgreement {
  bool agree = true;              ///< all but the notes that stand out
  bool notes_scatter = false;     ///< more notes stand apart than one cause for all could explain
  CentsEstimate apart;            ///< the sharpest take less the flattest, all notes together
  double note_u95_cents = 0;      ///< of one note of one take, beside what its take has in common
  double pooled_u95_cents = 0;    ///< what the takes' differences leave open of their mean
  std::vector<TakeOffset> takes;  ///< those compared
  std::vector<NoteApart> notes;   ///< that stand out
  std::vector<int> left_out;      ///< takes that share no note with these
  // Where they do not agree: each cause that by itself explains it, as far as the notes can tell.
  bool as_warmth = false;  ///< all notes alike
  bool as_head = false;    ///< the shorter the tube, the more
  bool as_breath = false;  ///< the more easily bent, the more
};

/// The takes, brought to one place, held against each other; absent where no two of them share a note. `places` where
/// the head stood at several, with the factor that brought them together.
std::optional<TakeAgreement> take_agreement(const std::vector<TakeNotes>& takes, double speed_of_sound_m_s,
                                            const std::optional<HeadPlaces>& places, const SlideFactor& factor);

}  // namespace windway
