// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "results/judge_take.hpp"
#include "results/results_file.hpp"

namespace windway {

/// The results file of a batch, and which jobs it has the results of already.
struct KeptResults {
  std::unique_ptr<ResultsFile> file;           ///< null: none was asked for
  std::vector<std::optional<LinePlace>> done;  ///< by job
  std::vector<LinePlace> of_others;            ///< results of takes that are none of the jobs'
  std::vector<std::string> gone;               ///< takes that are no longer there, whose results have left the file
};

/// Opens the results file and, where the batch `resumes`, puts it in order: what was overtaken or is gone
/// leaves, and how takes count is settled anew among those that stay and the jobs, whose own counting is set here. An
/// empty `path`: no file.
KeptResults kept_results(const std::string& path, bool resumes, Batch& batch);

/// Once all jobs are `done`: puts their lines in the order of the jobs, so that the same takes give the same file.
void put_in_order(KeptResults& kept);

}  // namespace windway
