// SPDX-License-Identifier: GPL-3.0-or-later
#include "rival_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace windway {

namespace {

/// "draw the head out 1.2 mm (± 0.3)"
std::string move_in_words(const Compromise& compromise) {
  const double mm = compromise.slide_mm, u95_mm = slide_u95_mm(compromise);
  if (std::abs(mm) < finest_move_mm) return fmt::format("leave the head where it is (± {:.1f} mm)", u95_mm);
  return fmt::format("{} {:.1f} mm (± {:.1f})", mm > 0 ? "draw the head out" : "push the head in", std::abs(mm),
                     u95_mm);
}

/// What to say so that the one is meant and not the other.
std::string said(const Instrument& instrument, const Instrument& other) {
  const std::string lowest = "--lowest " + spelt(instrument.lowest_midi, instrument);
  if (instrument.lowest_midi == other.lowest_midi) return "--kind " + kind_name(instrument.kind);
  return instrument.kind == other.kind ? lowest : "--kind " + kind_name(instrument.kind) + " " + lowest;
}

}  // namespace

std::optional<Warning> rival_warning(const Measurement& found, const Measurement& rival) {
  if (!found.compromise || !rival.compromise) return std::nullopt;
  const double apart_mm = std::abs(found.compromise->slide_mm - rival.compromise->slide_mm);
  const double u95_mm = std::max(slide_u95_mm(*found.compromise), slide_u95_mm(*rival.compromise));
  if (apart_mm <= finest_move_mm + u95_mm) return std::nullopt;
  const Instrument &one = found.naming.instrument, &other = rival.naming.instrument;
  return Warning{WarningCode::instrument_ambiguous,
                 fmt::format("which flute is it? What was played fits two about as well. If it is a {}, {}. If it is a "
                             "{}, {}. Run again with {} or with {}.",
                             described(one), move_in_words(*found.compromise), described(other),
                             move_in_words(*rival.compromise), said(one, other), said(other, one))};
}

}  // namespace windway
