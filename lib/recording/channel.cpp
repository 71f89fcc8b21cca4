// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/channel.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>

#include "units/units.hpp"

namespace windway {
namespace {

constexpr double enough_rate_hz = 16000;
constexpr double block_s = 0.06;
constexpr double settling_s = 0.015;  // more than four time constants of the high-pass
constexpr double window_s = 0.02;     // three periods of the lowest flute
constexpr double high_pass_hz = 200;  // applied twice: -24 dB at 50 Hz hum, -4 dB at the lowest whistle's note
constexpr double lowest_tone_hz = 165;
constexpr double most_clean_db = 30;  // beyond it the pitch gets no better
constexpr double clipped_loss_db = 30;
constexpr double clipped_share_limit = 0.005;
constexpr double alike_db = 1.0;

std::size_t samples_in(double seconds, double rate_hz) { return static_cast<std::size_t>(seconds * rate_hz); }

/// Means of `thinning` samples each, with the mean of the block removed.
std::vector<float> thinned(std::span<const float> block, std::size_t thinning) {
  std::vector<float> out(block.size() / thinning);
  double sum = 0.0;
  for (std::size_t i = 0; i < out.size(); ++i) {
    float value = 0.0f;
    for (std::size_t j = 0; j < thinning; ++j) value += block[i * thinning + j];
    out[i] = value / static_cast<float>(thinning);
    sum += out[i];
  }
  const auto mean = static_cast<float>(sum / static_cast<double>(out.size()));
  for (float& value : out) value -= mean;
  return out;
}

void high_pass(std::vector<float>& samples, double rate_hz) {
  const auto keep = static_cast<float>(std::exp(-2 * std::numbers::pi * high_pass_hz / rate_hz));
  float before = samples.empty() ? 0.0f : samples[0];
  float out = 0.0f;
  for (float& sample : samples) {
    out = keep * (out + sample - before);
    before = sample;
    sample = out;
  }
}

double product_sum(const float* a, const float* b, std::size_t count) {
  std::array<float, 8> sums{};
  for (std::size_t i = 0; i + 8 <= count; i += 8) {
    for (std::size_t lane = 0; lane < 8; ++lane) sums[lane] += a[i + lane] * b[i + lane];
  }
  return std::accumulate(sums.begin(), sums.end(), 0.0);
}

/// Largest normalised autocorrelation at the lags of a flute's periods. Only lags after its first negative value count:
/// near lag 0 it is high for every slow signal, such as hum.
double periodic_share(std::span<const float> x, std::size_t window, std::size_t longest_lag) {
  const double power = product_sum(x.data(), x.data(), window);
  double best = 0.0;
  bool dipped = false;
  for (std::size_t lag = 1; lag <= longest_lag && lag + window <= x.size(); ++lag) {
    const double product = product_sum(x.data(), x.data() + lag, window);
    dipped = dipped || product < 0.0;
    if (!dipped || product <= 0.0) continue;
    const double later_power = product_sum(x.data() + lag, x.data() + lag, window);
    best = std::max(best, product / std::sqrt(power * later_power));
  }
  return std::min(best, 1.0);
}

}  // namespace

ChannelJudge::ChannelJudge(int channels, int rate_hz, double sample_step)
    : channels_(static_cast<std::size_t>(channels), Channel{0, 0, ClippedRuns(sample_step)}),
      thinning_(static_cast<std::size_t>(std::max(1.0, rate_hz / enough_rate_hz))),
      rate_hz_(rate_hz / static_cast<double>(thinning_)),
      block_frames_(samples_in(block_s, rate_hz)) {}

void ChannelJudge::add(std::span<const float> interleaved) {
  if (interleaved.size() < block_frames_ * channels_.size()) return;
  const std::size_t window = samples_in(window_s, rate_hz_);
  const std::size_t longest_lag = samples_in(1 / lowest_tone_hz, rate_hz_);
  std::vector<float> whole(block_frames_);
  for (std::size_t c = 0; c < channels_.size(); ++c) {
    for (std::size_t i = 0; i < whole.size(); ++i) whole[i] = interleaved[i * channels_.size() + c];
    channels_[c].clipping.add(whole);
    std::vector<float> samples = thinned(whole, thinning_);
    high_pass(samples, rate_hz_);
    high_pass(samples, rate_hz_);
    const auto settled = std::span<const float>(samples).subspan(samples_in(settling_s, rate_hz_));
    const double power = product_sum(settled.data(), settled.data(), window) / static_cast<double>(window);
    const double share = power > 0.0 ? periodic_share(settled, window, longest_lag) : 0.0;
    channels_[c].tone_power += power * share;
    channels_[c].rest_power += power * (1.0 - share);
  }
}

double ChannelJudge::life_db(const Channel& channel) {
  if (!(channel.tone_power > 0.0)) return -std::numeric_limits<double>::infinity();
  const double tone_db = db_from_power(channel.tone_power);
  // The addend, far below 24-bit noise, keeps the logarithm finite.
  const double clean_db = tone_db - db_from_power(channel.rest_power + 1e-30);
  const double loss_db = channel.clipping.share() > clipped_share_limit ? clipped_loss_db : 0.0;
  return tone_db + std::min(clean_db, most_clean_db) - loss_db;
}

int ChannelJudge::best() const {
  double most_db = -std::numeric_limits<double>::infinity();
  for (const Channel& channel : channels_) most_db = std::max(most_db, life_db(channel));
  const auto first = std::find_if(channels_.begin(), channels_.end(),
                                  [most_db](const Channel& c) { return life_db(c) >= most_db - alike_db; });
  return first == channels_.end() ? 0 : static_cast<int>(first - channels_.begin());
}

}  // namespace windway
