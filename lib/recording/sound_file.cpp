// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/sound_file.hpp"

#include <sndfile.h>

#include <algorithm>
#include <bit>
#include <cassert>
#include <cmath>
#include <cstdint>
#include <cstdio>

#include "error.hpp"
#include "input/recorded_at.hpp"
#include "recording/telephone.hpp"
#include "recording/telephone_sound.hpp"

namespace windway {
namespace {

constexpr int least_rate_hz = 8000;  // lower rates lose the harmonics of the second register
constexpr int highest_rate_hz = 192000;
constexpr int most_channels = 64;                            // more: the header is damaged
constexpr sf_count_t unknown_frames = sf_count_t{1} << 60U;  // libsndfile gives the largest number

/// An InputFile as libsndfile reads it. It is not given the descriptor: where it cannot open a file, libsndfile 1.2
/// closes even one that it was told to leave open.
struct Source {
  const InputFile& input;
  sf_count_t offset = 0;
};

Source& source_of(void* user_data) { return *static_cast<Source*>(user_data); }

sf_count_t size_of(void* user_data) { return source_of(user_data).input.size_bytes(); }
sf_count_t offset_of(void* user_data) { return source_of(user_data).offset; }

sf_count_t go_to(sf_count_t offset, int whence, void* user_data) {
  const sf_count_t from = whence == SEEK_SET ? 0 : whence == SEEK_CUR ? offset_of(user_data) : size_of(user_data);
  sf_count_t target = 0;
  if (__builtin_add_overflow(from, offset, &target) || target < 0) return -1;
  return source_of(user_data).offset = target;
}

sf_count_t read_on(void* bytes, sf_count_t count, void* user_data) {
  if (count <= 0) return 0;  // a damaged header may ask for less than nothing
  Source& source = source_of(user_data);
  const std::size_t got =
      source.input.read_at(source.offset, {static_cast<unsigned char*>(bytes), static_cast<std::size_t>(count)});
  source.offset += static_cast<sf_count_t>(got);
  return static_cast<sf_count_t>(got);
}

sf_count_t write_nothing(const void*, sf_count_t, void*) { return 0; }

/// Null where it is no file that libsndfile reads.
SNDFILE* open_sound(Source& source, SF_INFO& format) {
  SF_VIRTUAL_IO calls{size_of, go_to, read_on, write_nothing, offset_of};
  return sf_open_virtual(&calls, SFM_READ, &format, &source);
}

void check_format(const SF_INFO& format, const std::string& path) {
  if (format.channels < 1) refuse_to_read(path, "its header says that it has no channels; record or export it again");
  if (format.channels > most_channels) {
    refuse_to_read(path, "its header says " + std::to_string(format.channels) + " channels, more than " +
                             std::to_string(most_channels) + "; export one channel, or record it again");
  }
  if (format.samplerate < least_rate_hz) {
    refuse_to_read(path, "its sample rate is " + std::to_string(format.samplerate) +
                             " Hz, too low for a flute; record at 44100 or 48000 Hz");
  }
  if (format.samplerate > highest_rate_hz) {
    refuse_to_read(path, "its sample rate is " + std::to_string(format.samplerate) +
                             " Hz, above 192000; export it at 48000 or 96000 Hz");
  }
  if (format.frames < 1) refuse_to_read(path, "it holds no sound (no frames at all); record or export it again");
}

// Far above any scaling of floating-point files (some use +-32768), and its square does not overflow.
constexpr float largest_sample = 1e9f;

/// True if any sample was not finite. The test is bitwise, so that the compiler vectorises it.
bool replace_non_finite(std::span<float> samples) {
  constexpr std::uint32_t sign_off = 0x7fffffffU;
  constexpr auto limit = std::bit_cast<std::int32_t>(largest_sample);
  std::int32_t found = 0;
  for (const float& sample : samples) {
    found |= static_cast<std::int32_t>(std::bit_cast<std::uint32_t>(sample) & sign_off) > limit ? 1 : 0;
  }
  if (found == 0) return false;
  for (float& sample : samples) {
    if (!(sample >= -largest_sample && sample <= largest_sample)) sample = 0.0f;
  }
  return true;
}

std::optional<std::string> broadcast_date(SNDFILE* file) {
  SF_BROADCAST_INFO broadcast{};
  if (sf_command(file, SFC_GET_BROADCAST_INFO, &broadcast, sizeof(broadcast)) != SF_TRUE) return std::nullopt;
  const std::string date(broadcast.origination_date, std::size(broadcast.origination_date));
  const std::string time(broadcast.origination_time, std::size(broadcast.origination_time));
  return iso_8601(date + "T" + time);
}

}  // namespace

struct SoundFile::Handle {
  explicit Handle(const InputFile& input) : source{input} {}

  Source source;
  SF_INFO format{};
  SNDFILE* file = nullptr;
  std::unique_ptr<Decoder> decoder;  ///< where libsndfile does not read it
  Coding coding;

