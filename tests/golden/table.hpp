// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace windway::test {

/// Rows of a table by the names of its columns; cells as they are written. Quoted cells must not hold a comma.
class Table {
 public:
  explicit Table(std::string_view csv);

  const std::vector<std::string>& columns() const { return columns_; }
  std::size_t rows() const { return rows_.size(); }
  /// Throws std::out_of_range where there is no such row or column.
  const std::string& cell(std::size_t row, const std::string& column) const;

 private:
  std::vector<std::string> columns_;
  std::vector<std::vector<std::string>> rows_;
};

}  // namespace windway::test
