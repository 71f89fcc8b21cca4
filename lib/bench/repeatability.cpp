// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/repeatability.hpp"

#include <cmath>

#include "units/coverage_factor.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

constexpr double any_a4_hz = 440;  // cents are counted from there; only their differences matter
constexpr std::size_t most_open_groups = 4096;
constexpr std::size_t most_gauge_takes = 5000;  // a gauge study has some tens of takes

std::string subject_key(const Subject& subject) {
  std::string key;
  for (const auto& part : {subject.serial, subject.stage, subject.head}) key += part.value_or("") + '\0';
  return key;
}

void add_closed(std::map<NoteId, OneWaySums>& sums, const std::map<NoteId, Moments>& notes) {
  for (const auto& [note, moments] : notes) add_group(sums[note], moments);
}

}  // namespace

void Repeatability::add(const BenchEntry& entry, bool is_measured) {
  if (entry.counting.takes_of_subject < 2 || !entry.subject.serial) return;
  const std::string subject = subject_key(entry.subject);
  const auto [group, is_new] = open_.try_emplace(subject);
  if (is_new) {
    group->second.opened = opened_++;
    by_age_.emplace(group->second.opened, subject);
  }
  // One recording told twice is no repeat: it would make the bench look better than it is.
  if (is_measured && (entry.sha256.empty() || group->second.sha256.insert(entry.sha256).second)) {
    for (const EntryNote& note : entry.notes)
      if (note.moved && note.weight > 0) windway::add(group->second.notes[note.id], note.moved->cents);
    if (entry.home_a4_hz) windway::add(group->second.home_cents, cents_between(any_a4_hz, *entry.home_a4_hz));
    add_readings(entry, subject);
  }
  if (++group->second.takes == entry.counting.takes_of_subject) return close(group);
  if (open_.size() <= most_open_groups) return;
  ++closed_early_;
  close(open_.find(by_age_.begin()->second));
}

void Repeatability::close(std::map<std::string, Group>::iterator group) {
  add_closed(closed_, group->second.notes);
  add_group(closed_home_, group->second.home_cents);
  by_age_.erase(group->second.opened);
  open_.erase(group);
}

void Repeatability::add_readings(const BenchEntry& entry, const std::string& subject) {
  if (!entry.subject.operator_name || readings_taken_ >= most_gauge_takes) return;
  ++readings_taken_;
  const std::size_t part = part_index_.try_emplace(subject, part_index_.size()).first->second;
  const std::size_t who =
      operator_index_.try_emplace(*entry.subject.operator_name, operator_index_.size()).first->second;
  for (const EntryNote& note : entry.notes)
    if (note.moved && note.weight > 0) readings_[note.id].push_back({part, who, note.moved->cents});
}

std::map<NoteId, OneWaySums> Repeatability::sums() const {
  std::map<NoteId, OneWaySums> all = closed_;
  for (const auto& [subject, group] : open_) add_closed(all, group.notes);
  return all;
}

OneWaySums Repeatability::home_sums() const {
  OneWaySums all = closed_home_;
  for (const auto& [subject, group] : open_) add_group(all, group.home_cents);
  return all;
}

std::optional<double> Repeatability::note_u95_cents() const {
  double squares = 0;
  double degrees = 0;
  for (const auto& [note, of_note] : sums())
    if (const auto sd = repeatability_sd(of_note)) {
      squares += sd->sd * sd->sd * static_cast<double>(sd->degrees);
      degrees += static_cast<double>(sd->degrees);
    }
  if (!(degrees > 0)) return std::nullopt;
  return u95_factor(degrees) * std::sqrt(2 * squares / degrees);
}

std::map<NoteId, std::vector<GaugeReading>> Repeatability::readings() const { return readings_; }

std::vector<std::string> Repeatability::operators() const {
  std::vector<std::string> names(operator_index_.size());
  for (const auto& [name, index] : operator_index_) names[index] = name;
  return names;
}

}  // namespace windway
