// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <vector>

#include "results/output_file.hpp"
#include "shared_options.hpp"

namespace windway::cli {

// The files that a call reads and writes.

/// The files that the options name; empty where they name none.
std::vector<std::string> files_of(const TakeOptions& take);
/// True if both are names of one file, or the same name.
bool is_same_file(const std::string& path, const std::string& other);
/// Refuses an output that is one of the files that are read; an empty name is none. `option` named it.
void refuse_overwriting(const std::string& option, const std::string& output, const std::vector<std::string>& inputs);

/// Throws Error (kind usage) where a file with the name of a recording is there: it may be somebody's take.
void refuse_replacing_sound(const std::string& option, const std::string& output);
/// The result's file, made before the work starts; null: standard output. Refuses one of `inputs`, or no name.
std::unique_ptr<OutputFile> open_result(const ResultOptions& result, const std::vector<std::string>& inputs);
/// Columns that the result's text may take: the terminal's where it goes there, else 80.
std::size_t columns_for(const ResultOptions& result);
void write_result(const std::unique_ptr<OutputFile>& file, const std::string& report);
/// Refuses where none is given (with the question, as in "which recording? as in: ...") or one is given twice.
void check_recordings(const std::vector<std::string>& recordings, const std::string& question);

}  // namespace windway::cli
