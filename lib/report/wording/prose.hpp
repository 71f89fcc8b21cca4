// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "report/wording/layout.hpp"

namespace windway {

/// Words of a report. Text that begins with spaces is a remark on what stands above it.
struct Words {
  std::string text;
  std::size_t hanging = 0;  ///< lines after the first begin with so many spaces, where the text is wrapped
};

/// Lines to copy as they are, into a file say.
struct Code {
  std::vector<std::string> lines;
};

/// A table; every row has a cell for each column.
struct Grid {
  std::vector<Column> columns;
  std::vector<std::vector<std::string>> rows;
};

/// A gap between what belongs together.
struct Gap {};

using Part = std::variant<Words, Code, Grid, Gap>;

/// What a report says, in its order, before it is written out as text or as a page.
class Prose {
 public:
  Prose() = default;
  Prose(Part part) { parts_.push_back(std::move(part)); }  // NOLINT(google-explicit-constructor): any part is prose

  Prose& operator+=(const Prose& more) {
    parts_.insert(parts_.end(), more.parts_.begin(), more.parts_.end());
    return *this;
  }
  friend Prose operator+(Prose one, const Prose& more) { return one += more; }

  const std::vector<Part>& parts() const { return parts_; }
  bool empty() const { return parts_.empty(); }

 private:
  std::vector<Part> parts_;
};

/// Words as a part; of no text, nothing.
Prose words(std::string text, std::size_t hanging = 0);

/// As text, at most `columns` wide where no single word is wider; ends with a line feed.
std::string text_of(const Prose& prose, std::size_t columns = text_columns);

}  // namespace windway
