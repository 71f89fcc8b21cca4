// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/recording.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <system_error>
#include <vector>

#include "input/digest.hpp"
#include "input/input_file.hpp"
#include "recording/channel.hpp"
#include "recording/clipping.hpp"
#include "recording/decimate.hpp"
#include "recording/sound_file.hpp"
#include "recording/telephone_sound.hpp"
#include "recording/truncation.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

constexpr std::size_t block_frames = 8192;
constexpr double look_every_s = 0.5;  // for the live channel: no longer hold is missed
// Small, because runs of three samples are a part of it only: at 2 kHz most clipped tops are shorter. Clean takes have
// 0.
constexpr double clipped_share_that_matters = 0.0002;
constexpr double silence_db = -70.0;  // a soft flute across a room peaks 30 dB higher
// The length of lossy formats may be off by a few packets.
constexpr double cut_that_matters_s = 0.2;
constexpr double longest_take_s = 24 * 3600;  // takes 300 MB of memory

std::string digest_of(const InputFile& input, const std::string& path) {
  try {
    return sha256_of_file(input.descriptor());
  } catch (const std::system_error& failure) {
    throw Error(ErrorKind::recording,
                cannot_read(path) + ": " + failure.code().message() + "; copy it to another disk and try again");
  }
}

/// Judges a block every half second; the file's position is undefined afterwards. Uncompressed files are read by
/// seeking, others are decoded whole.
int live_channel(SoundFile& file) {
  if (file.channels() == 1) return 0;
  ChannelJudge judge(file.channels(), file.rate_hz(), file.sample_step());
  const auto width = static_cast<std::size_t>(file.channels());
  const auto step = static_cast<std::int64_t>(look_every_s * file.rate_hz());
  std::vector<float> block(judge.block_frames() * width);
  std::vector<float> passed_over((static_cast<std::size_t>(step) - judge.block_frames()) * width);
  for (std::int64_t next = step;; next += step) {
    const std::size_t frames = file.read_frames(block);
    judge.add(std::span<const float>(block).first(frames * width));
    if (frames < judge.block_frames()) return judge.best();
    if (file.seeks_cheaply() ? !file.seek(next) : file.read_frames(passed_over) == 0) return judge.best();
  }
}

[[noreturn]] void refuse_too_long(const std::string& path) {
  refuse_to_read(path, "it is longer than 24 hours; cut it into parts");
}

/// So that nobody waits for a day's sound to be read first. A header whose samples are not there is not believed: an
/// uncompressed one takes a byte at least.
void refuse_said_too_long(const SoundFile& file, const InputFile& input, const std::string& path) {
  const std::int64_t frames = file.seeks_cheaply() ? file.claimed_frames().value_or(0) : 0;
  const bool is_there = frames <= input.size_bytes() / file.channels();
  if (is_there && static_cast<double>(frames) > longest_take_s * file.rate_hz()) refuse_too_long(path);
}

std::string percent(double share) {
  return share < 0.1 ? fmt::format("{:.2g}", 100.0 * share) : fmt::format("{:.0f}", 100.0 * share);
}

std::string what_is_there(const CutOff& cut_off) {
  if (!cut_off.share_present) return "the end of the file is missing. What is there";
  return percent(*cut_off.share_present) + " % of the sound that its header announces is there, and that";
}

}  // namespace

struct Recording::State {
  State(const std::string& path, Digest digest);
  void read_block();
  void note_end();

  InputFile input;
  std::optional<SoundFile> file;
  TakeInfo info;
  std::optional<CutOff> cut_off;
  std::int64_t frames_read = 0;
  bool ended = false;
  ClippedRuns clipping;
  std::optional<Decimator> decimator;
  int factor = 1;
  std::vector<float> interleaved;
  std::vector<float> channel;
  std::vector<float> ready;  // at the working rate; unread from `given` on
  std::size_t given = 0;
};

Recording::State::State(const std::string& path, Digest digest) : input(path) {
  file.emplace(input, path);
  refuse_said_too_long(*file, input, path);
  info.path = path;
  info.sample_rate_hz = file->rate_hz();
  info.channels = file->channels();
  info.recorded_at = file->recorded_at();
  info.coding = file->coding().name;
  info.lossy = file->coding().lossy;
  info.channel_used = live_channel(*file);
  // Opened anew: some decoders cannot seek back to the first sample.
  if (info.channels > 1) {
    file.reset();
    file.emplace(input, path);
  }
  if (digest == Digest::taken) info.sha256 = digest_of(input, path);
  cut_off = windway::cut_off(input);
  clipping = ClippedRuns(file->sample_step());
  factor = decimation_factor(file->rate_hz());
  decimator.emplace(factor);
  interleaved.resize(block_frames * static_cast<std::size_t>(info.channels));
  read_block();
  if (frames_read == 0) {
    throw Error(ErrorKind::recording,
                cannot_read(path) + ": not one sample of it can be decoded; record or export it again");
  }
}

