// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "measurement.hpp"

namespace windway::batch_tests {

/// One note after the move: how far off, and how surely that is known.
struct MadeUpNote {
  int midi = 74;
  double cents = 0;
  double u95_cents = 0.5;
  int register_number = 1;
};

/// A whistle in D whose scale is exactly these notes, all heard; its head was 5 mm out and belongs there.
inline Measurement made_up_measurement(const std::vector<MadeUpNote>& notes) {
  Measurement measurement;
  measurement.settings.head.out_mm = 5.0;
  measurement.naming.instrument.lowest_midi = 74;
  measurement.compromise.emplace();
  measurement.compromise->slide_u95_mm = 0.3;
  measurement.compromise->slide_model_u95_mm = 0.4;  // both together 0.5
  for (const MadeUpNote& each : notes) {
    measurement.naming.instrument.scale.push_back({{each.midi}, each.register_number});
    NoteBreath& note = measurement.breath.notes.emplace_back();
    note.id.midi = each.midi;
    note.register_number = each.register_number;
    note.moderate = {each.cents, each.u95_cents};
    MovedNote& moved = measurement.compromise->notes.emplace_back();
    moved.cents = each.cents;
    moved.u95_cents = each.u95_cents;
  }
  return measurement;
}

}  // namespace windway::batch_tests
