// SPDX-License-Identifier: GPL-3.0-or-later
#include "agreement/invented_takes.hpp"

#include "slide/law_of_slide.hpp"
#include "support/flute_model.hpp"
#include "support/random.hpp"

namespace windway::test {

TakeNotes invented_take(int take, const OffOfNote& off, double reading_sd_cents) {
  synthesis::Random random(static_cast<std::uint64_t>(take) + 77);
  TakeNotes out;
  out.take = take;
  for (const int midi : {74, 76, 78, 79, 81, 83, 85, 86, 88, 90}) {
    NoteBreath note;
    note.id = {midi};
    note.register_number = midi < 86 ? 1 : 2;
    note.target_hz = 440.0 * std::exp2((midi - 69) / 12.0);
    const std::size_t at = out.notes.size();
    note.spread = CentsEstimate{10.0 + 12.0 * static_cast<double>((at * 3) % 4), 1.0};
    note.moderate = {off(note, at) + random.normal(0.0, reading_sd_cents), 0.4};
    note.holds = 3;
    out.notes.push_back(note);
  }
  return out;
}

OffOfNote drawn_out_by(double out_mm, double factor) {
  return [=](const NoteBreath& note, std::size_t) {
    return slide_change_cents(synthesis::effective_length_mm(note.register_number, note.target_hz), out_mm, factor);
  };
}

}  // namespace windway::test
