// SPDX-License-Identifier: GPL-3.0-or-later
#include "cli/takes.hpp"

#include <filesystem>

#include "cli/run_program.hpp"
#include "support/plan.hpp"
#include "support/sound_file.hpp"
#include "support/take.hpp"

namespace windway::cli_tests {
namespace {

void write_take(const std::string& path, const std::vector<int>& notes, double overall_cents, double out_mm = 0) {
  synthesis::Random random(42);
  const synthesis::FluteModel flute =
      synthesis::drawn_out(synthesis::draw_flute({.overall_cents = overall_cents}, random), out_mm);
  const auto plan = synthesis::note_by_note(notes, {Blow::soft, Blow::moderate, Blow::hard}, {}, {}, random);
  const auto take = synthesis::synthesise_take(flute, plan, {}, random);
  synthesis::write_sound(path, take.samples, take.rate_hz);
}

/// Little-endian, as RIFF has it.
std::string number(unsigned value, int bytes) {
  std::string text;
  for (int byte = 0; byte < bytes; ++byte) text += static_cast<char>((value >> (8 * byte)) & 0xFFU);
  return text;
}

}  // namespace

void write_scale_take(const std::string& path, double overall_cents, double out_mm) {
  write_take(path, synthesis::major_scale(74, 12), overall_cents, out_mm);
}

void write_one_note_take(const std::string& path) { write_take(path, {81}, 12.0); }

std::string wav_bytes(const WavHeader& header, const std::string& data) {
  const unsigned frame_bytes = header.channels * header.bits / 8;
  const std::string format = number(1, 2) + number(header.channels, 2) + number(header.rate_hz, 4) +
                             number(header.rate_hz * frame_bytes, 4) + number(frame_bytes, 2) + number(header.bits, 2);
  return "RIFF" + number(header.riff_bytes, 4) + "WAVEfmt " + number(16, 4) + format + "data" +
         number(header.data_bytes, 4) + data;
}

void write_endless_take(const std::string& path) {
  constexpr unsigned data_bytes = 4294000000;
  const std::string header = wav_bytes({.riff_bytes = data_bytes + 36, .data_bytes = data_bytes}, "");
  write_file(path, header);
  std::filesystem::resize_file(path, header.size() + data_bytes);
}

}  // namespace windway::cli_tests
