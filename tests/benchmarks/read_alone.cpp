// SPDX-License-Identifier: GPL-3.0-or-later
// Reads a sound file as float with libsndfile and does nothing else: the limit that windway's speed works towards.
// usage: windway_read_alone FILE
#include <sndfile.h>

#include <cstdio>
#include <vector>

int main(int argc, char** argv) {
  SF_INFO format{};
  SNDFILE* file = argc == 2 ? sf_open(argv[1], SFM_READ, &format) : nullptr;
  if (file == nullptr) {
    std::fputs("usage: windway_read_alone FILE\n", stderr);
    return 2;
  }
  std::vector<float> block(static_cast<std::size_t>(8192) * static_cast<std::size_t>(format.channels));
  sf_count_t frames = 0;
  while (const sf_count_t got = sf_readf_float(file, block.data(), 8192)) frames += got;
  sf_close(file);
  return frames > 0 ? 0 : 1;
}
