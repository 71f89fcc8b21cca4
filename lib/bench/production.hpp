// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "bench/bench_entry.hpp"
#include "bench/repeatability.hpp"

namespace windway {

/// One note of a finished instrument.
struct ProducedNote {
  NoteId note;
  double moderate_cents = 0;  ///< as recorded
  double left_cents = 0;      ///< after the instrument's own best slide
};

struct Produced {
  std::string name;
  std::string recorded_at;  ///< empty: not known
  std::vector<ProducedNote> notes;
  std::optional<double> home_a4_hz;
};

using MadeInOrder = std::vector<const Produced*>;

/// The latest instruments in the order they were made: by their time of recording, else as they came. Room is bounded.
class Production {
 public:
  static constexpr std::size_t most_instruments = 10000;

  void add(const BenchEntry& entry);
  /// As long as this lives and nothing is added.
  MadeInOrder in_order() const;
  std::size_t size() const { return made_.size(); }
  /// How many earlier ones there was no room for.
  std::uint64_t left_out() const { return came_ - made_.size(); }

 private:
  std::map<std::pair<std::string, std::uint64_t>, Produced> made_;
  std::uint64_t came_ = 0;
};

}  // namespace windway
