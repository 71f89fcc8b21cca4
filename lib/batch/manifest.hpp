// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "batch/subject.hpp"

namespace windway {

/// What a manifest says of one take.
struct ManifestRow {
  std::string take;  ///< as it stands there
  Subject subject;
  std::optional<double> bore_temp_c;
  std::optional<double> head_out_mm;
  int line = 0;  ///< of the file, from 1
};

struct Manifest {
  std::string path;
  std::vector<ManifestRow> rows;
};

/// Reads a table (CSV, RFC 4180; separated by commas, or by semicolons or tabs where its first line has those and no
/// commas) whose first line names the columns: take, and as wanted serial, stage, lot, material, head, operator,
/// retake, bore_temp_c, head_out_mm, recorded_at (ISO 8601), remark; others are passed through. An empty cell says
/// nothing. Throws Error (kind usage) with file, line, column and remedy.
Manifest read_manifest(const std::string& path);

/// The same from the text of a file; `name` stands for it in errors.
Manifest manifest_from_csv(const std::string& text, const std::string& name);

}  // namespace windway
