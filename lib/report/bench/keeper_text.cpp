// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/keeper_text.hpp"

#include <fmt/format.h>

#include <cmath>
#include <optional>
#include <vector>

#include "report/bench/notes_text.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

std::string rise_words(const CentsEstimate& rise) {
  return fmt::format("{} by {} cents ({})", rise.cents > 0 ? "risen" : "fallen", fixed(std::abs(rise.cents), 1),
                     plus_minus(rise.u95_cents, 1));
}

bool is_real(const std::optional<CentsEstimate>& rise) { return rise && std::abs(rise->cents) > rise->u95_cents; }

/// How far its takes may lie from the mean by their own scatter, and which lie farther.
std::string limits_words(const SeriesFinding& keeper) {
  if (keeper.days) {
    return fmt::format(
        " With {} takes a day, chance alone puts the mean of a day {} to {} cents from that (SD within a "
        "day {}){}.",
        keeper.days->subgroup_size, signed_tenths(keeper.days->mean_lower), signed_tenths(keeper.days->mean_upper),
        fixed(keeper.days->sigma, 2),
        keeper.days_beyond.count > 0 ? "; farther off: " + named(keeper.days_beyond) : "");
  }
  if (!keeper.chart)
    return fmt::format(" It takes {} takes to say how far chance alone puts a take from that.", least_chart_values);
  return fmt::format(" Chance alone puts a take {} to {} cents from that{}.", signed_tenths(keeper.chart->lower),
                     signed_tenths(keeper.chart->upper),
                     keeper.beyond_chart.count > 0 ? "; farther off: " + named(keeper.beyond_chart) : "");
}

std::string drift_words(const BenchTally& tally, const SeriesFinding& keeper,
                        const std::optional<SeriesFinding>& instruments) {
  if (!keeper.rise) return "";
  if (tally.is_by_keeper)
    return is_real(keeper.rise)
               ? " It has " + rise_words(*keeper.rise) + "; this is taken out of the instruments' results."
               : "";
  if (is_real(keeper.rise))
    return " It has " + rise_words(*keeper.rise) +
           ": the measuring drifts (warmth, blowing, the recorder's clock), not only the instruments.";
  const std::string still = fmt::format(" It shows no drift, but a drift of up to {} cents would not show",
                                        fixed(std::abs(keeper.rise->cents) + keeper.rise->u95_cents, 1));
  const bool instruments_moved = instruments && is_real(instruments->rise);
  return still + (instruments_moved ? "; the instruments have " + rise_words(*instruments->rise) +
                                          ": the part above that is drift of the instruments."
                                    : ".");
}

std::string several_words(const std::vector<KeeperFinding>& keepers) {
  std::vector<std::string> serials;
  for (const KeeperFinding& keeper : keepers) serials.push_back(keeper.serial);
  return "These results have several keepers (" + list_in_words(serials) + "), each of its own batch.";
}

}  // namespace

Prose keeper_prose(const BenchTally& tally, const BenchFindings& findings) {
  Prose prose;
  if (findings.keepers.empty() && tally.rules.keeper)
    return Prose(Gap{}) + words("No measured take is of the keeper " + *tally.rules.keeper + ".", 2);
  if (findings.keepers.size() > 1) prose += Prose(Gap{}) + words(several_words(findings.keepers), 2);
  for (const KeeperFinding& keeper : findings.keepers)
    prose += Prose(Gap{}) +
             words(fmt::format("The mean home A4 of the keeper {}, {}, is {} Hz.{}{}", keeper.serial,
                               count_in_words(keeper.series.takes, "take"), fixed(keeper.series.mean_home_a4_hz, 2),
                               limits_words(keeper.series), drift_words(tally, keeper.series, findings.instruments)),
                   2);
  return prose;
}

}  // namespace windway
