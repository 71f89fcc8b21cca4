// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "slide/least_cost.hpp"

namespace windway {

/// Expanded uncertainties of a compromise: in each case 95 % of the draws lie within so much of the value found. At a
/// limit of travel all draws lie on its free side, so there it is the reach of a one-sided interval.
struct SlideUncertainty {
  double slide_u95_mm = 0;
  double shift_u95_cents = 0;
  std::vector<double> moved_u95_cents;  ///< by note: its own pitch and the place of the head together
};

/// Parametric bootstrap (B. Efron & R. J. Tibshirani, An Introduction to the Bootstrap (1993), ch. 6): soft, moderate
/// and hard of every note are drawn anew from normal distributions of their u95 and the compromise is found again,
/// 400 times. The same numbers every run: the generator and its seed are fixed.
SlideUncertainty slide_uncertainty(const std::vector<NoteBreath>& notes, double speed_of_sound_m_s,
                                   const HeadSpan& span, double slide_mm, double slide_factor = 1.0);

}  // namespace windway
