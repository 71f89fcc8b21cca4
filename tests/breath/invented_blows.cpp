// SPDX-License-Identifier: GPL-3.0-or-later
#include "invented_blows.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <utility>

namespace windway::testing {
namespace {

constexpr std::array degrees{0, 2, 4, 5, 7, 9, 11};
constexpr std::array cents_per_doubling{4.0, 6.0, 7.0, 8.0, 14.0, 17.0, 19.0};
constexpr double db_per_doubling = 3.4;
constexpr double hop_s = 0.01;
constexpr double wander_tau_s = 0.3;
constexpr double vibrato_hz = 5.3;
constexpr double noise_per_level = 2.0;  ///< dB of breath noise for one of level

std::size_t degree_of(int note) { return static_cast<std::size_t>(note % 7); }

int midi_of_note(int note) { return 74 + 12 * (note / 7) + degrees[degree_of(note)]; }

/// Where a swell stands, 0 to 1: it rests a tenth of its time at either end.
double swelled(double share, bool there_and_back) {
  if (there_and_back) share = 1.0 - std::abs(2.0 * share - 1.0);
  return std::clamp(-0.12 + 1.24 * share, 0.0, 1.0);
}

/// The strength of one blow over its time, but for what is loose about it.
double strength_at(const MeantBlow& meant, const Circumstances& c, double fall_db_s, double share) {
  const double soft = strength_of(Blow::soft), hard = strength_of(Blow::hard);
  const double swing_db = c.tremolo_db * std::sin(2 * std::numbers::pi * vibrato_hz * share * c.length_s) -
                          fall_db_s * (share - 0.5) * c.length_s;
  const double held =
      meant.blow == Blow::swell ? soft + (hard - soft) * swelled(share, c.there_and_back) : strength_of(meant.blow);
  return held + meant.off_doublings + swing_db / db_per_doubling;
}

/// What a room does to the level as the pitch moves: another figure every ten cents or so.
class RoomBend {
 public:
  RoomBend(double sd_db, synthesis::Random& random) {
    for (auto& [amplitude_db, phase] : waves_) {
      amplitude_db = random.normal(0, sd_db / std::sqrt(0.5 * static_cast<double>(waves_.size())));
      phase = random.normal(0, 10.0);
    }
  }
  double at(double cents) const {
    double db = 0;
    for (std::size_t k = 0; k < waves_.size(); ++k)
      db += waves_[k].first * std::sin(cents / (10.0 + 5.0 * static_cast<double>(k)) + waves_[k].second);
    return db;
  }

