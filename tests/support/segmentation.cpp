// SPDX-License-Identifier: GPL-3.0-or-later
#include "support/segmentation.hpp"

#include <algorithm>
#include <cmath>

#include "units/units.hpp"

namespace windway::synthesis {
namespace {

constexpr double heard_band_hz = 30.0;
constexpr double absent_db = -200.0;

/// How long the reverberation of a tone of `tone_db` stands over the noise of the band it is heard in.
double echo_s(double tone_db, const RecordingChain& chain, double rate_hz) {
  const double band_floor_db = chain.floor_db + db_from_power(heard_band_hz / (0.5 * rate_hz));
  return chain.reverb_s * std::max(0.0, tone_db + chain.reverb_db - band_floor_db) / 60.0;
}

}  // namespace

TrueSegmentation with_echoes(const TrueSegmentation& sounding, const RecordingChain& chain,
                             const std::vector<float>& samples, double rate_hz) {
  const double take_s = static_cast<double>(samples.size()) / rate_hz;
  TrueSegmentation out;
  for (std::size_t i = 0; i < sounding.size(); ++i) {
    out.push_back(sounding[i]);
    if (sounding[i].what != Sounding::blown || chain.reverb_s <= 0.0) continue;
    const double next_s = i + 1 < sounding.size() ? sounding[i + 1].start_s : take_s;
    TrueStretch echo;
    echo.what = Sounding::echo;
    echo.start_s = sounding[i].end_s;
    echo.end_s = std::min(next_s, echo.start_s + echo_s(level_db(sounding[i], samples, rate_hz), chain, rate_hz));
    echo.midi = sounding[i].midi;
    if (echo.end_s > echo.start_s) out.push_back(echo);
  }
  return out;
}

TrueSegmentation with_whine(const TrueSegmentation& sounding, double take_s) {
  TrueSegmentation out;
  double silent_from_s = 0.0;
  const auto whine_until = [&](double until_s) {
    TrueStretch whine;
    whine.what = Sounding::foreign;
    whine.start_s = silent_from_s;
    whine.end_s = until_s;
    if (whine.end_s > whine.start_s) out.push_back(whine);
  };
  for (const TrueStretch& stretch : sounding) {
    whine_until(stretch.start_s);
    out.push_back(stretch);
    silent_from_s = stretch.end_s;
  }
  whine_until(take_s);
  return out;
}

double level_db(const TrueStretch& blown, const std::vector<float>& samples, double rate_hz) {
  const auto first = static_cast<std::size_t>((blown.start_s + blown.attack_s) * rate_hz);
  const auto last = std::min(samples.size(), static_cast<std::size_t>((blown.end_s - blown.release_s) * rate_hz));
  if (last <= first) return absent_db;
  double power = 0.0;
  for (std::size_t i = first; i < last; ++i) power += static_cast<double>(samples[i]) * samples[i];
  return db_from_power(power / static_cast<double>(last - first) + power_from_db(absent_db));
}

}  // namespace windway::synthesis
