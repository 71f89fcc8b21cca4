// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "instrument/instrument.hpp"
#include "takes/counting.hpp"

namespace windway {

/// What a bench always says to windway batch. What is absent the file does not say. Paths start at the file's folder.
struct BenchFile {
  std::vector<std::string> takes;          ///< files and folders
  std::optional<std::string> manifest;     ///< CSV
  std::optional<std::string> serial_from;  ///< pattern of the takes' names
  std::optional<VerdictFrom> verdict_from;
  std::optional<std::string> instrument;  ///< a file, or a name that windway knows
  std::optional<std::string> stage;
  std::optional<std::string> keeper;
  std::optional<GroupBy> group_by;
  std::optional<double> quote_at_c;
  std::optional<bool> is_warm;  ///< every flute is played warm before its take
  std::optional<std::string> results;
  std::optional<double> tolerance_cents;
  std::optional<double> max_spread_cents;
  std::optional<double> max_octave_cents;
  std::optional<HeadRange> head_out_range_mm;
};

/// Reads a bench file (TOML). Throws Error (kind usage) with file, line, key and remedy of the first mistake, and how
/// many more there are.
BenchFile read_bench_file(const std::string& path);

/// The same from its text; `path` names it in errors, and paths in it start at its folder.
BenchFile bench_file_from_toml(const std::string& text, const std::string& path);

}  // namespace windway
