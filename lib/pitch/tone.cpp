// SPDX-License-Identifier: GPL-3.0-or-later
#include "pitch/tone.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "pitch/explained.hpp"
#include "pitch/noise_power.hpp"
#include "units/units.hpp"

namespace windway {

namespace {

constexpr double noise_from_hz = 700.0;  // breath noise of a duct flute lies above this
constexpr double noise_to_hz = 7000.0;
constexpr double explained_in_context = 0.6;  // is enough for the pitch of the frames before
constexpr double lower_adds = 0.03;           // a lower pitch must explain this much more, by its odd harmonics
constexpr std::size_t context_frames = 15;    // before and after: 0.15 s
constexpr double steady_change = 0.0019;      // a frame; over context_frames that stays below same_pitch
constexpr double gap_share = 0.06;       // of the power: 12 dB under a frame lies a gap; what is beyond is another note
constexpr std::size_t note_frames = 40;  // before and after: as much of a note as is asked for a weak fundamental
constexpr int multiple_every_frames = 8;
constexpr double all_hz = 1e9;
constexpr double clear_from_share = 0.6;  // of the fundamental: what lies below is not asked for clarity
constexpr double goes_on_share = 0.6;     // of a frame's power; a lone tone between two bins shows 0.72 in one of them
constexpr int search_every_frames = 8;

Tone tone_at(const SpectrumFrame& spectrum, const Band& band, double f0_hz, double noise_power) {
  Tone tone;
  tone.f0_hz = static_cast<float>(f0_hz);
  double harmonic_power = 0;
  for (int h = 1; h <= harmonics_tracked && h * f0_hz < static_cast<double>(band.to - 1) * band.bin_hz; ++h) {
    const double place = h * f0_hz / band.bin_hz;
    const std::size_t bin = nearest_bin(place);
    const double modulus = std::sqrt(2.0 * spectrum.power[bin]);
    const double amplitude = modulus / hann_lobe(place - static_cast<double>(bin));
    tone.amplitude[static_cast<std::size_t>(h - 1)] = static_cast<float>(amplitude);
    tone.phase_rad[static_cast<std::size_t>(h - 1)] = std::arg(spectrum.amplitude[bin]);
    harmonic_power += std::max(0.0, amplitude * amplitude / 2.0 - noise_power);
  }
  // Rumble and hum below the tone do not make it less clear.
  const std::size_t below = nearest_bin(clear_from_share * f0_hz / band.bin_hz);
  const double power_from_there = sum_of(spectrum.power, std::max(below, band.from), band.to) / hann_noise_bins;
  tone.clarity = static_cast<float>(std::min(1.0, harmonic_power / std::max(power_from_there, 1e-20)));
  return tone;
}

double total_power_in(std::span<const float> power, const Band& band) {
  return std::max(sum_of(power, band.from, band.to) / hann_noise_bins, static_cast<double>(silence_power));
}

/// What a pitch may be of another, and how many frames say so.
struct Votes {
  static constexpr std::array<double, 7> multiples{1.0 / 4, 1.0 / 3, 1.0 / 2, 1.0, 2.0, 3.0, 4.0};
  static constexpr std::size_t same = 3;
  std::array<int, multiples.size()> counts{};