void Recording::State::read_block() {
  ready.clear();
  given = 0;
  const std::size_t frames = file->read_frames(interleaved);
  if (frames == 0) {
    decimator->finish(ready);
    note_end();
    return;
  }
  frames_read += static_cast<std::int64_t>(frames);
  if (static_cast<double>(frames_read) > longest_take_s * info.sample_rate_hz) refuse_too_long(info.path);
  const auto width = static_cast<std::size_t>(info.channels);
  const auto used = static_cast<std::size_t>(info.channel_used);
  std::span<const float> samples = std::span(interleaved).first(frames);
  if (width > 1) {
    channel.resize(frames);
    for (std::size_t i = 0; i < frames; ++i) channel[i] = interleaved[i * width + used];
    samples = channel;
  }
  clipping.add(samples);
  decimator->process(samples, ready);
}

void Recording::State::note_end() {
  ended = true;
  info.duration_s = static_cast<double>(frames_read) / info.sample_rate_hz;
  info.clipped_share = clipping.share();
  info.peak = clipping.peak();
  info.non_finite = file->met_non_finite();
}

Recording::Recording(const std::string& path, Digest digest) : state_(std::make_unique<State>(path, digest)) {}
Recording::~Recording() = default;

double Recording::working_rate_hz() const { return state_->info.sample_rate_hz / state_->factor; }

std::size_t Recording::read(std::span<float> samples) {
  std::size_t filled = 0;
  while (filled < samples.size()) {
    const std::size_t count = std::min(samples.size() - filled, state_->ready.size() - state_->given);
    std::copy_n(state_->ready.begin() + static_cast<std::ptrdiff_t>(state_->given), count,
                samples.begin() + static_cast<std::ptrdiff_t>(filled));
    filled += count;
    state_->given += count;
    if (state_->given < state_->ready.size()) break;
    if (state_->ended) break;
    state_->read_block();
  }
  return filled;
}

const TakeInfo& Recording::info() const { return state_->info; }

Warnings Recording::warnings() const {
  const TakeInfo& info = state_->info;
  const std::string name = take_name(info.path);
  const double claimed_s = static_cast<double>(state_->file->claimed_frames().value_or(0)) / info.sample_rate_hz;
  const bool stops_early = state_->ended && claimed_s - info.duration_s > cut_that_matters_s;
  const std::vector<std::string> errors = state_->file->decoding_errors();
  Warnings warnings;
  if (state_->cut_off || stops_early)
    warnings.push_back(
        {WarningCode::truncated,
         name + " ends early: " + what_is_there(state_->cut_off.value_or(CutOff{info.duration_s / claimed_s})) +
             " is used. Copy the file again if there should be more."});
  if (!errors.empty()) {
    warnings.push_back({WarningCode::damaged,
                        name + " is damaged, and some of its sound could not be decoded (ffmpeg: " +
                            quoted_errors(errors) + "). The rest is used; copy the file again or record again."});
  }
  if (state_->file->sound_tracks() > 1) {
    warnings.push_back(
        {WarningCode::more_sound_tracks,
         name + " holds " + std::to_string(state_->file->sound_tracks()) +
             " sound tracks; the first is used. If the flute is on another, export that track to a file of its own."});
  }
  if (info.non_finite) {
    warnings.push_back(
        {WarningCode::non_finite_samples, name + " holds samples that are not numbers, which were taken as silence. " +
                                              "Export it again as 16 or 24 bit."});
  }
  if (info.clipped_share > clipped_share_that_matters) {
    warnings.push_back(
        {WarningCode::clipped, percent(info.clipped_share) + " % of " + name + " is clipped, which falsifies levels " +
                                   "and tone colour: turn the recording level down or move the microphone away."});
  }
  if (state_->ended && db_from_amplitude(state_->clipping.half_range() + 1e-30) < silence_db) {
    warnings.push_back(
        {WarningCode::silent,
         name + " is almost silent: check that the right microphone was chosen and its " + "level is up."});
  }
  return warnings;
}

std::string why_nothing(const TakeInfo& take, const std::string& otherwise) {
  constexpr double silent_peak = 0.003;  // - 50 dB full scale
  if (take.peak >= silent_peak) return otherwise;
  return "the recording is silent or nearly so; move the microphone nearer or turn the recording level up";
}

}  // namespace windway
