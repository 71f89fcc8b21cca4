// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

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
  int manifest_line = 0;     ///< its line there; 0: the manifest does not name it
  bool is_lost = false;      ///< the manifest names it, but there is no such file
  bool counts = true;        ///< false: the verdict of its serial and stage comes from another take
  int takes_of_subject = 1;  ///< of the same serial, stage and head
  std::string why_not;       ///< why it is not measured, whatever its file holds; empty: it is
};

struct BatchList {
  std::vector<BatchJob> jobs;          ///< those of the manifest in its order, then the others in theirs
  std::vector<std::string> not_given;  ///< takes of the manifest that are there, but not among the files
};

/// The takes of an instrument at one stage that the verdict comes from.
enum class VerdictFrom { last, all };

/// The takes, each with its line of the manifest (whose paths are relative to its own folder). Takes without a line or
/// without a serial in it are read by the pattern, which overrides nothing in the line. Without `files` they are those
/// of the manifest; else those of the manifest that are among the files, lie in a folder that was searched, or are not
/// there, and the files that it does not name. With neither manifest nor pattern, or with a manifest without any
/// serial, each take is an instrument of its own. `countings` decides which takes count: kept results may belong to
/// them.
BatchList batch_jobs(const std::optional<TakeFiles>& files, const std::optional<Manifest>& manifest,
                     const std::optional<SerialPattern>& pattern);

/// One take among the takes of the same instrument.
struct Counting {
  bool counts = true;
  int takes_of_subject = 1;

  bool operator==(const Counting&) const = default;
};

/// By take: whether it counts, and how many takes share its serial, stage and head (an empty field equals an empty
/// field). Of one serial and stage the last take counts. Takes below the highest retake number drop out, then those
/// certainly recorded before another; the last in the list of the rest counts. With VerdictFrom::all every take counts.
/// A take without a serial is alone.
std::vector<Counting> countings(const std::vector<Subject>& subjects, VerdictFrom from);

}  // namespace windway
