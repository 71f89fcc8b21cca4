// SPDX-License-Identifier: GPL-3.0-or-later
#include "manifest/manifest.hpp"

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <functional>
#include <iterator>
#include <map>
#include <set>
#include <sstream>

#include "error.hpp"
#include "input/text_file.hpp"
#include "manifest/csv_table.hpp"
#include "manifest/manifest_cell.hpp"
#include "manifest/true_path.hpp"
#include "units/count_in_words.hpp"
#include "units/nearest_word.hpp"
#include "units/utf8.hpp"

namespace windway {
namespace {

using Setter = std::function<void(ManifestRow&, const ManifestCell&)>;

Setter text_setter(std::optional<std::string> Subject::*text) {
  return [text](ManifestRow& row, const ManifestCell& cell) { row.subject.*text = cell.content; };
}

const std::map<std::string, Setter>& setters() {
  static const std::map<std::string, Setter> all = [] {
    std::map<std::string, Setter> setters{
        {"take", [](ManifestRow& row, const ManifestCell& cell) { row.take = cell.content; }},
        {"remark", text_setter(&Subject::remark)},
        {"retake", [](ManifestRow& row, const ManifestCell& cell) { row.subject.retake = cell.whole_number(); }},
        {"bore_temp_c",
         [](ManifestRow& row, const ManifestCell& cell) { row.bore_temp_c = cell.number(-20, 60, "degrees Celsius"); }},
        {"head_out_mm",
         [](ManifestRow& row, const ManifestCell& cell) { row.head_out_mm = cell.number(0, 100, "mm"); }},
        {"recorded_at",
         [](ManifestRow& row, const ManifestCell& cell) { row.subject.recorded_at = cell.recorded_at(); }},
    };
    for (const SubjectText& each : subject_texts) setters.emplace(each.name, text_setter(each.text));
    return setters;
  }();
  return all;
}

std::string in_small_letters(std::string name) {
  std::ranges::transform(name, name.begin(),
                         [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
  return name;
}

/// In small letters where the column is known, else unchanged.
std::string column_called(const std::string& name) {
  const std::string small = in_small_letters(name);
  return setters().contains(small) ? small : name;
}

/// As the known names are written: "Head-Out (mm)" is "head_out_(mm)".
std::string plain(const std::string& name) {
  std::string plain = in_small_letters(name);
  std::ranges::replace_if(
      plain, [](char letter) { return letter == ' ' || letter == '-'; }, '_');
  return plain;
}

/// Whether the name was probably meant for the known one: less than a third of its letters are wrong, or all is right
/// before its last word (bore_temp, bore_temperature). A name of three letters has too many neighbours to tell.
bool is_near(const std::string& column, const std::string& known) {
  const std::string stem = known.substr(0, std::min(known.rfind('_'), known.size()));
  const bool begins_so = stem.size() < known.size() && column.starts_with(stem);
  return begins_so || 3 * letters_apart(column, known) < static_cast<int>(known.size());
}

/// Reads the table. After a mistake it goes on, to report all of them.
class ManifestReader {
 public:
  ManifestReader(std::string name, char separator) : name_(std::move(name)), separator_(separator) {}

  Manifest read(const std::vector<CsvTableRow>& table) {
    if (table.empty())
      refuse(": it is empty; write the names of the columns into the first line, as in take,serial,stage");
    set_columns(table.front());
    Manifest manifest{.path = name_, .rows = {}, .columns = columns_, .other_columns = {}};
    std::erase(manifest.columns, "");
    std::ranges::copy_if(manifest.columns, std::back_inserter(manifest.other_columns),
                         [](const std::string& column) { return !setters().contains(column); });
    for (std::size_t i = 1; i < table.size(); ++i) {
      const bool is_empty = std::ranges::all_of(table[i].cells, &std::string::empty);  // as spreadsheets leave them
      if (!is_empty) none_wrong_in([&] { manifest.rows.push_back(row_of(table[i])); });
    }
    none_wrong_in([&] { check_takes(manifest); });
    if (manifest.rows.empty() && mistakes_.empty()) refuse(": it names no take; write a line for each below the first");
    if (mistakes_.empty()) return manifest;
    const std::size_t more = mistakes_.size() - 1;
    throw Error(ErrorKind::usage,
                mistakes_.front() + (more > 0 ? " (and " + count_in_words(more, "more mistake") + ")" : ""));
  }

 private:
  [[noreturn]] void refuse(const std::string& what) const { throw Error(ErrorKind::usage, name_ + what); }

  template <typename Read>
  void none_wrong_in(const Read& read) {
    try {
      read();
    } catch (const Error& mistake) {
      mistakes_.emplace_back(mistake.what());
    }
  }

  void set_columns(const CsvTableRow& head) {
    std::set<std::string> seen;
    const std::string where = ", line " + std::to_string(head.line) + ", ";
    for (const std::string& cell : head.cells) {
      const std::string column = column_called(cell);
      columns_.push_back(column);
      const std::string place = where + "column " + std::to_string(columns_.size()) + ": ";
      if (!is_utf8(column)) refuse(place + std::string(not_utf8));
      if (!column.empty() && !seen.insert(column).second)
        refuse(place + column + " is there twice; leave one out or rename it");
    }
    if (!seen.contains("take")) {
      const auto meant = nearest_word("take", columns_);
      refuse(where + "take: there is no such column" + (meant ? " (did you mean " + *meant + "?)" : "") +
             "; the first line must name the columns, as in take,serial,stage");
    }
    for (std::size_t i = 0; i < columns_.size(); ++i)
      none_wrong_in([&] { check_spelling(columns_[i], seen, where + "column " + std::to_string(i + 1)); });
  }

  /// Known names that have a column of their own were not meant by another.
  void check_spelling(const std::string& column, const std::set<std::string>& seen, const std::string& place) const {
    if (column.empty() || setters().contains(column)) return;
    const std::string written = plain(column);
    std::optional<std::string> meant;
    for (const auto& [known, setter] : setters()) {
      const bool is_nearest = !meant || letters_apart(written, known) < letters_apart(written, *meant);
      if (!seen.contains(known) && is_near(written, known) && is_nearest) meant = known;
    }
    if (meant)
      refuse(place + ": " + column + " is unknown; did you mean " + *meant +
             "? Otherwise give your column a less similar name");
  }

  ManifestRow row_of(const CsvTableRow& table_row) {
    const std::string where = ", line " + std::to_string(table_row.line) + ": ";
    const std::vector<std::string>& cells = table_row.cells;
    if (cells.size() != columns_.size()) {
      refuse(where + std::to_string(cells.size()) + (cells.size() == 1 ? " cell" : " cells") +
             " where the first line names " + std::to_string(columns_.size()) +
             " columns; put a cell that holds a separator in quotation marks");
    }
    ManifestRow row;
    row.line = table_row.line;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const std::string column = columns_[i].empty() ? "column " + std::to_string(i + 1) : columns_[i];
      const bool says_nothing = cells[i].empty() && (columns_[i].empty() || setters().contains(columns_[i]));
      if (says_nothing) continue;
      none_wrong_in([&] { set(row, {name_, table_row.line, column, cells[i], separator_}, columns_[i].empty()); });
    }
    if (row.take.empty())
      refuse(", line " + std::to_string(row.line) + ", take: is empty; write the name of the sound file");
    return row;
  }

  static void set(ManifestRow& row, const ManifestCell& cell, bool is_nameless) {
    if (!is_utf8(cell.content)) cell.refuse(std::string(not_utf8));
    if (is_nameless) cell.refuse("has no name in the first line; name it, or empty its cells");
    const auto setter = setters().find(cell.column);
    if (setter != setters().end()) return setter->second(row, cell);
    row.subject.other.emplace_back(cell.column, cell.content);
  }

  void check_takes(const Manifest& manifest) {
    std::map<std::string, int> line_of;
    for (const ManifestRow& row : manifest.rows) {
      const auto found = line_of.emplace(true_path(path_of_take(manifest, row)), row.line);
      if (found.second) continue;
      const int first_line = found.first->second;
      none_wrong_in([&] {
        refuse(", line " + std::to_string(row.line) + ", take: " + row.take + " is already in line " +
               std::to_string(first_line) + "; leave one out");
      });
    }
  }

  std::string name_;
  char separator_;
  std::vector<std::string> columns_;
  std::vector<std::string> mistakes_;
};

char separator_of(const std::string& text) {
  const std::size_t begin = std::min(text.find_first_not_of("\r\n"), text.size());
  const std::string first = text.substr(begin, text.find_first_of("\r\n", begin) - begin);
  for (const char separator : {',', ';', '\t'})
    if (first.find(separator) != std::string::npos) return separator;
  return ',';
}

}  // namespace

Manifest manifest_from_csv(const std::string& text, const std::string& name) {
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  const std::string content = text.starts_with(byte_order_mark) ? text.substr(byte_order_mark.size()) : text;
  const char separator = separator_of(content);
  return ManifestReader(name, separator).read(csv_rows(content, separator, name));
}

Manifest read_manifest(const std::string& path) {
  constexpr std::size_t most_bytes = std::size_t{64} << 20U;  // half a million takes
  return manifest_from_csv(text_file(path, "the manifest", most_bytes), path);
}

std::string path_of_take(const Manifest& manifest, const ManifestRow& row) {
  return (std::filesystem::path(manifest.path).parent_path() / row.take)
      .string();  // an absolute path replaces the folder
}

}  // namespace windway
