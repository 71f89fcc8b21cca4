// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "manifest/subject.hpp"

namespace windway {

/// Pattern of file names: fields in braces, and fixed text between them.
struct SerialPattern {
  struct Piece {
    bool is_field = false;
    std::string text;  ///< the field's name, or the fixed text
  };
  std::string text;
  std::vector<Piece> pieces;
};

/// Reads "{serial}_{stage}_{retake}"; fields: serial, stage, lot, material, head, operator, retake. Throws Error (kind
/// usage) where {serial} is missing, a field is unknown or repeated, or two fields touch.
SerialPattern serial_pattern(const std::string& pattern);

/// The subject that a name gives; empty, with the reason, where it fits the pattern not at all or in several ways.
struct NameReading {
  std::optional<Subject> subject;
  std::string why_not;
};

/// Reads the file's name without its folder and its last ending. Each field has at least one character; a retake has
/// digits only.
NameReading subject_of(const SerialPattern& pattern, const std::string& path);

}  // namespace windway
