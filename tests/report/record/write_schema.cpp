// SPDX-License-Identifier: GPL-3.0-or-later
// Writes JSON Schemas anew, their records as the program's own lists of fields describe them.
// usage: windway_write_schema FILE...
#include <fstream>
#include <iterator>

#include "report/record/described_schema.hpp"

int main(int argc, char** argv) {
  for (int each = 1; each < argc; ++each) {
    std::ifstream file(argv[each]);
    const std::string schema{std::istreambuf_iterator<char>(file), {}};
    const std::string described = windway::report_tests::described_schema(schema);
    if (!(std::ofstream(argv[each]) << described)) return 1;
  }
}
