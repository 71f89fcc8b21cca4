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

/// The takes with what the manifest says of them (its paths are relative to its own folder). The pattern tells of those
/// that the manifest does not name, and the serial where their line gives none; what the line gives stands. Where no
/// files are given those of the manifest are done, in its order. With neither manifest nor pattern each take is an
/// instrument of its own; so it is where a manifest gives no serial at all. How takes count among each other is left to
/// `countings`, since results kept from earlier may belong to them.
BatchList batch_jobs(const TakeFiles& files, const std::optional<Manifest>& manifest,
                     const std::optional<SerialPattern>& pattern);

/// How one take stands among others.
struct Counting {
  bool counts = true;
  int takes_of_subject = 1;

  bool operator==(const Counting&) const = default;
};

/// By take: whether it counts, among all of these, and how many share its serial, stage and head (what is not given
/// equals what is not given). Of one serial and stage the last take counts: of those with a retake number only the
/// highest is in question; of what remains, none that was surely recorded before another; of what remains, the last
/// of the list. With VerdictFrom::all every take counts. A take without a serial stands alone.
std::vector<Counting> countings(const std::vector<Subject>& subjects, VerdictFrom from);

}  // namespace windway
