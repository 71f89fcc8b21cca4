// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "report/record/field.hpp"

namespace windway {

/// True if the field can have that figure: it is within the bounds that the field states, and no larger than anything
/// that is measured, so that powers and squares of it stay finite. Of a field that may be null, 0 says nothing. Whoever
/// reads figures asks this of each.
bool is_possible(const Field& field, double figure);

}  // namespace windway
