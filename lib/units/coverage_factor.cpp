// SPDX-License-Identifier: GPL-3.0-or-later
#include "units/coverage_factor.hpp"

#include <boost/math/distributions/students_t.hpp>
#include <cmath>

namespace windway {

double u95_factor(double degrees) { return boost::math::quantile(boost::math::students_t(degrees), 0.975); }

double u95_factor(double degrees, std::size_t comparisons) {
  const double beyond = -std::expm1(std::log(0.95) / static_cast<double>(comparisons));
  return boost::math::quantile(boost::math::complement(boost::math::students_t(degrees), 0.5 * beyond));
}

}  // namespace windway
