// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <string>

#include "bench/bench_entry.hpp"

namespace windway {

/// Test reports in the JUnit XML form that continuous-integration servers show: a suite for each take, a case for each
/// note and each other criterion. What fails is a failure; what is too close to call or could not be measured is an
/// error; a take that a later one has overtaken is skipped.
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