 private:
  std::array<std::pair<double, double>, 3> waves_;
};

NamedHold invent_hold(const MeantBlow& meant, double start_s, double drift_cents, const Circumstances& c,
                      synthesis::Random& random) {
  NamedHold named;
  named.note.midi = midi_of_note(meant.note);
  named.in_scale = true;
  named.target_hz = equal_tempered_hz(named.note.midi, 440.0);
  Hold& hold = named.hold;
  hold.start_s = start_s;
  hold.end_s = start_s + c.length_s;
  hold.steady_start_s = hold.start_s + 0.06;
  hold.steady_end_s = hold.end_s - 0.1;
  hold.frequency_u95_cents = 0.02;
  if (c.vibrato_cents > 0 || c.tremolo_db > 0) hold.vibrato_hz = vibrato_hz;
  const double loose = random.normal(0, c.loose_doublings);
  const double room_db = random.normal(0, c.room_db), room_colour_db = random.normal(0, c.room_db);
  double wander = random.normal();
  // A sequence of its own for what not every take has: so the others stay the takes they were.
  synthesis::Random apart(static_cast<std::uint64_t>(1e6 * (start_s + std::abs(wander))));
  const double fall_db_s = c.fall_db_s + apart.normal(0, c.own_fall_db_s);
  const RoomBend bend(c.bends_db, apart);
  double cents_sum = 0, db_sum = 0, level_sum = 0;
  const double kept = std::exp(-hop_s / wander_tau_s);
  for (double t = hold.steady_start_s; t <= hold.steady_end_s; t += hop_s) {
    const double strength = strength_at(meant, c, fall_db_s, (t - start_s) / c.length_s) + loose;
    wander = kept * wander + std::sqrt(1 - kept * kept) * random.normal();
    const double cents = c.cents + true_cents(meant.note, strength) + c.wander_cents * wander + drift_cents -
                         c.sag_cents_per_s * (t - start_s - 0.5 * c.length_s);
    const double vibrato = c.vibrato_cents * std::sin(2 * std::numbers::pi * vibrato_hz * t);
    const double level_db =
        c.levelled ? -10.0 : -20.0 + c.gain_db + db_per_doubling * strength + room_db + bend.at(cents);
    const double noise_db = -85.0 + c.gain_db + (c.noise_drowned ? 0.0 : noise_per_level * db_per_doubling * strength) +
                            apart.normal(0, 0.5);
    hold.curve.push_back(
        {t, hz_at_cents(named.target_hz, cents + vibrato), static_cast<float>(level_db), static_cast<float>(noise_db)});
    cents_sum += cents;
    db_sum += db_per_doubling * strength;
    level_sum += level_db;
  }
  const double points = static_cast<double>(hold.curve.size()), db = db_sum / points;
  named.deviation_cents = cents_sum / points;
  hold.frequency_hz = hz_at_cents(named.target_hz, named.deviation_cents);
  hold.level_db = level_sum / points + random.normal(0, 0.1);
  hold.noise_db = -85 + c.gain_db + (c.levelled ? 1.0 : noise_per_level) * db + random.normal(0, 0.2);
  hold.colour_db = -12 + 0.6 * db + room_colour_db + random.normal(0, 0.3);
  return named;
}

}  // namespace

double true_cents(int note, double strength_doublings) {
  const double slope = cents_per_doubling[degree_of(note)];
  return 3.0 * std::sin(2.0 * note) + slope * strength_doublings -
         0.12 * slope * strength_doublings * strength_doublings;
}

double strength_of(Blow blow) {
  if (blow == Blow::soft) return -1.25;
  return blow == Blow::hard ? 1.0 : 0.0;
}

std::vector<MeantBlow> in_steps(int notes, const std::vector<Blow>& each) {
  std::vector<MeantBlow> meant;
  for (int note = 0; note < notes; ++note)
    for (Blow blow : each) meant.push_back({note, blow});
  return meant;
}

std::vector<MeantBlow> in_rounds(int notes, const std::vector<Blow>& each) {
  std::vector<MeantBlow> meant;
  for (Blow blow : each)
    for (int note = 0; note < notes; ++note) meant.push_back({note, blow});
  return meant;
}

std::vector<MeantBlow> there_and_back(int notes, const std::vector<Blow>& each) {
  std::vector<MeantBlow> meant = in_steps(notes, each);
  for (int note = notes - 1; note >= 0; --note)
    for (Blow blow : each) meant.push_back({note, blow});
  return meant;
}

InventedTake invent_take(const std::vector<MeantBlow>& meant, const Circumstances& c, synthesis::Random& random) {
  InventedTake take;
  take.meant = meant;
  take.naming.instrument = builtin_instrument(Kind::whistle, 74);
  const double each_s = c.length_s + c.gap_s, whole_s = each_s * static_cast<double>(meant.size());
  for (std::size_t i = 0; i < meant.size(); ++i) {
    const double start_s = 0.5 + each_s * static_cast<double>(i);
    const double warmed = std::expm1(-3.0 * start_s / whole_s) / std::expm1(-3.0);
    take.naming.holds.push_back(invent_hold(meant[i], start_s, c.warming_cents * warmed, c, random));
  }
  return take;
}

int wrong_blows(const InventedTake& take, const BreathResult& result, bool blows_expected) {
  int wrong = 0;
  for (std::size_t h = 0; h < take.meant.size(); ++h)
    wrong += blows_expected ? result.blow[h] != take.meant[h].blow : result.blow[h].has_value();
  return wrong;
}

bool warned(const BreathResult& result, WarningCode code) {
  return std::any_of(result.warnings.begin(), result.warnings.end(), [&](const Warning& w) { return w.code == code; });
}

}  // namespace windway::testing
