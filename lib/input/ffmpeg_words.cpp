// SPDX-License-Identifier: GPL-3.0-or-later
#include "input/ffmpeg_words.hpp"

#include <algorithm>

#include "input/recorded_at.hpp"
#include "units/read_number.hpp"

namespace windway {
namespace {

std::string_view trimmed(std::string_view text) {
  const std::size_t first = std::min(text.find_first_not_of(" \t\r"), text.size());
  text.remove_prefix(first);
  return text.substr(0, text.find_last_not_of(" \t\r") + 1);
}

/// Up to the first `end`, or all of it.
std::string_view before(std::string_view text, std::string_view end) { return text.substr(0, text.find(end)); }

/// What follows `start`, where the text begins so.
std::optional<std::string_view> after(std::string_view text, std::string_view start) {
  if (!text.starts_with(start)) return std::nullopt;
  return text.substr(start.size());
}

/// A file's own words may hold anything; a message is shown on a terminal and written as UTF-8.
std::string in_ascii(std::string_view text) {
  std::string shown(text);
  std::ranges::replace_if(
      shown, [](char c) { return c < ' ' || c > '~'; }, '?');
  return shown;
}

struct Line {
  std::string_view level;  ///< "info", "error", "fatal", ...; empty: goes on from the line before
  std::string_view text;
};

/// "[aist#0:0/aac @ 0x55a6] [dec:aac @ 0x55a7] [error] it is broken": the parts that speak, if any are named, the
/// level, the text.
Line line_of(std::string_view text) {
  const auto is_in_brackets = [&] { return text.starts_with('[') && text.find(']') != std::string_view::npos; };
  while (is_in_brackets() && before(text, "]").find(" @ 0x") != std::string_view::npos)
    text = trimmed(text.substr(text.find(']') + 1));
  if (!is_in_brackets()) return {{}, trimmed(text)};
  return {before(text.substr(1), "]"), trimmed(text.substr(text.find(']') + 1))};
}

/// "00:01:35.95" in seconds.
std::optional<double> seconds_of(std::string_view clock) {
  if (clock.size() < 8 || clock[2] != ':' || clock[5] != ':') return std::nullopt;
  const auto hours = number_in(clock.substr(0, 2)), minutes = number_in(clock.substr(3, 2)),
             seconds = number_in(clock.substr(6));
  if (!hours || !minutes || !seconds) return std::nullopt;
  return 3600.0 * *hours + 60.0 * *minutes + *seconds;
}

/// "aac (LC) (mp4a / 0x6134706D), 24000 Hz": the codec without the container's own name of it.
std::string codec_of(std::string_view stream) {
  const std::string_view words = before(stream, ",");
  const std::size_t tag = words.rfind(" (");
  const bool has_tag = tag != std::string_view::npos && words.find(" / 0x", tag) != std::string_view::npos;
  return in_ascii(trimmed(has_tag ? words.substr(0, tag) : words));
}

/// Gathers the words line by line.
class Gatherer {
 public:
  void add(const Line& line) {
    if (line.level == "error" || line.level == "fatal" || line.level == "panic") return add_error(line.text);
    if (line.text.starts_with("Estimating duration from bitrate")) duration_is_guess_ = true;
    if (line.level != "info") return;
    if (line.text.starts_with("Stream mapping:") || line.text.starts_with("Output #")) of_input_ = false;
    if (of_input_) add_fact(line.text);
  }

  FfmpegWords gathered() && {
    if (duration_is_guess_ || words_.tracks != 1) words_.duration_s.reset();
    return std::move(words_);
  }

 private:
  void add_error(std::string_view text) {
    const std::string error = in_ascii(after(text, "file:/dev/stdin: ").value_or(text));
    if (std::ranges::find(words_.errors, error) == words_.errors.end()) words_.errors.push_back(error);
  }

  void add_fact(std::string_view text) {
    if (const auto input = after(text, "Input #0, ")) words_.format = in_ascii(before(*input, ", from "));
    if (const auto clock = after(text, "Duration: ")) words_.duration_s = seconds_of(before(*clock, ","));
    if (text.starts_with("creation_time") && !words_.recorded_at) add_date(text.substr(text.find(':') + 1));
    if (text.starts_with("Stream #0:")) add_track(text);
  }

  /// "2024-05-01T12:30:45.000000Z", without the fraction.
  void add_date(std::string_view date) {
    const bool is_utc = date.ends_with('Z');
    words_.recorded_at =
        iso_8601(std::string(before(trimmed(date), ".")) + (is_utc && date.find('.') < date.size() ? "Z" : ""));
  }

  void add_track(std::string_view text) {
    constexpr std::string_view sound = ": Audio: ";
    ++words_.tracks;
    const std::size_t at = text.find(sound);
    if (at == std::string_view::npos) return;
    if (++words_.sound_tracks == 1) words_.codec = codec_of(text.substr(at + sound.size()));
  }

  FfmpegWords words_;
  bool of_input_ = true;
  bool duration_is_guess_ = false;
};

}  // namespace

FfmpegWords ffmpeg_words(std::string_view said) {
  Gatherer gatherer;
  while (!said.empty()) {
    gatherer.add(line_of(before(said, "\n")));
    said.remove_prefix(std::min(said.size(), before(said, "\n").size() + 1));
  }
  return std::move(gatherer).gathered();
}

}  // namespace windway
