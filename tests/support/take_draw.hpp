// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <vector>

#include "support/plan.hpp"
#include "support/played_takes.hpp"
#include "support/random.hpp"
#include "support/take.hpp"

namespace windway::synthesis {

/// Draws of one kind of take, each a part of it; the same kind and state of `random` give the same.
FluteModel draw_flute_of(TakeKind kind, Random& random);
/// What the kind does to a flute that is there already: its breath noise, the harmonics of some notes.
void make_flute_of(TakeKind kind, FluteModel& flute, Random& random);
Playing draw_playing(TakeKind kind, Random& random);
RecordingChain draw_chain(TakeKind kind, Random& random);
/// What is asked of the player, tremolo and diminuendo in it.
std::vector<Blowing> draw_blows(TakeKind kind, const FluteModel& flute, const Strengths& strengths, Random& random);
/// A fan heard all through the take, in the kinds that have one: into its samples and its segmentation.
void draw_whine(TakeKind kind, const FluteModel& flute, const Strengths& strengths, SyntheticTake& sound,
                Random& random);

}  // namespace windway::synthesis
