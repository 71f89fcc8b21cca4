// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/read_number.hpp"

#include <charconv>

namespace windway {
namespace {

template <typename Number>
std::optional<Number> read_whole(std::string_view text) {
  Number value = 0;
  const char* const end = text.data() + text.size();
  const auto [stop, failure] = std::from_chars(text.data(), end, value);
  return failure == std::errc{} && stop == end ? std::optional(value) : std::nullopt;
}

}  // namespace

std::optional<double> number_in(std::string_view text) {
  return read_whole<double>(text.starts_with('+') && !text.starts_with("+-") ? text.substr(1) : text);
}

std::optional<int> whole_number_in(std::string_view text) {
  constexpr std::size_t most_digits = 9;
  const bool is_digits = text.find_first_not_of("0123456789") == std::string_view::npos;
  return is_digits && text.size() <= most_digits ? read_whole<int>(text) : std::nullopt;
}

}  // namespace windway
