// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

#include "instrument/temperament.hpp"

namespace windway {

/// One note's pitch.
struct NotePitch {
  double hz = 0;
  double u95_cents = 0;
};

/// A note as named, and what it says of the reference pitch.
struct NamedPitch {
  int midi = 0;
  double cents = 0;  ///< above its target at the reference pitch that was guessed
};

/// Names the pitches about `guess`: one offset for all of them, at most half a semitone, so that a partner 40 cents
/// sharp is not called by two sets of names.
std::vector<NamedPitch> named_pitches(const std::vector<NotePitch>& pitches, const Tuning& guess);

/// A mean over the notes of one instrument.
struct MeanDeviation {
  double cents = 0;
  double u95_cents = 0;
  double scatter_cents = 0;      ///< standard deviation between the keys beyond their own uncertainties
  std::vector<bool> is_far_off;  ///< by note, as given: not counted, so far it lies off the others
};

/// The mean of the notes' deviations, each key once however often it was played; weighted by each key's uncertainty and
/// the scatter between the keys (random effects; R. C. Paule and J. Mandel, J. Res. NBS 87 (1982) 377), with the
/// uncertainty by Student's t (G. Knapp and J. Hartung, Stat. Med. 22 (2003) 2693). Of four keys or more, those that
/// lie much further off the middle than the others do are left out. `notes` must not be empty.
MeanDeviation mean_deviation(const std::vector<NamedPitch>& notes, const std::vector<NotePitch>& pitches);

}  // namespace windway
