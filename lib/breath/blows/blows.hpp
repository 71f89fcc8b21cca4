// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <vector>

#include "scale/naming.hpp"
#include "warning.hpp"

namespace windway {

enum class Blow { soft, moderate, hard, swell };

/// What the player said of the blows.
struct BlowHint {
  std::vector<Blow> order;                        ///< --blown: the blows of each note in order; empty: not said
  std::vector<std::optional<Blow>> blow_of_take;  ///< --soft/--moderate/--hard: by take index; empty: not said
  bool is_warm = false;                           ///< --warm: the flute had been blown warm before
};

/// True if the player said anything of how hard the blows are.
bool says_anything(const BlowHint& hint);

/// Which blow each hold is.
struct Blows {
  /// By hold; absent: not in the scale, the only strength, not sure, or of five strengths one beside the moderate.
  std::vector<std::optional<Blow>> blow;
  /// By hold, whole blows only: 0 the softest, `strengths` - 1 the hardest; absent where `blow` is, but for the
  /// strengths beside the moderate.
  std::vector<std::optional<int>> strength;
  int strengths = 1;
  std::vector<bool> used;  ///< by hold; false: not in the scale, or its blow is not sure
  Warnings warnings;
};

/// The blows as the player named them. Holds that do not make up whole rounds of the order are named; they are left
/// out, but for a note without any whole round, whose blows have no known strength.
Blows blows_as_said(const Naming& naming, const BlowHint& hint);

/// Judges the blows from level, breath noise, colour, pitch and order together, jointly over the notes; `is_swell` by
/// hold. A note none of whose blows is sure keeps its holds in use, without a blow. One strength alone, or a doubt
/// whether there are more, gives no blow. The softest strength is soft, the hardest hard, the one in the middle
/// moderate; of four the two in the middle are.
Blows judge_blows(const Naming& naming, const std::vector<bool>& is_swell);

/// Whole blows with a strength, which is their label, grouped by note and take.
struct LabelledHolds {
  std::vector<std::size_t> hold;  ///< index among the named holds
  std::vector<int> label;
  std::vector<int> group;
  int strengths = 1;
};

LabelledHolds labelled_holds(const Naming& naming, const Blows& blows);

/// The strengths in the middle of so many: of an even number two.
inline std::array<int, 2> middle_strengths(int strengths) { return {(strengths - 1) / 2, strengths / 2}; }

}  // namespace windway
