// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <vector>

namespace windway {

/// What every instrument of a bench has in common, note by note, but for one thing that no scale can show: a slide of
/// all of them (slide/law_of_slide.hpp). Its place is taken from the first medians. Or what one instrument has by
/// itself.
struct CommonErrors {
  std::vector<std::optional<double>> cents;  ///< by note; + sharp. Absent: measured on too few instruments
  std::vector<double> covariance;            ///< notes x notes, cents^2, of `cents` off that slide; 0 where absent
  int instruments = 0;                       ///< that tell of at least three such notes
  double freedom = 0.0;                      ///< degrees of freedom of the covariance
};

/// Instruments that a note must be measured on to be called common to a bench: of fewer the scatter is hardly known.
inline constexpr int least_bench = 8;

/// `rows`: by instrument, by note, cents as recorded before any move; absent: not measured. `lengths_mm`: by note.
/// Every instrument has a slide of its own, fitted beside the common errors. Notes and instruments that are far out
/// count for little or nothing (M-estimates: Huber within an instrument, Tukey's bisquare across the bench; P. J.
/// Huber, Robust Statistics, 1981). Cost: instruments x notes^2.
CommonErrors common_errors(const std::vector<std::vector<std::optional<double>>>& rows,
                           const std::vector<double>& lengths_mm);

/// Robust SD of residuals, a thousandth of a cent at least: nothing is measured more finely, and equal values would
/// divide by zero.
double scatter_cents(std::vector<double> residuals);

}  // namespace windway
