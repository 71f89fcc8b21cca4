// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/coverage_factor.hpp"

#include <boost/math/distributions/students_t.hpp>

namespace windway {

double u95_factor(double degrees) { return boost::math::quantile(boost::math::students_t(degrees), 0.975); }

}  // namespace windway
