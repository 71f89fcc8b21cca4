// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <map>
#include <string>
#include <vector>

namespace windway::cli {

/// What is to be noted of many instruments: equal notes are told once, with how many they are of.
class RepeatedNotes {
 public:
  /// `kind`: "note" or "warning".
  void add(const std::string& kind, const std::string& name, const std::string& message);

  /// On standard error, in the order in which they first came: "note: HW-1: message", "note: HW-1 and 3 more: message".
  /// At most 500, and how many more.
  void tell() const;

 private:
  struct Note {
    std::string kind;
    std::string first_name;
    std::string message;
    std::size_t count = 0;
  };
  std::vector<Note> notes_;
  std::map<std::string, std::size_t> places_;  ///< in `notes_`, by kind and message
  std::size_t further_ = 0;
};

}  // namespace windway::cli
