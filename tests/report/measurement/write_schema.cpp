// SPDX-License-Identifier: GPL-3.0-or-later
// Writes the JSON Schema of a measurement anew, its records as the program's own lists of fields describe them.
// usage: windway_write_schema FILE
#include <fstream>
#include <iostream>
#include <iterator>

#include "report/measurement/described_schema.hpp"

int main(int argc, char** argv) {
  if (argc != 2) return std::cerr << "usage: windway_write_schema FILE\n", 2;
  std::ifstream file(argv[1]);
  const std::string schema{std::istreambuf_iterator<char>(file), {}};
  const std::string described = windway::report_tests::described_schema(schema);
  return std::ofstream(argv[1]) << described ? 0 : 1;
}