  void open(const std::string& path);
  ~Handle() {
    if (file != nullptr) sf_close(file);
  }
};

void SoundFile::Handle::open(const std::string& path) {
  const std::vector<unsigned char> head = source.input.bytes_at(0, container_head_bytes);
  if (!container_of(head)) file = open_sound(source, format);
  if (file != nullptr) {
    coding = sndfile_coding(format.format);
    return;
  }
  decoder = decoder_of(source.input, path, head);
  format.format = SF_FORMAT_AU | SF_FORMAT_FLOAT;
  format.samplerate = decoder->rate_hz();
  format.channels = decoder->channels();
  format.frames = unknown_frames;
  coding = coding_by(*decoder, head);
}

SoundFile::SoundFile(const InputFile& input, const std::string& path) : handle_(std::make_unique<Handle>(input)) {
  handle_->open(path);
  check_format(handle_->format, path);
}

SoundFile::~SoundFile() = default;

int SoundFile::rate_hz() const { return handle_->format.samplerate; }
int SoundFile::channels() const { return handle_->format.channels; }

const Coding& SoundFile::coding() const { return handle_->coding; }

std::optional<std::int64_t> SoundFile::claimed_frames() const {
  // A length in seconds may count what is not decoded; it tells of a cut only beside an error.
  if (handle_->decoder) {
    const FfmpegWords words = handle_->decoder->words();
    if (words.errors.empty() || !words.duration_s) return std::nullopt;
    return std::llround(*words.duration_s * rate_hz());
  }
  if (handle_->format.frames >= unknown_frames) return std::nullopt;
  return handle_->format.frames;
}

bool SoundFile::seeks_cheaply() const {
  const int container = handle_->format.format & SF_FORMAT_TYPEMASK;
  const int coding = handle_->format.format & SF_FORMAT_SUBMASK;
  const bool uncompressed = (coding >= SF_FORMAT_PCM_S8 && coding <= SF_FORMAT_DOUBLE) || coding == SF_FORMAT_ULAW ||
                            coding == SF_FORMAT_ALAW;
  return uncompressed && container != SF_FORMAT_FLAC && handle_->format.seekable != 0;
}

double SoundFile::sample_step() const {
  switch (handle_->format.format & SF_FORMAT_SUBMASK) {
    case SF_FORMAT_PCM_S8:
    case SF_FORMAT_PCM_U8:
      return 1.0 / 128;
    case SF_FORMAT_ULAW:
    case SF_FORMAT_ALAW:
      return 1.0 / 32;  // 16 steps in the uppermost octave (ITU-T G.711)
    default:
      return 0.0;
  }
}

std::vector<std::string> SoundFile::decoding_errors() const {
  return handle_->decoder ? handle_->decoder->words().errors : std::vector<std::string>{};
}

int SoundFile::sound_tracks() const { return handle_->decoder ? handle_->decoder->words().sound_tracks : 1; }

std::optional<std::string> SoundFile::recorded_at() const {
  if (handle_->decoder) return handle_->decoder->words().recorded_at;
  if (auto date = broadcast_date(handle_->file)) return date;
  const char* text = sf_get_string(handle_->file, SF_STR_DATE);
  return text == nullptr ? std::nullopt : iso_8601(text);
}

std::size_t SoundFile::read_frames(std::span<float> interleaved) {
  const auto width = static_cast<std::size_t>(channels());
  assert(interleaved.size() % width == 0);
  if ((handle_->format.format & SF_FORMAT_SUBMASK) == SF_FORMAT_PCM_16) return read_sixteen_bits(interleaved);
  const auto wanted = static_cast<sf_count_t>(interleaved.size() / width);
  const auto got = handle_->decoder ? handle_->decoder->read_frames(interleaved)
                                    : static_cast<std::size_t>(std::max<sf_count_t>(
                                          0, sf_readf_float(handle_->file, interleaved.data(), wanted)));
  if (replace_non_finite(interleaved.first(got * width))) met_non_finite_ = true;
  return got;
}

/// Equals libsndfile's floats and takes less time: most recordings have 16 bits.
std::size_t SoundFile::read_sixteen_bits(std::span<float> interleaved) {
  constexpr float step = 1.0f / 32768;
  const auto width = static_cast<std::size_t>(channels());
  const auto wanted = static_cast<sf_count_t>(interleaved.size() / width);
  sixteen_bits_.resize(interleaved.size());
  const auto got =
      static_cast<std::size_t>(std::max<sf_count_t>(0, sf_readf_short(handle_->file, sixteen_bits_.data(), wanted)));
  for (std::size_t i = 0; i < got * width; ++i) interleaved[i] = step * static_cast<float>(sixteen_bits_[i]);
  return got;
}

bool SoundFile::seek(std::int64_t frame) {
  return handle_->file != nullptr && sf_seek(handle_->file, frame, SEEK_SET) == frame;
}

}  // namespace windway
