// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/telephone_sound.hpp"

#include <optional>
#include <system_error>

#include "error.hpp"
#include "recording/telephone.hpp"

namespace windway {
namespace {

std::optional<Container> any_container_of(std::span<const unsigned char> head) {
  const auto container = container_of(head);
  return container ? container : partly_read_container_of(head);
}

std::string conversion_of(const std::string& path) {
  return path == "-" ? "ffmpeg -i FILE take.flac" : conversion_command(path);
}

[[noreturn]] void refuse_without_ffmpeg(const std::string& path, std::span<const unsigned char> head) {
  const auto container = any_container_of(head);
  if (!container) refuse_to_read(path, "not a sound file libsndfile knows; record or export it as WAV or FLAC");
  refuse_to_read(path, "it is " + std::string(container->name) +
                           (container_of(head) ? ", which libsndfile does not read" : "") +
                           "; install ffmpeg, or convert it on a computer that has ffmpeg: " + conversion_of(path));
}

[[noreturn]] void refuse_undecoded(const std::string& path, std::span<const unsigned char> head,
                                   const FfmpegWords& words) {
  const auto container = any_container_of(head);
  if (words.tracks > 0 && words.sound_tracks == 0)
    refuse_to_read(path, "it holds pictures but no sound; record it again");
  if (!container)
    refuse_to_read(path, "neither libsndfile nor ffmpeg can read it; copy it again, or export it as WAV or FLAC");
  refuse_to_read(path, "it is " + std::string(container->name) + ", and ffmpeg cannot decode it (" +
                           quoted_errors(words.errors) + "); copy it again, or export it as WAV or FLAC");
}

std::unique_ptr<Decoder> started(const InputFile& input, const std::string& path, std::string_view demuxers) {
  try {
    return Decoder::start(input, demuxers);
  } catch (const std::system_error& failure) {
    refuse_to_read(path, "ffmpeg, which decodes it, cannot be started: " + failure.code().message() + "; try again");
  }
}

/// "MPEG-4 or QuickTime" of "MPEG-4 or QuickTime (.m4a, ...)", "WAV" of "WAV, damaged or ...".
std::string_view plain_name(std::string_view name) {
  for (const std::string_view end : {" (", ",", " with "}) name = name.substr(0, name.find(end));
  return name;
}

}  // namespace

std::unique_ptr<Decoder> decoder_of(const InputFile& input, const std::string& path,
                                    std::span<const unsigned char> head) {
  const auto container = any_container_of(head);
  auto decoder = started(input, path, container ? container->demuxers : other_demuxers);
  if (!decoder) refuse_without_ffmpeg(path, head);
  if (!decoder->has_sound()) refuse_undecoded(path, head, decoder->words());
  return decoder;
}

Coding coding_by(const Decoder& decoder, std::span<const unsigned char> head) {
  const FfmpegWords words = decoder.words();
  const auto container = any_container_of(head);
  return ffmpeg_coding(container ? plain_name(container->name) : words.format, words.codec);
}

std::string quoted_errors(const std::vector<std::string>& errors) {
  if (errors.empty()) return "it gave no reason";
  const std::string others = errors.size() > 1 ? " and " + std::to_string(errors.size() - 1) + " more" : "";
  return "\"" + errors.front() + "\"" + others;
}

}  // namespace windway
