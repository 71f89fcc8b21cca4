// SPDX-License-Identifier: GPL-3.0-or-later
#include "external/aubio_pitch.hpp"

#ifdef WINDWAY_HAS_AUBIO
#include <aubio/aubio.h>

#include <memory>
#include <stdexcept>
#endif

namespace windway::external_tests {

#ifdef WINDWAY_HAS_AUBIO

namespace {

constexpr unsigned rate_hz = 96000;
constexpr unsigned frame_samples = 4096;
constexpr unsigned hop_samples = 960;

template <auto free_it>
struct FreeWith {
  template <typename T>
  void operator()(T* owned) const {
    free_it(owned);
  }
};
using Source = std::unique_ptr<aubio_source_t, FreeWith<del_aubio_source>>;
using Pitch = std::unique_ptr<aubio_pitch_t, FreeWith<del_aubio_pitch>>;
using Samples = std::unique_ptr<fvec_t, FreeWith<del_fvec>>;

}  // namespace

std::optional<std::vector<AubioFrame>> aubio_pitch(const std::string& path) {
  const Source source(new_aubio_source(path.c_str(), rate_hz, hop_samples));
  if (!source) throw std::runtime_error("aubio cannot read " + path);
  const Pitch pitch(new_aubio_pitch("yinfast", frame_samples, hop_samples, rate_hz));
  aubio_pitch_set_unit(pitch.get(), "Hz");
  aubio_pitch_set_silence(pitch.get(), -90);
  const Samples hop(new_fvec(hop_samples));
  const Samples answer(new_fvec(1));
  std::vector<AubioFrame> frames;
  unsigned read = hop_samples;
  for (double end_samples = hop_samples; read == hop_samples; end_samples += hop_samples) {
    aubio_source_do(source.get(), hop.get(), &read);
    aubio_pitch_do(pitch.get(), hop.get(), answer.get());
    // aubio keeps the last 4096 samples: the frame ends with the hop.
    const double f0_hz = fvec_get_sample(answer.get(), 0);
    if (f0_hz > 0) frames.push_back({(end_samples - frame_samples) / rate_hz, end_samples / rate_hz, f0_hz});
  }
  return frames;
}

#else

std::optional<std::vector<AubioFrame>> aubio_pitch(const std::string&) { return std::nullopt; }

#endif

}  // namespace windway::external_tests
