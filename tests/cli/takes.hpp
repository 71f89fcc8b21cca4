// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace windway::cli_tests {

/// What the takes were played on: an invented whistle in D from D5.
inline const std::vector<std::string> whistle_in_d{"--kind", "whistle", "--lowest", "D5"};

/// Writes a take of the whistle, each note of its first octave soft, moderate and hard; `overall_cents` sharp with the
/// head fully in, and that drawn `out_mm` out.
void write_scale_take(const std::string& path, double overall_cents = 12.0, double out_mm = 0.0);

/// The same of one note only, A5.
void write_one_note_take(const std::string& path);

/// A WAV file by the RIFF rules (Microsoft and IBM, Multimedia Programming Interface 1.0, 1991), every header field as
/// given, right or wrong.
struct WavHeader {
  unsigned channels = 1;
  unsigned rate_hz = 48000;
  unsigned bits = 16;
  unsigned riff_bytes = 36;
  unsigned data_bytes = 0;
};
std::string wav_bytes(const WavHeader& header, const std::string& data);

/// Twelve hours of silence, which take no room on the disk.
void write_endless_take(const std::string& path);

}  // namespace windway::cli_tests
