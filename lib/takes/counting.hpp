// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "manifest/subject.hpp"

namespace windway {

/// The takes of an instrument at one stage that the verdict comes from.
enum class VerdictFrom { last, all };

/// One take among the takes of the same instrument, and how its batch looked at it.
struct Counting {
  bool counts = true;        ///< the verdict of its serial and stage rests on it
  int takes_of_subject = 1;  ///< of the same serial, stage and head
  bool is_first = true;      ///< of its serial and stage
  VerdictFrom from = VerdictFrom::last;
  bool keeper = false;                ///< it is of the bench's own flute
  std::optional<GroupBy> group_by{};  ///< what its batch told the instruments apart by
  bool is_lost = false;               ///< the manifest names it, but there was no such file
  bool is_told_twice = false;         ///< the result of the same take comes again later; this one does not count

  bool operator==(const Counting&) const = default;
};

/// What settles how a take counts, in little room: a bench may have a million.
struct TakeOrder {
  std::uint64_t instrument = 0;  ///< hash of serial and stage; 0: no serial, the take is alone
  std::uint64_t setting = 0;     ///< hash of serial, stage and head
  std::uint64_t recording = 0;   ///< hash of the file's content and what it is of; 0: not known
  std::optional<std::int32_t> retake;
  std::array<char, 20> recorded_at{};  ///< ISO 8601 without zone, ended by a zero; empty: not known
  VerdictFrom from = VerdictFrom::last;
  bool is_lost = false;  ///< there is no file: no other take makes up for it, and it counts
};

/// `path`, `sha256`: of the take's file; of an empty `sha256` the content is not known.
TakeOrder take_order(const Subject& subject, VerdictFrom from, const std::string& path = "",
                     const std::string& sha256 = "");

/// By take: whether it counts, and how many takes share its serial, stage and head (an empty field equals an empty
/// field). Of one serial and stage the last take counts. Takes below the highest retake number drop out, then those
/// certainly recorded before another; the last in the list of the rest counts. The first take is found the same way
/// from the other end. With VerdictFrom::all of any, each take of the instrument counts. A take without a serial is
/// alone. A lost take always counts. Of one result told again the last alone counts and may be the first take. How the
/// batch looked at it (keeper, groups) is not set.
std::vector<Counting> countings(const std::vector<TakeOrder>& takes);

}  // namespace windway
