// SPDX-License-Identifier: GPL-3.0-or-later
#include "manifest/csv_table.hpp"

#include <csv.h>

#include <memory>

#include "error.hpp"

namespace windway {
namespace {

/// State of the callbacks from libcsv.
struct GatheredRows {
  std::vector<CsvTableRow> rows;
  CsvTableRow row;
  bool is_between_rows = true;
};

extern "C" void end_cell(void* bytes, size_t count, void* gathered) {
  static_cast<GatheredRows*>(gathered)->row.cells.emplace_back(static_cast<const char*>(bytes),
                                                               bytes == nullptr ? 0 : count);
}

extern "C" void end_row(int, void* gathered) {
  auto& all = *static_cast<GatheredRows*>(gathered);
  if (!all.row.cells.empty()) all.rows.push_back(std::move(all.row));
  all.row = {};
  all.is_between_rows = true;
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
  GatheredRows gathered;
  int line = 1;
  const auto refuse = [&] {
    throw Error(ErrorKind::usage, name + ", line " + std::to_string(gathered.row.line) +
                                      ": a quotation mark is not closed, or is inside a cell; put the whole cell "
                                      "in quotation marks and double those inside it");
  };
  // Byte by byte, to know the line on which each row begins: a quoted cell may contain line ends.
  char before = '\0';
  for (const char byte : text) {
    const bool begins_row = byte == separator || (byte != ' ' && byte != '\t' && byte != '\r' && byte != '\n');
    if (gathered.is_between_rows && begins_row) {
      gathered.row.line = line;
      gathered.is_between_rows = false;
    }
    if (csv_parse(parser.get(), &byte, 1, end_cell, end_row, &gathered) != 1) refuse();
    if (byte == '\r' || (byte == '\n' && before != '\r')) ++line;
    before = byte;
  }
  if (csv_fini(parser.get(), end_cell, end_row, &gathered) != 0) refuse();
  return gathered.rows;
}

}  // namespace windway
