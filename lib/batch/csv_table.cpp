// SPDX-License-Identifier: GPL-3.0-or-later
#include "batch/csv_table.hpp"

#include <csv.h>

#include <algorithm>
#include <cstddef>
#include <memory>

#include "error.hpp"

namespace windway {
namespace {

/// What libcsv calls back with.
struct Gathered {
  std::vector<CsvTableRow> rows;
  CsvTableRow row;
  const char* text = nullptr;
};

extern "C" void end_cell(void* bytes, size_t count, void* gathered) {
  static_cast<Gathered*>(gathered)->row.cells.emplace_back(static_cast<const char*>(bytes),
                                                           bytes == nullptr ? 0 : count);
}

extern "C" void end_row(int, void* gathered) {
  auto& all = *static_cast<Gathered*>(gathered);
  all.rows.push_back(std::move(all.row));
  all.row = {};
}

struct FreeParser {
  void operator()(csv_parser* parser) const {
    csv_free(parser);
    delete parser;
  }
};

}  // namespace

std::vector<CsvTableRow> csv_rows(const std::string& text, char separator, const std::string& name) {
  const std::unique_ptr<csv_parser, FreeParser> parser(new csv_parser{});
  csv_init(parser.get(), CSV_STRICT | CSV_STRICT_FINI);
  csv_set_delim(parser.get(), static_cast<unsigned char>(separator));
  Gathered gathered;
  int line = 1;
  const auto refuse = [&] {
    throw Error(ErrorKind::usage, name + ", line " + std::to_string(line) +
                                      ": a quotation mark is not closed, or stands inside a cell; double it there");
  };
  // Line by line, so that each row knows where it began; within quotation marks a line goes on with the one before.
  bool is_within_quotes = false;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size() - 1) + 1;
    if (!is_within_quotes) gathered.row.line = line;
    if (csv_parse(parser.get(), text.data() + begin, end - begin, end_cell, end_row, &gathered) != end - begin)
      refuse();
    const auto quotes = std::count(text.begin() + static_cast<std::ptrdiff_t>(begin),
                                   text.begin() + static_cast<std::ptrdiff_t>(end), '"');
    is_within_quotes = is_within_quotes != (quotes % 2 == 1);
    begin = end;
    ++line;
  }
  if (csv_fini(parser.get(), end_cell, end_row, &gathered) != 0) refuse();
  std::erase_if(gathered.rows, [](const CsvTableRow& row) { return row.cells.empty(); });
  return gathered.rows;
}

}  // namespace windway
