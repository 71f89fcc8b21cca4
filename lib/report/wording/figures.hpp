// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "units/units.hpp"

namespace windway {

/// Decimal places that an expanded uncertainty deserves: its first significant digit is the last place shown, and never
/// more than `most_places`. An uncertainty that is not positive and finite says nothing: `most_places`.
int places_deserved(double u95, int most_places);

/// `value` with so many decimal places, a point whatever the locale, and no "-0.0".
std::string fixed(double value, int places);

/// The same with its sign; what rounds to zero has none.
std::string signed_fixed(double value, int places);
inline std::string signed_tenths(double value) { return signed_fixed(value, 1); }

/// "± 0.4": at least one unit in the last place shown, because rounding is an uncertainty too.
std::string plus_minus(double u95, int places);

/// "+2.4 (± 0.3)": with the places that the uncertainty deserves, one at most.
std::string signed_with_u95(double value, double u95);

/// "+2.4", "+12  ": the same in a column of a table, whose points stand below each other.
std::string figure_in_column(const CentsEstimate& estimate);

/// Rounds a figure for the machine-readable reports to six decimals, a millionth of a cent, so that the same
/// measurement gives the same bytes; what is not finite stays so.
double rounded(double value);

/// The shortest decimal that reads back as `value` (440, 442.5).
std::string shortest(double value);

}  // namespace windway
