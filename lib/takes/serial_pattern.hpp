// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "takes/subject.hpp"

namespace windway {

/// How names of files say which instrument a take is of: fields in braces, and what stands between them.
struct SerialPattern {
  struct Piece {
    bool is_field = false;
    std::string text;  ///< the field's name, or what stands there as it is
  };
  std::string text;
  std::vector<Piece> pieces;
};

/// Reads "{serial}_{stage}_{retake}"; fields: serial, stage, lot, material, head, operator, retake. Throws Error (kind
/// usage) where it names no serial, a field that there is not, one twice, or two with nothing between.
SerialPattern serial_pattern(const std::string& pattern);

/// What a name says; where it fits the pattern in no way or in more than one, nothing is guessed.
struct NameReading {
  std::optional<Subject> subject;
  std::string why_not;
};

/// Reads the file's name without its folder and its last ending. Each field has one character at least, a retake is
/// digits.
NameReading subject_of(const SerialPattern& pattern, const std::string& path);

}  // namespace windway
