// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/shard.hpp"

#include <algorithm>
#include <map>

#include "units/read_number.hpp"

namespace windway {

std::optional<Shard> shard_in(const std::string& text) {
  constexpr int most_parts = 100000;  // each part takes room: a slip of the pen must not take it all
  const std::size_t slash = std::min(text.find('/'), text.size());
  const auto number = whole_number_in(text.substr(0, slash));
  const auto count = slash == text.size() ? std::nullopt : whole_number_in(text.substr(slash + 1));
  if (!number || !count || *number < 1 || *number > *count || *count > most_parts) return std::nullopt;
  return Shard{static_cast<std::size_t>(*number), static_cast<std::size_t>(*count)};
}

std::vector<BatchJob> jobs_of_shard(const std::vector<BatchJob>& jobs, const Shard& shard) {
  std::map<std::string, std::size_t> takes_of;
  for (const BatchJob& job : jobs)
    if (job.subject.serial) ++takes_of[*job.subject.serial];
  std::vector<std::size_t> takes_in(shard.count);
  const auto dealt_part = [&](std::size_t takes) {
    const auto part = std::ranges::min_element(takes_in);
    *part += takes;
    return static_cast<std::size_t>(part - takes_in.begin()) + 1;
  };
  std::map<std::string, std::size_t> part_of;
  std::vector<BatchJob> own;
  for (const BatchJob& job : jobs) {
    const auto& serial = job.subject.serial;
    if (serial && !part_of.contains(*serial)) part_of[*serial] = dealt_part(takes_of[*serial]);
    const std::size_t part = serial ? part_of[*serial] : dealt_part(1);
    if (part == shard.number) own.push_back(job);
  }
  return own;
}

}  // namespace windway
