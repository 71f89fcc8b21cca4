// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet_folder.hpp"

#include <filesystem>
#include <system_error>
#include <utility>

#include "error.hpp"
#include "report/wording/layout.hpp"
#include "results/file_names.hpp"
#include "results/output_file.hpp"
#include "units/count_in_words.hpp"

namespace windway::cli {
namespace {

namespace fs = std::filesystem;

}  // namespace

SheetFolder::SheetFolder(std::string path, const std::vector<std::string>& serials) : path_(std::move(path)) {
  std::error_code failure;
  fs::create_directories(path_, failure);
  if (!fs::is_directory(path_, failure))
    throw Error(ErrorKind::output, "cannot write into " + path_ + ": it is no folder, and none can be made there");
  const std::vector<std::string> names = file_names_of(serials);
  for (std::size_t at = 0; at < serials.size(); ++at) names_[serials[at]] = names[at] + ".html";
}

void SheetFolder::write(const std::string& serial, const std::string& sheet) {
  const std::string place = place_of(serial);
  std::error_code failure;
  const fs::file_type there = fs::symlink_status(place, failure).type();  // of a link the link, wherever it leads
  if (there != fs::file_type::not_found && there != fs::file_type::regular)
    throw Error(ErrorKind::output, "cannot write " + place + ": what has this name there is no plain file");
  OutputFile(place).finish(sheet);
  ++written_;
}

void SheetFolder::leave_out(const std::string& serial, const std::string& why) {
  std::error_code failure;
  const bool has_earlier = fs::exists(place_of(serial), failure);
  left_out_.push_back("  " + serial + " is left out: " + why +
                      (has_earlier ? "; an earlier sheet of it is still there, " + names_.at(serial) : ""));
}

std::string SheetFolder::report(std::size_t columns) const {
  std::string text = wrapped(count_in_words(written_, "sheet") + " written to " + path_ + ".", 2, columns);
  for (const std::string& line : left_out_) text += wrapped(line, 6, columns);
  return text;
}

std::string SheetFolder::place_of(const std::string& serial) const {
  return (fs::path(path_) / names_.at(serial)).string();
}

}  // namespace windway::cli
