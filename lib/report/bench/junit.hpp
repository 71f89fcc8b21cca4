// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <string>

#include "bench/bench_entry.hpp"

namespace windway {

/// Test reports in the JUnit XML form that continuous-integration servers show: a suite for each take, a case for each
/// note and each other criterion. What fails is a failure; what is too close to call or could not be measured is an
/// error; a take that a later one has overtaken is skipped. A suite is called as its instrument with stage and retake,
/// and where two would be called alike with its file; its cases have its name as their class. Properties of a suite say
/// what is known of its take, a `warning` each of what it was warned of; those of a case what was judged: value_cents,
/// u95_cents, lower_cents, upper_cents, or the same in mm.
class JUnitReport {
 public:
  JUnitReport();
  ~JUnitReport();

  void add(const BenchEntry& entry);
  /// The whole document, UTF-8.
  std::string text();

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace windway
