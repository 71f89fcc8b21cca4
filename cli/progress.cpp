// SPDX-License-Identifier: GPL-3.0-or-later
#include "progress.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include "results/output_file.hpp"
#include "standard_streams.hpp"

namespace windway::cli {
namespace {

constexpr auto least_time_between = std::chrono::milliseconds(200);

std::string time_words(double seconds) {
  const long whole = std::lround(seconds);
  return whole < 60 ? fmt::format("{} s", whole) : fmt::format("{}:{:02} min", whole / 60, whole % 60);
}

}  // namespace

Progress::Progress(std::size_t all) : all_(all), is_shown_(isatty(message_stream()) == 1) {}

Progress::~Progress() {
  if (is_shown_) write_all(message_stream(), "\r\x1b[K");
}

void Progress::step() {
  ++done_;
  const auto now = Clock::now();
  if (!is_shown_ || now - shown_ < least_time_between) return;
  shown_ = now;
  const double seconds = std::chrono::duration<double>(now - began_).count();
  const double rate = static_cast<double>(done_) / seconds;
  const double left_s = static_cast<double>(all_ - done_) / rate;
  write_all(message_stream(),
            fmt::format("\r{} of {} takes, {:.1f} a second, {} left\x1b[K", done_, all_, rate, time_words(left_s)));
}

}  // namespace windway::cli
