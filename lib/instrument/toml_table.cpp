// SPDX-License-Identifier: GPL-3.0-or-later
#include "instrument/toml_table.hpp"

#include <toml++/toml.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <sstream>

#include "instrument/toml_outline.hpp"
#include "units/count_in_words.hpp"
#include "units/nearest_word.hpp"

namespace windway {
namespace {

int line_of(const toml::source_region& source) { return static_cast<int>(source.begin.line); }

std::string place(const std::string& file, const toml::source_region& source) {
  return file + ", line " + std::to_string(line_of(source));
}

/// The shortest decimal that reads back as `value`.
std::string shortest(double value) {
  std::array<char, 32> text{};
  return {text.data(), std::to_chars(text.data(), text.data() + text.size(), value).ptr};
}

std::string listed(const std::vector<std::string>& words) {
  std::string list;
  for (const std::string& word : words) list += (list.empty() ? "" : word == words.back() ? " or " : ", ") + word;
  return list;
}

[[noreturn]] void refuse_at(const std::string& text, std::size_t at, const std::string& file, const std::string& why) {
  const auto end = text.begin() + static_cast<std::ptrdiff_t>(at);
  const int line = static_cast<int>(std::count(text.begin(), end, '\n')) + 1;
  throw TomlMistake(line, file + ", line " + std::to_string(line) + ": " + why);
}

/// A key a.b.c is a table in a table in a table. toml++ calls itself for each: 50,000 of them overflow the stack.
void refuse_deep_keys(const std::string& text, const std::string& file) {
  const std::string outline = toml_outline(text);
  constexpr std::ptrdiff_t most_dots = 2000;  // no instrument and no bench has so many numbers with a point
  if (std::ranges::count(outline, '.') <= most_dots) return;
  std::size_t at = outline.find('.');
  for (std::ptrdiff_t dots = 0; dots < most_dots; ++dots) at = outline.find('.', at + 1);
  refuse_at(text, at, file,
            "more than " + std::to_string(most_dots) + " dots outside of quotes; a key has one, as in head.travel_mm");
}

}  // namespace

struct TomlTable::Node {
  std::shared_ptr<const toml::table> root;  ///< keeps `table` alive
  const toml::table* table = nullptr;
  std::string file;
};

TomlTable TomlTable::parsed(const std::string& text, const std::string& file) {
  refuse_deep_keys(text, file);
  try {
    auto root = std::make_shared<const toml::table>(toml::parse(text));
    return TomlTable(std::make_shared<const Node>(Node{root, root.get(), file}));
  } catch (const toml::parse_error& mistake) {
    throw TomlMistake(line_of(mistake.source()),
                      place(file, mistake.source()) + ": " + std::string(mistake.description()) +
                          "; a line is a key, = and a value: text in quotes, a number, true or false");
  }
}

void TomlTable::refuse(const std::string& key, const std::string& remedy) const {
  const toml::node* node = node_->table->get(key);
  const toml::source_region& source = node ? node->source() : node_->table->source();
  throw TomlMistake(line_of(source), place(node_->file, source) + ", " + key + ": " + remedy);
}

bool TomlTable::has(const std::string& key) const { return node_->table->contains(key); }

std::optional<std::string> TomlTable::text(const std::string& key) const {
  if (!has(key)) return std::nullopt;
  const auto value = (*node_->table)[key].value_exact<std::string>();
  if (!value) refuse(key, "write it in quotes, as in " + key + " = \"...\"");
  if (value->empty()) refuse(key, "is empty; fill it in or leave the line out");
  return *value;
}

std::optional<bool> TomlTable::yes_or_no(const std::string& key) const {
  if (!has(key)) return std::nullopt;
  const auto value = (*node_->table)[key].value_exact<bool>();
  if (!value) refuse(key, "write true or false");
  return *value;
}

std::optional<double> TomlTable::number(const std::string& key, double least, double most,
                                        const std::string& unit) const {
  if (!has(key)) return std::nullopt;
  const std::string wanted = "give a number from " + shortest(least) + " to " + shortest(most) + unit;
  const toml::node* node = node_->table->get(key);
  const auto value = node->is_number() ? node->value<double>() : std::nullopt;
  if (!value) refuse(key, "is not a number; " + wanted);
  if (!(*value >= least && *value <= most)) refuse(key, shortest(*value) + " is out of range; " + wanted);
  return *value;
}

std::optional<int> TomlTable::whole_number(const std::string& key, int least, int most) const {
  const auto value = number(key, least, most, "");
  if (!value) return std::nullopt;
  if (*value != std::round(*value)) refuse(key, "is not a whole number");
  return static_cast<int>(*value);
}

std::optional<std::vector<std::string>> TomlTable::texts(const std::string& key) const {
  if (!has(key)) return std::nullopt;
  const toml::array* array = node_->table->get_as<toml::array>(key);
  if (!array) refuse(key, "write a list in brackets, as in " + key + " = [\"...\", \"...\"]");
  std::vector<std::string> values;
  for (const toml::node& each : *array) {
    const auto value = each.value_exact<std::string>();
    if (!value) refuse(key, "put each entry of the list in quotes");
    values.push_back(*value);
  }
  return values;
}

std::optional<std::vector<std::string>> TomlTable::lines(const std::string& key) const {
  if (!has(key)) return std::nullopt;
  const bool is_text = node_->table->get_as<toml::array>(key) == nullptr;
  if (is_text && !node_->table->get_as<std::string>(key))
    refuse(key, "write it in quotes, or each line of it in a list: " + key + " = [\"...\", \"...\"]");
  std::vector<std::string> lines;
  for (const std::string& part : is_text ? std::vector<std::string>{*text(key)} : *texts(key)) {
    std::istringstream broken(part);
    for (std::string line; std::getline(broken, line);)
      if (line.find_first_not_of(" \t\r") != std::string::npos) lines.push_back(line);
  }
  if (lines.empty()) refuse(key, "is empty; fill it in or leave the line out");
  return lines;
}

std::optional<std::vector<double>> TomlTable::numbers(const std::string& key) const {
  if (!has(key)) return std::nullopt;
  const toml::array* array = node_->table->get_as<toml::array>(key);
  if (!array) refuse(key, "write a list of numbers in brackets");
  std::vector<double> values;
  for (const toml::node& each : *array) {
    const auto value = each.is_number() ? each.value<double>() : std::nullopt;
    if (!value || !std::isfinite(*value)) refuse(key, "write only numbers in the list");
    values.push_back(*value);
  }
  return values;
}

std::optional<TomlTable> TomlTable::table(const std::string& key) const {
  if (!has(key)) return std::nullopt;
  const toml::table* inner = node_->table->get_as<toml::table>(key);
  if (!inner) refuse(key, "is a table: write [" + key + "] on a line of its own and its keys below");
  return TomlTable(std::make_shared<const Node>(Node{node_->root, inner, node_->file}));
}

std::vector<TomlTable> TomlTable::tables(const std::string& key) const {
  if (!has(key)) return {};
  const toml::array* array = node_->table->get_as<toml::array>(key);
  if (!array || !array->is_homogeneous<toml::table>()) {
    refuse(key, "write [[" + key + "]] for each on a line of its own, and its keys below");
  }
  std::vector<TomlTable> all;
  for (const toml::node& each : *array)
    all.push_back(TomlTable(std::make_shared<const Node>(Node{node_->root, each.as_table(), node_->file})));
  return all;
}

void TomlTable::allow_only(const std::vector<std::string>& keys, TomlMistakes& mistakes) const {
  for (const auto& [key, value] : *node_->table) {
    const std::string name(key.str());
    if (std::ranges::find(keys, name) != keys.end()) continue;
    const auto meant = nearest_word(name, keys);
    const std::string remedy = meant ? "did you mean " + *meant + "?" : "known are " + listed(keys);
    mistakes.none_in([&] { refuse(name, "unknown key; " + remedy); });
  }
}

void TomlMistakes::throw_any() const {
  const std::vector<std::string> all = messages();
  if (all.empty()) return;
  const std::string more = all.size() == 1 ? "" : " (and " + count_in_words(all.size() - 1, "more mistake") + ")";
  throw Error(ErrorKind::usage, all.front() + more);
}

std::vector<std::string> TomlMistakes::messages() const {
  std::vector<TomlMistake> by_line = kept_;
  std::ranges::stable_sort(by_line, {}, &TomlMistake::line);
  std::vector<std::string> messages;
  for (const TomlMistake& mistake : by_line) messages.emplace_back(mistake.what());
  return messages;
}

}  // namespace windway
