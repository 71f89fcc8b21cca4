// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "partner/stiff_string.hpp"
#include "recording/recording.hpp"
#include "scale/naming.hpp"
#include "warning.hpp"

namespace windway {

/// What is known of the partner's tuning and of the flute that is to go with it.
struct PartnerSettings {
  /// Where A4 is looked for, within half a semitone, and how the partner is tempered.
  Tuning tuning;
  /// Tells the range in which the partner's notes count; without a lowest note with its octave, F4 to D7.
  InstrumentHint instrument;
};

/// One note that the partner sounded.
struct PartnerNote {
  int midi = 0;             ///< as named at the reference pitch that was found
  double frequency_hz = 0;  ///< of its first partial, as all of them tell it
  double u95_cents = 0;
  double deviation_cents = 0;                    ///< from its target at the A4 that was found
  std::optional<Inharmonicity> inharmonicity{};  ///< where it is more than its u95
  int partials = 0;                              ///< that its pitch was found from
  std::optional<double> beat_hz{};  ///< its reeds or strings stand that far apart; the pitch is halfway between
  double start_s = 0;
  double duration_s = 0;
  bool counts = false;  ///< in the A4: in the range, and not far off the others
};

/// The reference pitch that a partner of fixed pitch plays at.
struct Partner {
  TakeInfo take;
  double a4_hz = 0;
  double a4_u95_hz = 0;
  Temperament temperament{};  ///< its key settled
  int lowest_midi = 0;        ///< range in which notes count
  int highest_midi = 0;
  NoteNames note_names = NoteNames::english;
  double scatter_cents = 0;        ///< standard deviation between the notes that their own uncertainties do not explain
  std::vector<PartnerNote> notes;  ///< in order of their starts, never empty
  Warnings warnings;
};

/// Measures which A4 the notes of `path` imply in the range of the flute: piano, organ, accordion, pipes, another
/// flute; notes one after another or chords. Only the first ten minutes are used. Throws Error (kind recording) where
/// no note of fixed pitch is in it, (kind usage) where the temperament needs a key note and none is told.
Partner find_partner(const std::string& path, const PartnerSettings& settings);

/// What other commands take from a partner's recording.
struct PartnerPitch {
  double a4_hz = 0;
  double a4_u95_hz = 0;
  Warnings warnings;  ///< on the partner's recording
};
PartnerPitch partner_pitch(const std::string& path, const PartnerSettings& settings);

}  // namespace windway
