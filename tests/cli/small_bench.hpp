// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

namespace windway::cli_tests {

/// A folder with an invented bench of twelve whistles, HW-1001 to HW-1012, one take each: HW-1001_final_1.flac ...,
/// manifest.csv, d-whistle.toml. Every second has a planted fault, each fault once. Made once for all tests of this
/// program, which run at the same time: nobody writes in it.
const std::string& small_bench();

/// The file of the take of the first instrument with this fault ("": good ones, the `place`-th).
std::string take_with(const std::string& fault, std::size_t place = 0);
/// The files of the six good instruments.
std::vector<std::string> good_takes();

/// windway batch of these words, with the bench's instrument file and, where no manifest says otherwise, the head 5 mm
/// out.
std::vector<std::string> batch_call(const std::vector<std::string>& words);
/// The same of the whole bench and its manifest.
std::vector<std::string> whole_bench_call(const std::vector<std::string>& words = {});

/// The lines of a text, each without its line feed.
std::vector<std::string> lines_of(const std::string& text);
std::vector<std::string> sorted_lines(const std::string& text);

}  // namespace windway::cli_tests
