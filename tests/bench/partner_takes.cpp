// SPDX-License-Identifier: GPL-3.0-or-later
// How exact the A4 of an invented piano is, over many drawn recordings, and whether the stated u95 holds the truth.
// usage: windway_partner_takes [RECORDINGS [FIRST_SEED [SCATTER_CENTS]]]
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <string>
#include <vector>

#include "partner/partner.hpp"
#include "support/drawn_partner.hpp"
#include "support/sound_file.hpp"
#include "units/units.hpp"

int main(int argc, char** argv) {
  using namespace windway;
  const int count = argc > 1 ? std::atoi(argv[1]) : 200;
  const int first_seed = argc > 2 ? std::atoi(argv[2]) : 1;
  const double scatter_cents = argc > 3 ? std::atof(argv[3]) : 0.0;
  const std::string path =
      std::filesystem::temp_directory_path() / ("windway_partner_takes_" + std::to_string(getpid()) + ".wav");
  std::vector<double> errors_hz;
  int held = 0, failed = 0, notes_held = 0, notes = 0, missed = 0, extra = 0;
  for (int seed = first_seed; seed < first_seed + count; ++seed) {
    synthesis::Random random(static_cast<unsigned>(seed));
    const synthesis::DrawnPartner drawn = synthesis::drawn_partner(scatter_cents, random);
    synthesis::write_sound(path, drawn.samples, drawn.rate_hz, 1, 16);
    try {
      const Partner partner = find_partner(path, {});
      const double error_hz = partner.a4_hz - drawn.a4_hz;
      errors_hz.push_back(std::abs(error_hz));
      held += std::abs(error_hz) <= partner.a4_u95_hz ? 1 : 0;
      std::size_t found = 0;
      for (const PartnerNote& note : partner.notes) {
        const auto truth = std::ranges::find_if(drawn.notes, [&](const synthesis::StruckNote& n) {
          return std::abs(cents_between(n.first_hz, note.frequency_hz)) < 30.0 && note.start_s > n.start_s - 0.2 &&
                 note.start_s < n.start_s + n.duration_s;
        });
        if (truth == drawn.notes.end()) {
          ++extra;
          if (argc > 4)
            std::printf("seed %d extra %.2f Hz u95 %.2f at %.2f for %.2f\n", seed, note.frequency_hz, note.u95_cents,
                        note.start_s, note.duration_s);
          continue;
        }
        ++found;
        ++notes;
        const double off = cents_between(truth->first_hz, note.frequency_hz);
        notes_held += std::abs(off) <= note.u95_cents ? 1 : 0;
        if (argc > 5)
          std::printf(
              "   %.2f Hz B %.1e strings %zu off %.3f u95 %.3f partials %d Bfit %.1e beat %.2f at %.2f for %.2f of "
              "%.2f\n",
              truth->first_hz, truth->inharmonicity, truth->strings_cents.size(), off, note.u95_cents, note.partials,
              note.inharmonicity ? note.inharmonicity->value : 0.0, note.beat_hz.value_or(0), note.start_s,
              note.duration_s, truth->duration_s);
      }
      missed += static_cast<int>(drawn.notes.size()) - static_cast<int>(found);
      if (argc > 4)
        std::printf("seed %d A4 %.3f error %.4f u95 %.4f notes %zu of %zu\n", seed, drawn.a4_hz, error_hz,
                    partner.a4_u95_hz, found, drawn.notes.size());
    } catch (const Error& error) {
      ++failed;
      std::printf("seed %d: %s\n", seed, error.what());
    }
  }
  std::filesystem::remove(path);
  std::ranges::sort(errors_hz);
  if (errors_hz.empty()) return 1;
  const auto at = [&](double share) {
    return errors_hz[static_cast<std::size_t>(share * static_cast<double>(errors_hz.size() - 1))];
  };
  std::printf(
      "%d recordings, %d without an answer; error of A4: median %.4f, 95 %% %.4f, largest %.4f Hz; u95 holds the truth "
      "in "
      "%.1f %%, of notes %.1f %% of %d; %d missed, %d that were not played\n",
      count, failed, at(0.5), at(0.95), errors_hz.back(), 100.0 * held / static_cast<double>(errors_hz.size()),
      100.0 * notes_held / notes, notes, missed, extra);
}
