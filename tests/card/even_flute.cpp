// SPDX-License-Identifier: GPL-3.0-or-later
#include "card/even_flute.hpp"

#include "slide/flutes.hpp"

namespace windway::test {

Measurement with_move(Measurement measurement) {
  measurement.speed_of_sound_m_s = speed_of_sound_m_s(quoted_air(measurement.settings));
  measurement.compromise =
      find_compromise(measurement.breath.notes, measurement.settings.head, measurement.settings.tuning.a4_hz,
                      measurement.speed_of_sound_m_s, measurement.breath.repeat_db);
  measurement.warnings = measurement.compromise->warnings;
  return measurement;
}

Measurement even_flute(double moderate_cents, const Head& head) {
  Measurement measurement;
  measurement.settings.head = head;
  measurement.naming.instrument = builtin_instrument(Kind::whistle, 74);
  measurement.breath.notes = even_scale(74, moderate_cents);
  for (NoteBreath& note : measurement.breath.notes) note.moderate.u95_cents = 0.4;
  TakeInfo take;
  take.path = "case/scale.wav";
  measurement.takes = {take};
  return with_move(measurement);
}

}  // namespace windway::test
