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
  bool counts = true;        ///< false: the verdict of its serial and stage comes from another take
  int takes_of_subject = 1;  ///< of the same serial, stage and head
  std::string not_named;     ///< why its instrument is unknown; empty: it is known, or nobody asked
};

struct BatchList {
  std::vector<BatchJob> jobs;          ///< in the order of the takes
  std::vector<std::string> not_given;  ///< takes of the manifest that are not among the takes
};

/// The takes of an instrument at one stage that the verdict comes from.
enum class VerdictFrom { last, all };

/// The takes, each with its line of the manifest (whose paths are relative to its own folder). Takes without a line or
/// without a serial in it are read by the pattern, which overrides nothing in the line. Where no files are given, those
/// of the manifest are taken in its order. With neither manifest nor pattern, or with a manifest without any serial,
/// each take is an instrument of its own. `countings` decides which takes count: kept results may belong to them.
BatchList batch_jobs(const TakeFiles& files, const std::optional<Manifest>& manifest,
                     const std::optional<SerialPattern>& pattern);

/// One take among the takes of the same instrument, and how its batch looked at it.
struct Counting {
  bool counts = true;
  int takes_of_subject = 1;
  bool keeper = false;                ///< it is of the bench's own flute
  std::optional<GroupBy> group_by{};  ///< what the batch told its instruments apart by

  bool operator==(const Counting&) const = default;
};

/// By take: whether it counts, and how many takes share its serial, stage and head (an empty field equals an empty
/// field). Of one serial and stage the last take counts. Takes below the highest retake number drop out, then those
/// certainly recorded before another; the last in the list of the rest counts. With VerdictFrom::all every take counts.
/// A take without a serial is alone. The batch's own view (keeper, groups) is not set.
std::vector<Counting> countings(const std::vector<Subject>& subjects, VerdictFrom from);

}  // namespace windway
