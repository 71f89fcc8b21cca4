// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

namespace windway {

/// Frequency of one partial of a note, as measured.
struct PartialFrequency {
  int number = 1;  ///< 1: the lowest
  double hz = 0;
  double sd_hz = 0;  ///< standard deviation of that, positive
};

/// A string's stiffness with its expanded uncertainty at 95 %.
struct Inharmonicity {
  double value = 0;  ///< B of f_n = n f0 sqrt(1 + B n^2)
  double u95 = 0;
};

struct StiffString {
  double first_hz = 0;  ///< the lowest partial as fitted, f0 sqrt(1 + B): what the ear takes for the pitch
  double first_u95_cents = 0;
  std::optional<Inharmonicity> inharmonicity;  ///< from three partials on
  int partials = 0;                            ///< that the fit used
};

/// Fits f_n = n f0 sqrt(1 + B n^2) to the partials of one note (H. Fletcher, JASA 36 (1964) 203): linear in f0^2 and
/// f0^2 B, each partial weighted by its own uncertainty and a scatter common to all, which soundboards add; the weight
/// of one that lies far off the rest sinks (P. J. Huber, Ann. Math. Stat. 35 (1964) 73). One partial alone stands for
/// itself: the first as it is, another as near the first as strings of B up to 0.001 let it be. Empty for none.
std::optional<StiffString> fit_stiff_string(const std::vector<PartialFrequency>& partials);

/// The same for pipes and reeds, whose partials are whole multiples: B is 0 and not fitted.
std::optional<StiffString> fit_harmonics(const std::vector<PartialFrequency>& partials);

}  // namespace windway
