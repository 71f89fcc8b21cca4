// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

namespace windway {

/// The factor of an expanded uncertainty at 95 % for `degrees` of freedom, which must be positive (Student's t; JCGM
/// 100:2008, table G.2).
double u95_factor(double degrees);

}  // namespace windway
