// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/warned_takes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>
#include <vector>

#include "report/wording/prose.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

/// What a code means, of those that one recorded scale can have. Its message says more; a line of results has it.
constexpr std::array<std::pair<WarningCode, std::string_view>, 41> meanings{{
    {WarningCode::truncated, "the file is shorter than its header says"},
    {WarningCode::damaged, "some of the sound could not be decoded"},
    {WarningCode::more_sound_tracks, "only the first of several sound tracks was heard"},
    {WarningCode::non_finite_samples, "some samples are not numbers"},
    {WarningCode::clipped, "the recording is overloaded"},
    {WarningCode::silent, "the recording is almost silent"},
    {WarningCode::loud_background, "the background is nearly as loud as the softest notes"},
    {WarningCode::voice_filter, "the recorder turned held notes down"},
    {WarningCode::other_sound, "something else sounds with the notes"},
    {WarningCode::struck_string, "it sounds like a string, not a flute"},
    {WarningCode::tune_played, "it is a tune, not a scale of held notes"},
    {WarningCode::unsteady, "its notes swing too widely"},
    {WarningCode::pitch_corrected, "its pitch seems to have been corrected"},
    {WarningCode::instrument_inferred, "kind or lowest note was judged from the recording"},
    {WarningCode::instrument_ambiguous, "two instruments fit the recording about equally well"},
    {WarningCode::octave_inferred, "the lowest note was not played, so its octave is a guess"},
    {WarningCode::scale_doubtful, "many notes do not fit the instrument"},
    {WarningCode::not_in_scale, "a note that is not in the instrument's scale was left out"},
    {WarningCode::one_note_played, "it has only one note"},
    {WarningCode::octave_slip, "a note fell into the lower octave"},
    {WarningCode::not_heard, "a note was not heard"},
    {WarningCode::scale_in_two, "its notes lie apart in two parts, as if the head had moved"},
    {WarningCode::part_of_scale, "only a part of the scale was played"},
    {WarningCode::not_in_order, "a note was heard that --order does not name"},
    {WarningCode::blow_not_sure, "a blow that fits no strength was left out"},
    {WarningCode::blow_count, "a note was not blown as often as said"},
    {WarningCode::blows_contradict, "a hard blow is flatter than a soft one"},
    {WarningCode::spread_not_measured, "soft and hard of a note were not both found"},
    {WarningCode::strengths_unknown, "which two strengths were blown is not known"},
    {WarningCode::moderate_not_blown, "a note's moderate pitch is a guess from the other notes"},
    {WarningCode::levelled, "the recorder made soft and hard equally loud"},
    {WarningCode::warming_unseen, "it may have been warming, and no repeats would show it"},
    {WarningCode::not_warm_yet, "the pitch rose by itself during the recording"},
    {WarningCode::pitch_drifted, "its pitch drifted while it was recorded, and no warming explains it"},
    {WarningCode::head_moved, "its head seems to have moved while it was recorded"},
    {WarningCode::scale_far_off, "the whole scale is far from A4"},
    {WarningCode::head_position_unknown, "the head should go in, but may be in already"},
    {WarningCode::fully_in, "the best place is farther in than the head goes"},
    {WarningCode::end_of_travel, "the best place is farther out than the head goes"},
    {WarningCode::fixed_head, "the head does not move"},
    {WarningCode::air_out_of_range, "the air is outside what the formula for the speed of sound was made for"},
}};

std::string meaning_of(WarningCode code) {
  const auto found = std::ranges::find(meanings, code, &std::pair<WarningCode, std::string_view>::first);
  return found == meanings.end() ? "" : " " + std::string(found->second) + ".";
}

std::string names_of(const WarnedTakes& warned) {
  std::vector<std::string> names(warned.named.begin(), warned.named.end());
  if (warned.takes > names.size()) names.push_back(fmt::format("{} more", warned.takes - names.size()));
  return list_in_words(names);
}

}  // namespace

Prose warned_takes_prose(const std::map<WarningCode, WarnedTakes>& warned) {
  if (warned.empty()) return {};
  Prose prose = Prose(Gap{}) + words("Warnings:");
  for (const auto& [code, takes] : warned)
    prose += words(fmt::format("  {}:{} {}: {}.", text_of(code), meaning_of(code), count_in_words(takes.takes, "take"),
                               names_of(takes)),
                   4);
  return prose;
}

}  // namespace windway
