// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "batch/manifest.hpp"
#include "batch/serial_pattern.hpp"
#include "batch/subject.hpp"
#include "batch/take_files.hpp"

namespace windway {

/// One take to be measured and judged.
struct BatchJob {
  std::string path;
  Subject subject;
  std::optional<double> bore_temp_c;  ///< as the manifest says of this take
  std::optional<double> head_out_mm;
  bool counts = true;        ///< of several takes of one serial and stage, the one that the verdict rests on
  int takes_of_subject = 1;  ///< of the same serial, stage and head
  std::string not_named;     ///< why nothing says which instrument it is of; empty: known, or nobody asked
};

struct BatchList {
  std::vector<BatchJob> jobs;          ///< in the order of the takes
  std::vector<std::string> not_given;  ///< takes of the manifest that are not among the takes
};

/// Of several takes of one instrument at one stage, which count.
enum class VerdictFrom { last, all };

/// The takes with what the manifest says of them (its paths are relative to its own folder), else their names by the
/// pattern. Without takes those of the manifest are done, in its order. With neither manifest nor pattern each take is
/// an instrument of its own.
BatchList batch_jobs(const TakeFiles& files, const std::optional<Manifest>& manifest,
                     const std::optional<SerialPattern>& pattern);

/// How one take stands among others.
struct Counting {
  bool counts = true;
  int takes_of_subject = 1;

  bool operator==(const Counting&) const = default;
};

/// By take: whether it counts, among all of these. The last take of a serial and stage is that with the highest retake
/// number, else recorded latest, else the last of the list.
std::vector<Counting> countings(const std::vector<Subject>& subjects, VerdictFrom from);

}  // namespace windway
