// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "bench/bench_entry.hpp"
#include "statistics/gauge_table.hpp"
#include "statistics/variance_components.hpp"

namespace windway {

/// How well the bench repeats a measurement, from takes of the same serial, stage and head. Room is bounded: a group is
/// closed when all its takes have come (each says how many there are), the oldest early when too many are open.
class Repeatability {
 public:
  /// A take that could not be measured tells nothing, but its group waits for it no more.
  void add(const BenchEntry& entry, bool is_measured = true);
  /// By note: what is left of it after the instrument's own best slide.
  std::map<NoteId, OneWaySums> sums() const;
  /// Of the home A4 as recorded, cents: what warmth and blowing do to the whole flute from take to take.
  OneWaySums home_sums() const;
  /// By note; of takes whose operator is named.
  std::map<NoteId, std::vector<GaugeReading>> readings() const;
  /// How far two readings of one note of one instrument lie apart, 95 %, cents; empty: nothing was read again.
  std::optional<double> note_u95_cents() const;
  std::vector<std::string> operators() const;  ///< by index of the readings
  std::uint64_t closed_early() const { return closed_early_; }

 private:
  struct Group {
    std::map<NoteId, Moments> notes;
    Moments home_cents;
    std::set<std::string> sha256;  ///< of the takes that came
    int takes = 0;
    std::uint64_t opened = 0;
  };
  void close(std::map<std::string, Group>::iterator group);
  void add_readings(const BenchEntry& entry, const std::string& subject);

  std::map<std::string, Group> open_;
  std::map<std::uint64_t, std::string> by_age_;  ///< the open groups, the oldest first
  std::map<NoteId, OneWaySums> closed_;
  OneWaySums closed_home_;
  std::map<std::string, std::size_t> part_index_;
  std::map<std::string, std::size_t> operator_index_;
  std::map<NoteId, std::vector<GaugeReading>> readings_;
  std::uint64_t opened_ = 0;
  std::uint64_t closed_early_ = 0;
  std::size_t readings_taken_ = 0;
};

}  // namespace windway