  /// A frame's pitch is this many times the one in question.
  void add(double ratio) {
    const double upwards = ratio > 1.0 ? ratio : 1.0 / ratio;
    const auto n = static_cast<std::size_t>(static_cast<int>(upwards + 0.5));  // NOLINT(bugprone-incorrect-roundings)
    const auto exact = static_cast<double>(n);
    if (n > 4 || std::abs(upwards - exact) >= (same_pitch - 1.0) * exact) return;
    ++counts[ratio > 1.0 ? same + n - 1 : same + 1 - n];
  }
  /// Most frames say so, and more than say that it is the same.
  std::optional<double> other_multiple() const {
    const auto most = std::max_element(counts.begin(), counts.end());
    return *most > counts[same] ? std::optional(multiples[static_cast<std::size_t>(most - counts.begin())])
                                : std::nullopt;
  }
};

/// Is any of these, but those that are 0, another pitch than `hz`?
bool any_apart(std::span<const double> heard_hz, double hz) {
  int apart = 0;
  for (const double other_hz : heard_hz) {
    apart += static_cast<int>(other_hz > 0.0) & static_cast<int>(std::abs(other_hz - hz) >= (same_pitch - 1.0) * hz);
  }
  return apart > 0;
}

/// May the pitch be taken for `multiple` times what the spectrum alone says?
bool allows(std::span<const float> power, const Band& band, double alone_hz, double multiple, double noise_power) {
  const double alone = explained_power(power, band, alone_hz, noise_power);
  const double other = explained_power(power, band, multiple * alone_hz, noise_power);
  return multiple > 1.0 ? other >= explained_in_context * alone : other >= (1.0 + lower_adds) * alone;
}

}  // namespace

double ToneFinder::voted_hz(std::size_t index) const {
  const Judged& judged = judged_[index];
  const double alone_hz = *judged.alone_hz;
  const std::size_t first = index - std::min(index, context_frames);
  const std::size_t end = std::min(index + context_frames + 1, judged_.size());
  if (judged_[end - 1].steady_frames >= end - first) return alone_hz;  // none can differ
  if (!any_apart(std::span(heard_).subspan(first, end - first), alone_hz)) return alone_hz;
  Votes votes;
  const double per_hz = 1.0 / alone_hz;
  for (std::size_t i = first; i < end; ++i) {
    if (heard_[i] > 0.0) votes.add(heard_[i] * per_hz);
  }
  const auto multiple = votes.other_multiple();
  if (!multiple) return alone_hz;
  const Band band = band_of(judged.spectrum, bin_hz_, voice_min_hz, all_hz);
  return allows(judged.spectrum.power, band, alone_hz, *multiple, judged.noise_power) ? *multiple * alone_hz : alone_hz;
}

/// The frames about the next one in which the same note sounds, whichever of its harmonics is heard for its pitch.
std::vector<HeardFrame> ToneFinder::note_at_next(double doubted_hz) const {
  const double least_power = gap_share * judged_[next_index_].total_power;
  const auto heard = [&](std::size_t i) -> std::optional<HeardFrame> {
    const Judged& judged = judged_[i];
    if (!judged.alone_hz || judged.total_power < least_power) return std::nullopt;
    const auto ratio = harmonic_ratio(*judged.alone_hz, doubted_hz);
    return ratio ? std::optional(HeardFrame{&judged.spectrum, *judged.alone_hz / *ratio, judged.noise_power})
                 : std::nullopt;
  };
  std::size_t first = next_index_;
  while (first > 0 && next_index_ - first < note_frames && heard(first - 1)) --first;
  std::vector<HeardFrame> frames;
  for (std::size_t i = first; i < std::min(next_index_ + note_frames + 1, judged_.size()); ++i) {
    const auto frame = heard(i);
    if (!frame) break;
    frames.push_back(*frame);
  }
  return frames;
}

/// Does the octave above explain most of the next frame too?
bool ToneFinder::octave_explains_next(double voted_hz) const {
  const Judged& next = judged_[next_index_];
  const Band band = band_of(next.spectrum, bin_hz_, voice_min_hz, all_hz);
  const bool heard = 2.0 * voted_hz < static_cast<double>(band.to - 1) * bin_hz_;
  return heard && allows(next.spectrum.power, band, voted_hz, 2.0, next.noise_power);
}

/// The next frame's note as a multiple of this pitch: 1, or less where it is heard at one of its harmonics.
double ToneFinder::undertone_at_next(double doubted_hz) const {
  const SpectrumScale scale{bin_hz_, rules_.hop_s};
  const auto& spectrum = judged_[next_index_].spectrum;
  return may_have_undertone(spectrum, doubted_hz, scale) ? undertone(note_at_next(doubted_hz), scale) : 1.0;
}

/// What the octave above leaves may be noise of the bore; that octave, or else the pitch itself, may be a harmonic.
double ToneFinder::multiple_at_next(double voted_hz) const {
  const double octave_hz = 2.0 * voted_hz;
  const bool half_is_noise =
      octave_explains_next(voted_hz) && half_wanders(note_at_next(octave_hz), {bin_hz_, rules_.hop_s});
  return half_is_noise ? 2.0 * undertone_at_next(octave_hz) : undertone_at_next(voted_hz);
}

double ToneFinder::fundamental_of(double voted_hz) {
  ++since_multiple_;
  const bool goes_on = std::abs(voted_hz / multiple_of_hz_ - 1.0) < same_pitch - 1.0 &&
                       (multiple_ <= 1.0 || octave_explains_next(voted_hz));
  if (!goes_on || since_multiple_ >= multiple_every_frames) {
    multiple_ = multiple_at_next(voted_hz);
    multiple_of_hz_ = voted_hz;
    since_multiple_ = 0;
  }
  return multiple_ * voted_hz;
}

PitchFrame ToneFinder::next_frame() {
  const Judged& judged = judged_[next_index_];
  const auto& power = judged.spectrum.power;
  const Band band = band_of(judged.spectrum, bin_hz_, voice_min_hz, all_hz);
  PitchFrame frame;
  frame.power_db = static_cast<float>(db_from_power(judged.total_power));
  frame.noise_db = static_cast<float>(db_from_power(judged.noise_power / (hann_noise_bins * bin_hz_)));
  if (!judged.alone_hz) return frame;
  const double f0_hz = fundamental_of(voted_hz(next_index_));
  if (f0_hz >= rules_.min_hz && f0_hz <= rules_.max_hz) {
    const double refined = refined_hz(power, band, f0_hz, judged.noise_power);
    frame.tone = tone_at(judged.spectrum, band, refined, judged.noise_power);
  }
  return frame;
}

/// The tone of the frame before goes on where it explains most of this one, its fundamental as strong a part of it. All
/// fundamentals are tried every few frames all the same, so that a wrong one does not go on.
void ToneFinder::judge_alone(Judged& judged) {
  const auto& power = judged.spectrum.power;
  const Band band = band_of(judged.spectrum, bin_hz_, voice_min_hz, all_hz);
  judged.noise_power = noise_power_in(power, band_of(judged.spectrum, bin_hz_, noise_from_hz, noise_to_hz));
  judged.total_power = total_power_in(power, band);
  ++since_searched_;
  if (!judged_.empty() && judged_.back().alone_hz && since_searched_ < search_every_frames) {
    const Judged& before = judged_.back();
    const HeardOn on = heard_on(power, band, *before.alone_hz, judged.noise_power);
    const double share = on.explained > 0 ? on.fundamental_power / on.explained : 0.0;
    if (on.explained > goes_on_share * judged.total_power && share > 0.4 * before.fundamental_share &&
        before.fundamental_share > 0.4 * share) {
      judged.alone_hz = on.hz;
      judged.fundamental_share = share;
      return;
    }
  }
  since_searched_ = 0;
  judged.alone_hz = fundamental_hz(power, band, judged.noise_power);
  if (judged.alone_hz) {
    const double explained = explained_power(power, band, *judged.alone_hz, judged.noise_power);
    const double fundamental = power[strongest_bin_near(power, *judged.alone_hz / bin_hz_)];
    judged.fundamental_share = explained > 0 ? fundamental / explained : 0.0;
  }
}

std::size_t ToneFinder::steady_frames_with(const std::optional<double>& hz) const {
  if (!hz) return 0;
  if (judged_.empty() || !judged_.back().alone_hz) return 1;
  const double before_hz = *judged_.back().alone_hz;
  return std::abs(*hz - before_hz) < steady_change * before_hz ? judged_.back().steady_frames + 1 : 1;
}

SpectrumFrame ToneFinder::push(SpectrumFrame spectrum, std::vector<PitchFrame>& frames) {
  Judged judged;
  judged.spectrum = std::move(spectrum);
  judge_alone(judged);
  judged.steady_frames = steady_frames_with(judged.alone_hz);
  heard_.push_back(judged.alone_hz.value_or(0.0));
  judged_.push_back(std::move(judged));
  if (next_index_ + note_frames >= judged_.size()) return {};
  frames.push_back(next_frame());
  if (next_index_ < note_frames) {
    ++next_index_;
    return {};
  }
  SpectrumFrame used = std::move(judged_.front().spectrum);
  judged_.pop_front();
  heard_.erase(heard_.begin());
  return used;
}

void ToneFinder::finish(std::vector<PitchFrame>& frames) {
  for (; next_index_ < judged_.size(); ++next_index_) frames.push_back(next_frame());
}

}  // namespace windway
