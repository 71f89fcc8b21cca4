// SPDX-License-Identifier: GPL-3.0-or-later
#include "bench/production.hpp"

namespace windway {

void Production::add(const BenchEntry& entry) {
  Produced made{name_of(entry), entry.recorded_at.value_or(""), {}, entry.home_a4_hz};
  for (const EntryNote& note : entry.notes)
    if (note.moved && note.weight > 0) made.notes.push_back({note.id, note.moderate.cents, note.moved->cents});
  std::pair key{made.recorded_at, came_++};
  made_.emplace(std::move(key), std::move(made));
  if (made_.size() > most_instruments) made_.erase(made_.begin());
}

MadeInOrder Production::in_order() const {
  MadeInOrder all;
  for (const auto& [key, made] : made_) all.push_back(&made);
  return all;
}

}  // namespace windway
