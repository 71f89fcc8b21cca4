// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "manifest/manifest.hpp"
#include "manifest/serial_pattern.hpp"
#include "manifest/subject.hpp"
#include "takes/counting.hpp"
#include "takes/take_files.hpp"

namespace windway {

/// One take to be measured and judged.
struct BatchJob {
  std::string path;
  Subject subject;
  std::optional<double> bore_temp_c;  ///< from the manifest
  std::optional<double> head_out_mm;
  int manifest_line = 0;  ///< its line there; 0: the manifest does not name it
  bool is_lost = false;   ///< the manifest names it, but there is no such file
  Counting counting;
  std::string why_not;  ///< why it is not measured, whatever its file holds; empty: it is
};

struct BatchList {
  std::vector<BatchJob> jobs;          ///< those of the manifest in its order, then the others in theirs
  std::vector<std::string> not_given;  ///< takes of the manifest that are there, but not among the files
};

/// The takes, each with its line of the manifest (whose paths are relative to its own folder). Takes without a line or
/// without a serial in it are read by the pattern, which overrides nothing in the line. Without `files` they are those
/// of the manifest; else those of the manifest that are among the files, lie in a folder that was searched, or are not
/// there, and the files that it does not name. With neither manifest nor pattern, or with a manifest without any
/// serial, each take is an instrument of its own. `countings` decides which takes count: kept results may belong to
/// them.
BatchList batch_jobs(const std::optional<TakeFiles>& files, const std::optional<Manifest>& manifest,
                     const std::optional<SerialPattern>& pattern);

}  // namespace windway
