// SPDX-License-Identifier: GPL-3.0-or-later
#include "repeated_notes.hpp"

#include "terminal.hpp"
#include "units/count_in_words.hpp"

namespace windway::cli {
namespace {

constexpr std::size_t most_told = 500;

}  // namespace

void RepeatedNotes::add(const std::string& kind, const std::string& name, const std::string& message) {
  const std::string text = kind + ": " + message;
  const auto known = places_.find(text);
  if (known != places_.end()) return static_cast<void>(++notes_[known->second].count);
  if (notes_.size() == most_told) return static_cast<void>(++further_);
  places_[text] = notes_.size();
  notes_.push_back({kind, name, message, 1});
}

void RepeatedNotes::tell() const {
  for (const Note& note : notes_) {
    const std::string more = note.count > 1 ? " and " + std::to_string(note.count - 1) + " more" : "";
    complain(note.kind + ": " + note.first_name + more + ": " + note.message);
  }
  if (further_ > 0)
    complain("note: " + count_in_words(further_, "more note") + (further_ == 1 ? " is" : " are") + " not shown");
}

}  // namespace windway::cli
