// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "measurement.hpp"

namespace windway::test {

/// A measured whistle from D5 over two octaves, each note `moderate_cents` off with 15 cents to either side, the bore
/// at 25 degrees C; made up by hand, its move found.
Measurement even_flute(double moderate_cents, const Head& head = {});

/// Its move found again, after something was changed.
Measurement with_move(Measurement measurement);

}  // namespace windway::test
