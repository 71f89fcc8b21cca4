// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/truncation.hpp"

#include <algorithm>
#include <cstring>
#include <string_view>

namespace windway {
namespace {

using std::string_view_literals::operator""sv;

// A writer that cannot seek back leaves a length near 2 or 4 GiB in the header: such a file is not cut off.
constexpr std::uint64_t least_placeholder_bytes = 0x7ff00000;
constexpr std::uint64_t length_in_ds64 = 0xffffffff;
constexpr int most_chunks = 1000;  // bounds the time for a damaged header

struct Layout {
  std::size_t id_bytes;
  std::size_t length_bytes;
  bool big_endian;
  bool length_counts_header;  // W64
  std::uint64_t alignment;
  std::int64_t first_chunk;
  std::string_view data_id;
};

constexpr Layout riff{4, 4, false, false, 2, 12, "data"sv};
constexpr Layout aiff{4, 4, true, false, 2, 12, "SSND"sv};
constexpr Layout core_audio{4, 8, true, false, 1, 8, "data"sv};
constexpr Layout wave64{16, 8, false, true, 8, 40, "data"sv};

std::uint64_t number_at(const std::vector<unsigned char>& bytes, std::size_t at, std::size_t count, bool big_endian) {
  std::uint64_t value = 0;
  for (std::size_t i = 0; i < count; ++i) {
    value = (value << 8U) | bytes[at + (big_endian ? i : count - 1 - i)];
  }
  return value;
}

bool starts_with(const std::vector<unsigned char>& bytes, std::string_view text) {
  return bytes.size() >= text.size() && std::memcmp(bytes.data(), text.data(), text.size()) == 0;
}

std::optional<Layout> layout_of(const InputFile& file) {
  const std::vector<unsigned char> head = file.bytes_at(0, 4);
  if (starts_with(head, "RIFF"sv) || starts_with(head, "RF64"sv)) return riff;
  if (starts_with(head, "FORM"sv)) return aiff;
  if (starts_with(head, "riff"sv)) return wave64;
  if (starts_with(head, "caff"sv)) return core_audio;
  return std::nullopt;
}

std::optional<double> share_of(std::uint64_t claimed_bytes, std::uint64_t present_bytes) {
  if (claimed_bytes <= present_bytes || claimed_bytes >= least_placeholder_bytes) return std::nullopt;
  return static_cast<double>(present_bytes) / static_cast<double>(claimed_bytes);
}

/// Sun's format: the place and the length of the samples stand in its header.
std::optional<double> share_of_au(const InputFile& file) {
  const std::vector<unsigned char> head = file.bytes_at(0, 12);
  if (!starts_with(head, ".snd"sv) || head.size() < 12) return std::nullopt;
  const std::uint64_t start = number_at(head, 4, 4, true);
  const auto size = static_cast<std::uint64_t>(file.size_bytes());
  return start > size ? std::nullopt : share_of(number_at(head, 8, 4, true), size - start);
}

/// RFC 3533: the last page of a stream says that it is the last. No header says how long a stream is.
bool is_cut_off_ogg(const InputFile& file) {
  constexpr std::size_t header_bytes = 27, most_segments = 255;
  constexpr std::int64_t most_page_bytes = header_bytes + most_segments + most_segments * 255;
  constexpr unsigned end_of_stream = 4;
  if (!starts_with(file.bytes_at(0, 4), "OggS"sv)) return false;
  const std::int64_t from = std::max<std::int64_t>(0, file.size_bytes() - most_page_bytes);
  const std::vector<unsigned char> tail = file.bytes_at(from, most_page_bytes);
  const std::string_view text(reinterpret_cast<const char*>(tail.data()), tail.size());
  const std::size_t page = text.rfind("OggS"sv);
  if (page == std::string_view::npos || page + header_bytes > tail.size()) return true;
  const std::size_t segments = tail[page + header_bytes - 1];
  std::size_t end = page + header_bytes + segments;
  for (std::size_t i = 0; i < segments && page + header_bytes + i < tail.size(); ++i)
    end += tail[page + header_bytes + i];
  return end > tail.size() || (tail[page + 5] & end_of_stream) == 0;
}

/// Formats made of chunks, of which one holds the samples.
std::optional<double> share_of_chunks(const InputFile& file) {
  const std::optional<Layout> layout = layout_of(file);
  if (!layout) return std::nullopt;
  const std::size_t header_bytes = layout->id_bytes + layout->length_bytes;
  std::uint64_t long_length = 0;  // RF64 has it in its ds64 chunk
  std::int64_t at = layout->first_chunk;
  for (int i = 0; i < most_chunks; ++i) {
    const std::vector<unsigned char> chunk = file.bytes_at(at, header_bytes + 16);
    if (chunk.size() < header_bytes) return std::nullopt;
    std::uint64_t length = number_at(chunk, layout->id_bytes, layout->length_bytes, layout->big_endian);
    if (layout->length_counts_header) length -= std::min<std::uint64_t>(length, header_bytes);
    if (starts_with(chunk, "ds64"sv) && chunk.size() == header_bytes + 16) {
      long_length = number_at(chunk, header_bytes + 8, 8, false);
    }
    const auto start = static_cast<std::uint64_t>(at) + header_bytes;
    const auto size = static_cast<std::uint64_t>(file.size_bytes());
    if (starts_with(chunk, layout->data_id)) {
      return share_of(length == length_in_ds64 && long_length > 0 ? long_length : length, size - start);
    }
    if (length > size - start) return std::nullopt;
    at = static_cast<std::int64_t>(start + (length + layout->alignment - 1) / layout->alignment * layout->alignment);
  }
  return std::nullopt;
}

}  // namespace

std::optional<CutOff> cut_off(const InputFile& file) {
  if (is_cut_off_ogg(file)) return CutOff{};
  const std::optional<double> share = share_of_chunks(file);
  const std::optional<double> present = share ? share : share_of_au(file);
  return present ? std::optional(CutOff{present}) : std::nullopt;
}

}  // namespace windway
