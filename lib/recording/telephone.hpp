// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace windway {

/// How much of a file's beginning container_of looks at; less is allowed.
inline constexpr std::size_t container_head_bytes = 4096;

/// What a file is, told by its first bytes, where it is one of the containers that telephones and web pages record
/// into and libsndfile does not read: "MPEG-4 or QuickTime (.m4a, ...)", "raw AAC (.aac)", "WebM or Matroska" and so
/// on. Empty for every other file. Signatures from the formats' own specifications (ISO 14496-12, RFC 8794, RFC 4867,
/// ISO 13818-7), from memory.
std::optional<std::string_view> container_of(std::span<const unsigned char> head);

/// A container of which libsndfile reads some files only, such as CAF or Ogg with a codec that it does not know; worth
/// asking once opening the file has failed.
std::optional<std::string_view> partly_read_container_of(std::span<const unsigned char> head);

/// The command that makes a FLAC file of `path`, ready to paste into a shell: ffmpeg -i 'New take.m4a' take.flac
std::string conversion_command(std::string_view path);

/// `text` as one word of a POSIX shell, in single quotes.
std::string shell_quoted(std::string_view text);

}  // namespace windway
