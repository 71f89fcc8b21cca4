// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "manifest/subject.hpp"

namespace windway {

/// The line of a manifest about one take.
struct ManifestRow {
  std::string take;  ///< path as written there
  Subject subject;
  std::optional<double> bore_temp_c;
  std::optional<double> head_out_mm;
  int line = 0;  ///< number in the file, from 1
};

struct Manifest {
  std::string path;
  std::vector<ManifestRow> rows;
  std::vector<std::string> columns;        ///< all that have a name, as they stand
  std::vector<std::string> other_columns;  ///< those of them that are only passed through
};

/// Reads a table (CSV, RFC 4180, UTF-8; separated by commas, or by semicolons or tabs where its first line has those
/// and no commas) whose first line names the columns: take, and as wanted serial, stage, lot, material, head, operator,
/// retake, bore_temp_c, head_out_mm, recorded_at (ISO 8601), remark; others are passed through, empty cells of theirs
/// too, so that all takes have the same ones, but a name that nearly is one of these is a mistake. Else empty cells are
/// ignored. Throws Error (kind usage) with file, line, column and remedy of the first mistake, and how many more there
/// are.
Manifest read_manifest(const std::string& path);

/// The same from the text of a file. Errors name it `name`; the takes are relative to its folder.
Manifest manifest_from_csv(const std::string& text, const std::string& name);

/// The path of a take; relative ones start at the manifest's folder.
std::string path_of_take(const Manifest& manifest, const ManifestRow& row);

}  // namespace windway
