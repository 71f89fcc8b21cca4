// SPDX-License-Identifier: GPL-3.0-or-later
// How exact the A4 of an invented piano is, over many drawn recordings, and how often the stated u95 holds the truth.
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

namespace {

using namespace windway;

/// Over all recordings.
struct Tally {
  std::vector<double> errors_hz;
  int held = 0;
  int unanswered = 0;
  int notes = 0;
  int notes_held = 0;
  int missed = 0;
  int invented = 0;
};

/// The note that was played, as found; null where none was.
const synthesis::StruckNote* played(const synthesis::DrawnPartner& drawn, const PartnerNote& found) {
  const auto note = std::ranges::find_if(drawn.notes, [&](const synthesis::StruckNote& n) {
    return std::abs(cents_between(n.first_hz, found.frequency_hz)) < 30.0 && found.start_s > n.start_s - 0.2 &&
           found.start_s < n.start_s + n.duration_s;
  });
  return note == drawn.notes.end() ? nullptr : &*note;
}

void count(const synthesis::DrawnPartner& drawn, const Partner& partner, Tally& tally) {
  tally.errors_hz.push_back(std::abs(partner.a4_hz - drawn.a4_hz));
  tally.held += tally.errors_hz.back() <= partner.a4_u95_hz ? 1 : 0;
  int found = 0;
  for (const PartnerNote& note : partner.notes) {
    const synthesis::StruckNote* truth = played(drawn, note);
    if (!truth) {
      ++tally.invented;
      continue;
    }
    ++found;
    tally.notes_held += std::abs(cents_between(truth->first_hz, note.frequency_hz)) <= note.u95_cents ? 1 : 0;
  }
  tally.notes += found;
  tally.missed += std::max(static_cast<int>(drawn.notes.size()) - found, 0);
}

Tally tally_of(int recordings, unsigned first_seed, double scatter_cents) {
  Tally tally;
  const std::string name = "windway_partner_takes_" + std::to_string(getpid()) + ".wav";
  const std::string path = std::filesystem::temp_directory_path() / name;
  for (int i = 0; i < recordings; ++i) {
    synthesis::Random random(first_seed + static_cast<unsigned>(i));
    const synthesis::DrawnPartner drawn = synthesis::drawn_partner(scatter_cents, random);
    synthesis::write_sound(path, drawn.samples, drawn.rate_hz, 1, 16);
    try {
      count(drawn, find_partner(path, {}), tally);
    } catch (const Error&) {
      ++tally.unanswered;
    }
  }
  std::filesystem::remove(path);
  std::ranges::sort(tally.errors_hz);
  return tally;
}

}  // namespace

int main(int argc, char** argv) {
  const int recordings = argc > 1 ? std::atoi(argv[1]) : 200;
  const auto first_seed = static_cast<unsigned>(argc > 2 ? std::atoi(argv[2]) : 1);
  const double scatter_cents = argc > 3 ? std::atof(argv[3]) : 0.0;
  const Tally tally = tally_of(recordings, first_seed, scatter_cents);
  if (tally.errors_hz.empty() || tally.notes == 0) return 1;
  const auto answered = static_cast<double>(tally.errors_hz.size());
  const auto at = [&](double share) { return tally.errors_hz[static_cast<std::size_t>(share * (answered - 1.0))]; };
  std::printf(
      "| keys off by, SD | recordings | error of A4: median | 95 %% | largest | u95 holds A4 | u95 holds a note |\n");
  std::printf("| --- | --- | --- | --- | --- | --- | --- |\n");
  std::printf("| %.1f cents | %d | %.3f Hz | %.3f Hz | %.3f Hz | %.1f %% | %.1f %% |\n\n", scatter_cents, recordings,
              at(0.5), at(0.95), at(1.0), 100.0 * tally.held / answered, 100.0 * tally.notes_held / tally.notes);
  std::printf("%d recordings without an answer; of %d notes %d missed, %d that were not played.\n", tally.unanswered,
              tally.notes + tally.missed, tally.missed, tally.invented);
}
