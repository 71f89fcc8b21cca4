// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>

namespace windway {

/// One field of a record as programs read it. JSON, the columns of CSV, both readers of saved results and the shipped
/// JSON Schema follow from it.
struct Field {
  const char* key = "";           ///< with the unit in it
  const char* meaning = "";       ///< a sentence for the schema: what it is, its unit, what null says
  std::optional<double> least{};  ///< no value is smaller
  std::optional<double> above{};  ///< every value is greater
  std::optional<double> most{};   ///< no value is greater
  const char* definition = "";    ///< what the schema calls this kind of value: "note_name", "midi"; empty: none
  const char* pattern = "";       ///< a regular expression that every text matches
  bool may_be_null = false;       ///< although its type has a value for everything
  bool must_be_there = false;     ///< a saved result without it cannot be used
  bool in_csv = false;            ///< has a column
  bool in_line = false;           ///< is read from a line of windway batch: the bench's statistics need it
};

/// A share from 0 to 1 that is written in percent.
template <typename Number>
struct InPercent {
  Number& share;
};

template <typename Number>
InPercent<Number> in_percent(Number& share) {
  return {share};
}

}  // namespace windway
