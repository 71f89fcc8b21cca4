// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "takes/counting.hpp"
#include "takes/manifest.hpp"
#include "takes/serial_pattern.hpp"
#include "takes/subject.hpp"
#include "takes/take_files.hpp"

namespace windway {

/// One take to be measured and judged.
struct BatchJob {
  std::string path;
  Subject subject;
  std::optional<double> bore_temp_c;  ///< from the manifest
  std::optional<double> head_out_mm;
  Counting counting;
  std::string not_named;  ///< why its instrument is unknown; empty: it is known, or nobody asked
};

struct BatchList {
  std::vector<BatchJob> jobs;          ///< in the order of the takes
  std::vector<std::string> not_given;  ///< takes of the manifest that are not among the takes
};

/// The takes, each with its line of the manifest (whose paths are relative to its own folder). Takes without a line or
/// without a serial in it are read by the pattern, which overrides nothing in the line. Where no files are given, those
/// of the manifest are taken in its order. With neither manifest nor pattern, or with a manifest without any serial,
/// each take is an instrument of its own. `countings` decides which takes count: kept results may belong to them.
BatchList batch_jobs(const TakeFiles& files, const std::optional<Manifest>& manifest,
                     const std::optional<SerialPattern>& pattern);

}  // namespace windway
