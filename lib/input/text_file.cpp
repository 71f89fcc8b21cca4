// SPDX-License-Identifier: GPL-3.0-or-later
#include "input/text_file.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <system_error>

#include "error.hpp"

namespace windway {
namespace {

namespace fs = std::filesystem;

/// Up to `most` characters.
std::string characters_of(std::ifstream& file, std::size_t most) {
  constexpr std::size_t block_bytes = std::size_t{64} * 1024;
  std::string text;
  while (file && text.size() < most) {
    const std::size_t filled = text.size();
    text.resize(std::min(most, filled + block_bytes));
    file.read(text.data() + filled, static_cast<std::streamsize>(text.size() - filled));
    text.resize(filled + static_cast<std::size_t>(file.gcount()));
  }
  return text;
}

}  // namespace

std::string text_file(const std::string& path, const std::string& what, std::size_t most_bytes) {
  const auto refuse = [&](const std::string& why) {
    throw Error(ErrorKind::usage, "cannot read " + what + " " + path + ": " + why);
  };
  std::error_code failure;
  const fs::file_type type = fs::status(path, failure).type();
  if (type == fs::file_type::directory) refuse("it is a folder; name the file in it");
  if (type == fs::file_type::character) refuse("it is a device; name a file");
  std::ifstream file(path, std::ios::binary);
  if (!file) refuse("check its name and its permissions");
  std::string text = characters_of(file, most_bytes + 1);
  if (file.bad()) refuse("the disk fails; copy it to another disk and try again");
  if (text.size() > most_bytes)
    refuse("it is larger than " + std::to_string(most_bytes >> 20U) + " MiB, which " + what + " cannot be");
  return text;
}

}  // namespace windway
