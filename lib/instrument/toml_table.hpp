// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "error.hpp"

namespace windway {

/// A mistake in a TOML file; its message says file, line, key and remedy.
struct TomlMistake : Error {
  TomlMistake(int at_line, const std::string& message) : Error(ErrorKind::usage, message), line(at_line) {}
  int line = 0;
};

/// The mistakes of a file, gathered so that a person hears of all at once.
class TomlMistakes {
 public:
  /// Whether `read` did without a mistake; one that it throws is kept.
  template <typename Read>
  bool none_in(const Read& read) {
    try {
      read();
      return true;
    } catch (const TomlMistake& mistake) {
      kept_.push_back(mistake);
      return false;
    }
  }
  /// Throws the first mistake, with how many more there are, if there is any.
  void throw_any() const;
  /// In the order of the lines.
  std::vector<std::string> messages() const;

 private:
  std::vector<TomlMistake> kept_;
};

/// One table of a TOML file, read key by key; each mistake is an Error (kind usage) that says file, line, key and
/// remedy.
class TomlTable {
 public:
  /// Parses the text of a file. Throws Error where it is no TOML.
  static TomlTable parsed(const std::string& text, const std::string& file);

  bool has(const std::string& key) const;
  /// Empty where the key is not there.
  std::optional<std::string> text(const std::string& key) const;
  std::optional<bool> yes_or_no(const std::string& key) const;
  std::optional<double> number(const std::string& key, double least, double most, const std::string& unit) const;
  std::optional<int> whole_number(const std::string& key, int least, int most) const;
  std::optional<std::vector<std::string>> texts(const std::string& key) const;
  /// Lines of text: a list of them, or one text whose line breaks part them.
  std::optional<std::vector<std::string>> lines(const std::string& key) const;
  std::optional<std::vector<double>> numbers(const std::string& key) const;
  std::optional<TomlTable> table(const std::string& key) const;
  std::vector<TomlTable> tables(const std::string& key) const;

  /// Each key that is none of these is a mistake: a slip of the pen must not be passed over.
  void allow_only(const std::vector<std::string>& keys, TomlMistakes& mistakes) const;
  /// "flute.toml, line 7, lowest: ...": with the line of that key, or of the table where it is not there.
  [[noreturn]] void refuse(const std::string& key, const std::string& remedy) const;

 private:
  struct Node;
  explicit TomlTable(std::shared_ptr<const Node> node) : node_(std::move(node)) {}
  std::shared_ptr<const Node> node_;
};

}  // namespace windway
