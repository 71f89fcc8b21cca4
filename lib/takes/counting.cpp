// SPDX-License-Identifier: GPL-3.0-or-later
#include "takes/counting.hpp"

#include <algorithm>
#include <functional>
#include <numeric>
#include <span>
#include <string_view>

#include "manifest/recorded_cell.hpp"

namespace windway {
namespace {

using Places = std::vector<std::size_t>;

/// Never 0, which says that nothing is known.
std::uint64_t hash_of(std::initializer_list<std::string_view> texts) {
  std::string joined;
  for (const std::string_view text : texts) joined.append(text).push_back('\0');
  return std::max<std::uint64_t>(std::hash<std::string>{}(joined), 1);
}

std::string recorded_at(const TakeOrder& take) { return take.recorded_at.data(); }

/// The takes for which `key` is the same and not 0, one group after the other, each in the order of the list.
void for_each_group(const std::vector<TakeOrder>& takes, std::uint64_t TakeOrder::*key,
                    const std::function<void(std::span<const std::size_t>)>& see) {
  Places places(takes.size());
  std::iota(places.begin(), places.end(), 0U);
  std::erase_if(places, [&](std::size_t i) { return takes[i].*key == 0; });
  std::ranges::stable_sort(places, {}, [&](std::size_t i) { return takes[i].*key; });
  for (auto begin = places.begin(); begin != places.end();) {
    const auto end =
        std::find_if(begin, places.end(), [&](std::size_t i) { return takes[i].*key != takes[*begin].*key; });
    see({begin, end});
    begin = end;
  }
}

/// The last of the takes of one instrument at one stage.
std::size_t last_of(Places group, const std::vector<TakeOrder>& takes) {
  std::optional<std::int32_t> highest;
  for (const std::size_t i : group) highest = std::max(highest, takes[i].retake);
  std::erase_if(group, [&](std::size_t i) { return takes[i].retake && takes[i].retake < highest; });
  // Comparing each take with the latest one is enough.
  std::string latest;
  for (const std::size_t i : group) latest = std::max(latest, recorded_at(takes[i]));
  std::erase_if(group, [&](std::size_t i) {
    return takes[i].recorded_at[0] != '\0' && is_recorded_before(recorded_at(takes[i]), latest);
  });
  return group.back();
}

/// The first of them, found the same way from the other end.
std::size_t first_of(Places group, const std::vector<TakeOrder>& takes) {
  std::optional<std::int32_t> lowest;
  for (const std::size_t i : group)
    if (takes[i].retake && (!lowest || takes[i].retake < lowest)) lowest = takes[i].retake;
  std::erase_if(group, [&](std::size_t i) { return takes[i].retake && takes[i].retake > lowest; });
  const auto whole = [&](std::size_t i) { return recorded_at(takes[i]) + '~'; };  // "2026-11" is after its days
  std::string earliest;
  for (const std::size_t i : group)
    if (takes[i].recorded_at[0] != '\0' && (earliest.empty() || whole(i) < earliest + '~'))
      earliest = recorded_at(takes[i]);
  std::erase_if(group, [&](std::size_t i) {
    return takes[i].recorded_at[0] != '\0' && is_recorded_before(earliest, recorded_at(takes[i]));
  });
  return group.front();
}

void leave_out_told_twice(const std::vector<TakeOrder>& takes, std::vector<Counting>& all) {
  for_each_group(takes, &TakeOrder::recording, [&](std::span<const std::size_t> group) {
    for (const std::size_t i : group.first(group.size() - 1)) {
      all[i].counts = all[i].is_first = false;
      all[i].is_told_twice = true;
    }
  });
}

Places once_each(std::span<const std::size_t> group, const std::vector<Counting>& all) {
  Places places(group.begin(), group.end());
  std::erase_if(places, [&](std::size_t i) { return all[i].is_told_twice; });
  return places;
}

}  // namespace

TakeOrder take_order(const Subject& subject, VerdictFrom from, const std::string& path, const std::string& sha256) {
  TakeOrder order;
  const auto text = [](const std::optional<std::string>& said) { return said ? "=" + *said : ""; };  // "" is something
  const std::string serial = text(subject.serial), stage = text(subject.stage), head = text(subject.head);
  if (subject.serial) {
    order.instrument = hash_of({serial, stage});
    order.setting = hash_of({serial, stage, head});
  }
  if (!sha256.empty()) order.recording = hash_of({sha256, path, serial, stage, head});
  order.retake = subject.retake;
  without_zone(subject.recorded_at.value_or("")).copy(order.recorded_at.data(), order.recorded_at.size() - 1);
  order.from = from;
  return order;
}

std::vector<Counting> countings(const std::vector<TakeOrder>& takes) {
  std::vector<Counting> all(takes.size());
  for (std::size_t i = 0; i < takes.size(); ++i) {
    all[i].from = takes[i].from;
    all[i].is_lost = takes[i].is_lost;
  }
  leave_out_told_twice(takes, all);
  for_each_group(takes, &TakeOrder::setting, [&](std::span<const std::size_t> group) {
    const Places places = once_each(group, all);
    for (const std::size_t i : places) all[i].takes_of_subject = static_cast<int>(places.size());
  });
  for_each_group(takes, &TakeOrder::instrument, [&](std::span<const std::size_t> group) {
    const Places places = once_each(group, all);
    const std::size_t last = last_of(places, takes);
    const std::size_t first = first_of(places, takes);
    const bool all_count =
        std::ranges::any_of(places, [&](std::size_t i) { return takes[i].from == VerdictFrom::all; });
    for (const std::size_t i : places) {
      all[i].counts = all_count || i == last || takes[i].is_lost;
      all[i].is_first = i == first;
    }
  });
  return all;
}

}  // namespace windway
