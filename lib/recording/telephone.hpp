// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace windway {

/// Bytes of a file's beginning that container_of reads; fewer are allowed.
inline constexpr std::size_t container_head_bytes = 4096;

struct Container {
  std::string_view name;      ///< "MPEG-4 or QuickTime (.m4a, .mp4, .mov, .3gp)"
  std::string_view demuxers;  ///< by which ffmpeg reads it, separated by commas
};

/// The container of a file by its first bytes, where telephones and web pages record into it and libsndfile does not
/// read it: MPEG-4 or QuickTime, raw AAC, WebM or Matroska and so on. Empty for every other file. Signatures from the
/// formats' own specifications (ISO 14496-12, RFC 8794, RFC 4867, ISO 13818-7), from memory.
std::optional<Container> container_of(std::span<const unsigned char> head);

/// A container of which libsndfile reads some files only, such as CAF or Ogg with a codec that it does not know. For
/// files that could not be opened.
std::optional<Container> partly_read_container_of(std::span<const unsigned char> head);

/// What ffmpeg may take any other file for: formats that it knows by more than a few bytes. Lists of other files are
/// not among them.
inline constexpr std::string_view other_demuxers = "tta,mpc,mpc8,tak,dsf,ac3,eac3,dts,dtshd,loas,mpeg,mpegts";

/// A shell command that makes a FLAC file of `path`: ffmpeg -i 'New take.m4a' take.flac
std::string conversion_command(std::string_view path);

/// `text` as one word of a POSIX shell, in single quotes.
std::string shell_quoted(std::string_view text);

}  // namespace windway
