// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "report/measurement/pictured.hpp"
#include "report/page/rows_figure.hpp"

namespace windway {

/// Where the head makes each note true: places of the head along x, a note a row. The best place is one upright line
/// through all rows; where it cuts a note's wedge is how hard to blow that note. Of a fixed head cents along x instead.
RowsFigure head_figure(const Pictured& pictured);

/// How hard to blow each note with the head there: from soft to hard along x.
RowsFigure breath_figure(const Pictured& pictured);

/// The holes one by one, the longest tube on top: cents along x, notes of one length together; the move is a line that
/// slants, as a shorter tube moves more.
RowsFigure holes_figure(const Pictured& pictured);

/// What the wedges of these notes mean.
std::vector<FigureKey> wedge_keys(const Pictured& pictured);

/// What to blow, with what is left of a note that may stay as it is, or that none of the player's blows reaches: "as it
/// is: 2.4 cents flat", "out of reach, even blown soft; still 0.5 cents sharp".
std::string blow_in_words(const PicturedNote& note);

}  // namespace windway
