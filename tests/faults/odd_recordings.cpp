// SPDX-License-Identifier: GPL-3.0-or-later
#include "faults/odd_recordings.hpp"

#include <fcntl.h>
#include <sndfile.h>
#include <sys/socket.h>
#include <sys/stat.h>
#include <sys/un.h>
#include <unistd.h>

#include <cmath>
#include <filesystem>
#include <limits>
#include <memory>
#include <stdexcept>

#include "cli/run_program.hpp"
#include "cli/takes.hpp"
#include "support/noise.hpp"
#include "support/tones.hpp"

namespace windway::cli_tests {
namespace {

namespace fs = std::filesystem;
using Samples = std::vector<float>;
using Write = std::function<void(const std::string&)>;

constexpr int usual_rate_hz = 24000;
constexpr double usual_s = 1.5;

Samples tone(int rate_hz = usual_rate_hz) {
  return synthesis::steady_tone({.rate_hz = static_cast<double>(rate_hz), .duration_s = usual_s});
}

void write_coded(const std::string& path, const Samples& samples, int format, int rate_hz, int channels = 1) {
  SF_INFO info{};
  info.samplerate = rate_hz;
  info.channels = channels;
  info.format = format;
  const std::unique_ptr<SNDFILE, int (*)(SNDFILE*)> file(sf_open(path.c_str(), SFM_WRITE, &info), sf_close);
  if (!file) throw std::runtime_error("cannot write " + path + ": " + sf_strerror(nullptr));
  const auto frames = static_cast<sf_count_t>(samples.size()) / channels;
  if (sf_writef_float(file.get(), samples.data(), frames) != frames) throw std::runtime_error("cannot write " + path);
}

Write bytes(const std::string& content) {
  return [content](const std::string& path) { write_file(path, content); };
}

Write coded(int format, const Samples& samples = tone(), int rate_hz = usual_rate_hz, int channels = 1) {
  return [=](const std::string& path) { write_coded(path, samples, format, rate_hz, channels); };
}

Write plain(const Samples& samples, int rate_hz = usual_rate_hz) {
  return coded(SF_FORMAT_WAV | SF_FORMAT_PCM_16, samples, rate_hz);
}

/// Sixteen bits, with the header as given but for the lengths, which are `claimed` times the true ones.
Write with_header(WavHeader header, double claimed = 1.0) {
  std::string data;
  for (const float sample : tone()) {
    const auto value = static_cast<int>(std::lround(32767.0F * sample));
    data += static_cast<char>(value & 0xFF);
    data += static_cast<char>((value >> 8) & 0xFF);
  }
  header.data_bytes = static_cast<unsigned>(claimed * static_cast<double>(data.size()));
  header.riff_bytes = header.data_bytes + 36;
  return bytes(wav_bytes(header, data));
}

Samples with_each(Samples samples, std::size_t step, float value) {
  for (std::size_t at = step / 2; at < samples.size(); at += step) samples[at] = value;
  return samples;
}

Samples scaled(Samples samples, float factor) {
  for (float& sample : samples) sample *= factor;
  return samples;
}

Samples constant(float value) { return Samples(static_cast<std::size_t>(usual_s * usual_rate_hz), value); }

Samples square() {
  Samples samples = tone();
  for (float& sample : samples) sample = sample > 0.0F ? 1.0F : -1.0F;
  return samples;
}

Samples noise() {
  synthesis::Random random(3);
  return synthesis::to_float(synthesis::white_noise(static_cast<std::size_t>(3 * usual_rate_hz), 0.2, random));
}

Samples talk() {
  synthesis::Random random(7);
  return scaled(synthesis::to_float(synthesis::babble(10.0, usual_rate_hz, random)), 0.3F);
}

/// Of several pages where the format has pages.
Samples long_tone() {
  Samples samples = synthesis::steady_tone({.rate_hz = usual_rate_hz, .duration_s = 5.0});
  synthesis::Random random(9);
  synthesis::add_white_noise(samples, 30.0, random);
  return samples;
}

/// The note in the last channel alone.
Samples in_last_of(std::size_t channels) {
  const Samples one = tone();
  Samples all(one.size() * channels, 0.0F);
  for (std::size_t at = 0; at < one.size(); ++at) all[at * channels + channels - 1] = one[at];
  return all;
}

void make_socket(const std::string& path) {
  const int descriptor = socket(AF_UNIX, SOCK_STREAM | SOCK_CLOEXEC, 0);
  sockaddr_un address{};
  address.sun_family = AF_UNIX;
  path.copy(address.sun_path, sizeof address.sun_path - 1);
  const int failure = bind(descriptor, reinterpret_cast<const sockaddr*>(&address), sizeof address);
  close(descriptor);
  if (failure != 0) throw std::runtime_error("no socket " + path);
}

void add_codings(std::vector<OddRecording>& all) {
  struct Coded {
    const char* name;
    int format;
    const char* file_name;
  };
  for (const Coded& each : {Coded{"8 bits", SF_FORMAT_WAV | SF_FORMAT_PCM_U8, "a.wav"},
                            {"24 bits", SF_FORMAT_WAV | SF_FORMAT_PCM_24, "a.wav"},
                            {"32 bits", SF_FORMAT_WAV | SF_FORMAT_PCM_32, "a.wav"},
                            {"float", SF_FORMAT_WAV | SF_FORMAT_FLOAT, "a.wav"},
                            {"double", SF_FORMAT_WAV | SF_FORMAT_DOUBLE, "a.wav"},
                            {"A-law", SF_FORMAT_WAV | SF_FORMAT_ALAW, "a.wav"},
                            {"mu-law", SF_FORMAT_WAV | SF_FORMAT_ULAW, "a.wav"},
                            {"IMA ADPCM", SF_FORMAT_WAV | SF_FORMAT_IMA_ADPCM, "a.wav"},
                            {"big-endian WAV (RIFX)", SF_FORMAT_WAV | SF_FORMAT_PCM_16 | SF_ENDIAN_BIG, "a.wav"},
                            {"RF64", SF_FORMAT_RF64 | SF_FORMAT_PCM_16, "a.wav"},
                            {"W64", SF_FORMAT_W64 | SF_FORMAT_PCM_16, "a.w64"},
                            {"AIFF of 24 bits", SF_FORMAT_AIFF | SF_FORMAT_PCM_24, "a.aiff"},
                            {"Core Audio", SF_FORMAT_CAF | SF_FORMAT_PCM_16, "a.caf"},
                            {"Sun's format", SF_FORMAT_AU | SF_FORMAT_PCM_16, "a.au"},
                            {"FLAC called .wav", SF_FORMAT_FLAC | SF_FORMAT_PCM_16, "a.wav"}})
    all.push_back({each.name, 0, "D5", coded(each.format), each.file_name});
}

void add_headers(std::vector<OddRecording>& all) {
  const std::string few(1000, '\1');
  all.push_back({"0 bytes", 3, "it is empty", bytes("")});
  all.push_back({"1 byte", 3, "cannot read", bytes("R")});
  all.push_back({"half a header", 3, "cannot read", bytes(wav_bytes({}, "").substr(0, 20))});
  all.push_back({"header only", 3, "it holds no sound (no frames at all)", bytes(wav_bytes({}, ""))});
  all.push_back({"claims ten times as much", 0, "ends early", with_header({.rate_hz = usual_rate_hz}, 10.0)});
  all.push_back({"claims a quarter more", 0, "ends early", with_header({.rate_hz = usual_rate_hz}, 1.25)});
  all.push_back({"claims half", 0, "D5", with_header({.rate_hz = usual_rate_hz}, 0.5)});
  all.push_back({"claims 4 GiB", 3, "no held note",
                 bytes(wav_bytes({.riff_bytes = 0xFFFFFFF0U, .data_bytes = 0xFFFFFF00U}, few))});
  // ISO/IEC 14496-12: the file type box "ftyp" with the brand that telephones write.
  all.push_back({"a telephone's", 3, "MPEG-4 or QuickTime",
                 bytes(std::string("\0\0\0\x1c", 4) + "ftypM4A " + std::string(200, '\0')), "New take.m4a"});
  all.push_back({"0 channels", 3, "cannot read", with_header({.channels = 0, .rate_hz = usual_rate_hz})});
  all.push_back({"65 channels", 3, "65 channels, more than 64", with_header({.channels = 65})});
  all.push_back({"1024 channels", 3, "1024 channels, more than 64", with_header({.channels = 1024})});
  all.push_back({"65535 channels", 3, "cannot read", with_header({.channels = 65535})});
  all.push_back({"rate 0", 3, "cannot read", with_header({.rate_hz = 0})});
  all.push_back({"rate 1 Hz", 3, "its sample rate is 1 Hz, too low", with_header({.rate_hz = 1})});
  all.push_back({"rate 7999 Hz", 3, "7999 Hz, too low", with_header({.rate_hz = 7999})});
  all.push_back({"rate 192001 Hz", 3, "192001 Hz, above 192000", with_header({.rate_hz = 192001})});
  all.push_back({"rate 2^31 Hz", 3, "cannot read", with_header({.rate_hz = 2147483648U})});
  all.push_back({"rate 2^32 - 1 Hz", 3, "cannot read", with_header({.rate_hz = 4294967295U})});
  all.push_back({"0 bits", 3, "cannot read", with_header({.rate_hz = usual_rate_hz, .bits = 0})});
  all.push_back({"17 bits", 3, "cannot", with_header({.rate_hz = usual_rate_hz, .bits = 17})});
  all.push_back(
      {"text", 3, "neither libsndfile nor ffmpeg can read it", bytes("Dear diary, today I played a scale.\n")});
  all.push_back({"zeros", 3, "cannot read", bytes(std::string(100000, '\0'))});
  all.push_back({"ones", 3, "cannot read", bytes(std::string(100000, '\xff'))});
  all.push_back(
      {"a program", 3, "cannot read", [](const std::string& path) { fs::copy_file("/proc/self/exe", path); }});
}

void add_sounds(std::vector<OddRecording>& all) {
  constexpr float nan = std::numeric_limits<float>::quiet_NaN(), infinite = std::numeric_limits<float>::infinity();
  constexpr int floats = SF_FORMAT_WAV | SF_FORMAT_FLOAT;
  all.push_back({"some NaN", 0, "not numbers", coded(floats, with_each(tone(), 5000, nan))});
  all.push_back({"some infinite", 0, "not numbers", coded(floats, with_each(tone(), 5000, -infinite))});
  all.push_back({"all NaN", 3, "silent", coded(floats, with_each(tone(), 1, nan))});
  all.push_back({"all infinite", 3, "silent", coded(floats, with_each(tone(), 1, infinite))});
  all.push_back({"float of +-32768", 0, "D5", coded(floats, scaled(tone(), 32768.0F))});
  all.push_back({"float of 1e30", 3, "silent", coded(floats, scaled(tone(), 1e30F))});
  all.push_back({"float of 1e-30", 3, "silent", coded(floats, scaled(tone(), 1e-30F))});
  all.push_back({"DC", 3, "no held note", plain(constant(0.5F))});
  all.push_back({"full-scale DC", 3, "no held note", plain(constant(1.0F))});
  all.push_back({"full-scale square", 0, "clip", plain(square())});
  all.push_back({"1 sample", 3, "no held note", plain({0.5F})});
  all.push_back({"2 samples", 3, "no held note", plain({0.5F, -0.5F})});
  all.push_back({"silence", 3, "silent", plain(constant(0.0F))});
  all.push_back({"white noise", 3, "no held note", plain(noise())});
  all.push_back({"talk", 3, "no held note", plain(talk())});
  all.push_back({"8 kHz", 0, "D5", plain(tone(8000), 8000)});
  all.push_back({"192 kHz", 0, "D5", plain(tone(192000), 192000)});
  all.push_back({"64 channels", 0, "D5", coded(SF_FORMAT_WAV | SF_FORMAT_PCM_16, in_last_of(64), usual_rate_hz, 64)});
}

void add_names(std::vector<OddRecording>& all) {
  const Write good = plain(tone());
  all.push_back({"a folder", 3, "it is a folder", [](const std::string& path) { fs::create_directory(path); }});
  all.push_back({"a dangling link", 3, "there is no such file",
                 [](const std::string& path) { fs::create_symlink("nowhere.wav", path); }});
  all.push_back({"a link to itself", 3, "it is a link that leads to itself; name the file",
                 [](const std::string& path) { fs::create_symlink("a.wav", path); }});
  all.push_back({"not there", 3, "there is no such file", [](const std::string&) {}});
  all.push_back({"a socket", 3, "it is a socket; name a sound file", make_socket});
  all.push_back({"a name with a line feed", 0, "D5", good, "a\nb.wav"});
  all.push_back({"a name that is no UTF-8", 0, "D5", good, "a\xff\xc3.wav"});
  all.push_back({"a name of 255 bytes", 0, "D5", good, std::string(251, 'n') + ".wav"});
  all.push_back({"a name of 256 bytes", 3, "its name is too long; give it a shorter one", [](const std::string&) {},
                 std::string(252, 'n') + ".wav"});
  all.push_back({"a name that looks like an option", 0, "D5", good, "--output.wav"});
  all.push_back({"a name of controls", 0, "D5", good, "\x1b[2J\x07.wav"});
}

}  // namespace

std::vector<OddRecording> odd_recordings() {
  std::vector<OddRecording> all;
  add_headers(all);
  add_codings(all);
  add_sounds(all);
  add_names(all);
  return all;
}

std::string whole_take(const std::string& format) {
  const ScratchFolder folder;
  const std::string path = folder.path("a." + format);
  const int coding = format == "flac"   ? SF_FORMAT_FLAC | SF_FORMAT_PCM_16
                     : format == "ogg"  ? SF_FORMAT_OGG | SF_FORMAT_VORBIS
                     : format == "aiff" ? SF_FORMAT_AIFF | SF_FORMAT_PCM_16
                                        : SF_FORMAT_WAV | SF_FORMAT_PCM_16;
  write_coded(path, long_tone(), coding, usual_rate_hz);
  return read_file(path);
}

}  // namespace windway::cli_tests
