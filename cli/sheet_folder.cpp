// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet_folder.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <system_error>
#include <utility>

#include "call_files.hpp"
#include "error.hpp"
#include "report/pages/sheet_page.hpp"
#include "report/wording/layout.hpp"
#include "results/file_names.hpp"
#include "results/output_file.hpp"
#include "units/count_in_words.hpp"

namespace windway::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t most_told = 500;

bool is_sheet(const std::string& path) {
  std::error_code failure;
  constexpr std::uintmax_t most_bytes = std::uintmax_t{1} << 24U;  // far more than a sheet has
  if (!fs::is_regular_file(path, failure) || fs::file_size(path, failure) > most_bytes) return false;
  std::ifstream file(path, std::ios::binary);
  return is_sheet_page(std::string{std::istreambuf_iterator<char>(file), {}});
}

}  // namespace

SheetFolder::SheetFolder(std::string path, const std::vector<std::string>& serials, std::vector<std::string> inputs)
    : path_(std::move(path)), inputs_(std::move(inputs)) {
  std::error_code failure;
  fs::create_directories(path_, failure);
  if (!fs::is_directory(path_, failure))
    throw Error(ErrorKind::output, "cannot write into " + path_ + ": it is not a folder, and none can be made there");
  const std::vector<std::string> names = file_names_of(serials);
  for (std::size_t at = 0; at < serials.size(); ++at) names_[serials[at]] = names[at] + ".html";
}

void SheetFolder::write(const std::string& serial, const std::string& sheet) {
  const std::string place = place_of(serial);
  std::error_code failure;
  const fs::file_type there = fs::symlink_status(place, failure).type();  // of a link the link, wherever it leads
  if (there != fs::file_type::not_found && there != fs::file_type::regular)
    throw Error(ErrorKind::output, "cannot write " + place + ": it is there and is not a plain file");
  const bool is_input = std::ranges::any_of(
      inputs_, [&](const std::string& input) { return !input.empty() && is_same_file(input, place); });
  if (is_input) return leave_out(serial, "its sheet would overwrite " + place + ", which this run reads");
  if (there == fs::file_type::regular && !is_sheet(place))
    return leave_out(serial, place + " is there and is not a sheet: move it away");
  OutputFile(place).finish(sheet);
  ++written_;
}

void SheetFolder::leave_out(const std::string& serial, const std::string& why) {
  if (left_out_.size() == most_told) return static_cast<void>(++further_left_out_);
  const bool has_earlier = is_sheet(place_of(serial));
  left_out_.push_back("  " + serial + " is left out: " + why +
                      (has_earlier ? "; an earlier sheet of it is still there, " + names_.at(serial) : ""));
}

std::string SheetFolder::report(std::size_t columns) const {
  std::string text = wrapped(count_in_words(written_, "sheet") + " written to " + path_ + ".", 2, columns);
  for (const std::string& line : left_out_) text += wrapped(line, 6, columns);
  if (further_left_out_ > 0)
    text += wrapped("  " + std::to_string(further_left_out_) + " more are left out.", 6, columns);
  return text;
}

std::string SheetFolder::place_of(const std::string& serial) const {
  return (fs::path(path_) / names_.at(serial)).string();
}

}  // namespace windway::cli
