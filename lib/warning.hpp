// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <cstddef>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace windway {

/// What is doubtful about a result. The manual says what to do about each.
enum class WarningCode {
  // the recording
  truncated,
  damaged,
  more_sound_tracks,
  non_finite_samples,
  clipped,
  silent,
  loud_background,
  voice_filter,
  // what sounds in it
  other_sound,
  struck_string,
  tune_played,
  unsteady,
  pitch_corrected,
  // which notes it holds
  instrument_inferred,
  instrument_ambiguous,
  octave_inferred,
  scale_doubtful,
  not_in_scale,
  one_note_played,
  octave_slip,
  not_heard,
  part_of_scale,
  scale_in_two,
  not_in_order,
  // how they were blown
  blow_not_sure,
  blow_count,
  blows_contradict,
  spread_not_measured,
  strengths_unknown,
  moderate_not_blown,
  levelled,
  warming_unseen,
  not_warm_yet,
  pitch_drifted,
  head_moved,
  // the head
  scale_far_off,
  head_position_unknown,
  fully_in,
  end_of_travel,
  fixed_head,
  air_out_of_range,
  // two takes
  other_instrument,
  other_temperature,
  same_recording,
  move_contradicted,
  move_implausible,
  move_too_small,
  // several takes together
  takes_disagree,
  take_note_apart,
  takes_not_compared,
  // a partner
  partner_cut,
  partner_pitch_ambiguous,
  partner_one_note,
  partner_out_of_range,
  partner_far_off,
  partner_notes_disagree,
  partner_beats,
  partner_chords,
  // a melody
  short_melody,
  no_note_in_scale_take,
  // in a result that a later version saved
  unknown
};

/// The codes as programs read them; they are part of the contract.
inline constexpr std::array<std::pair<WarningCode, std::string_view>,
                            static_cast<std::size_t>(WarningCode::unknown) + 1>
    warning_codes{{
        {WarningCode::truncated, "truncated"},
        {WarningCode::damaged, "damaged"},
        {WarningCode::more_sound_tracks, "more_sound_tracks"},
        {WarningCode::non_finite_samples, "non_finite_samples"},
        {WarningCode::clipped, "clipped"},
        {WarningCode::silent, "silent"},
        {WarningCode::loud_background, "loud_background"},
        {WarningCode::voice_filter, "voice_filter"},
        {WarningCode::other_sound, "other_sound"},
        {WarningCode::struck_string, "struck_string"},
        {WarningCode::tune_played, "tune_played"},
        {WarningCode::unsteady, "unsteady"},
        {WarningCode::pitch_corrected, "pitch_corrected"},
        {WarningCode::instrument_inferred, "instrument_inferred"},
        {WarningCode::instrument_ambiguous, "instrument_ambiguous"},
        {WarningCode::octave_inferred, "octave_inferred"},
        {WarningCode::scale_doubtful, "scale_doubtful"},
        {WarningCode::not_in_scale, "not_in_scale"},
        {WarningCode::one_note_played, "one_note_played"},
        {WarningCode::octave_slip, "octave_slip"},
        {WarningCode::not_heard, "not_heard"},
        {WarningCode::part_of_scale, "part_of_scale"},
        {WarningCode::scale_in_two, "scale_in_two"},
        {WarningCode::not_in_order, "not_in_order"},
        {WarningCode::blow_not_sure, "blow_not_sure"},
        {WarningCode::blow_count, "blow_count"},
        {WarningCode::blows_contradict, "blows_contradict"},
        {WarningCode::spread_not_measured, "spread_not_measured"},
        {WarningCode::strengths_unknown, "strengths_unknown"},
        {WarningCode::moderate_not_blown, "moderate_not_blown"},
        {WarningCode::levelled, "levelled"},
        {WarningCode::warming_unseen, "warming_unseen"},
        {WarningCode::not_warm_yet, "not_warm_yet"},
        {WarningCode::pitch_drifted, "pitch_drifted"},
        {WarningCode::head_moved, "head_moved"},
        {WarningCode::scale_far_off, "scale_far_off"},
        {WarningCode::head_position_unknown, "head_position_unknown"},
        {WarningCode::fully_in, "fully_in"},
        {WarningCode::end_of_travel, "end_of_travel"},
        {WarningCode::fixed_head, "fixed_head"},
        {WarningCode::air_out_of_range, "air_out_of_range"},
        {WarningCode::other_instrument, "other_instrument"},
        {WarningCode::other_temperature, "other_temperature"},
        {WarningCode::same_recording, "same_recording"},
        {WarningCode::move_contradicted, "move_contradicted"},
        {WarningCode::move_implausible, "move_implausible"},
        {WarningCode::move_too_small, "move_too_small"},
        {WarningCode::takes_disagree, "takes_disagree"},
        {WarningCode::take_note_apart, "take_note_apart"},
        {WarningCode::takes_not_compared, "takes_not_compared"},
        {WarningCode::partner_cut, "partner_cut"},
        {WarningCode::partner_pitch_ambiguous, "partner_pitch_ambiguous"},
        {WarningCode::partner_one_note, "partner_one_note"},
        {WarningCode::partner_out_of_range, "partner_out_of_range"},
        {WarningCode::partner_far_off, "partner_far_off"},
        {WarningCode::partner_notes_disagree, "partner_notes_disagree"},
        {WarningCode::partner_beats, "partner_beats"},
        {WarningCode::partner_chords, "partner_chords"},
        {WarningCode::short_melody, "short_melody"},
        {WarningCode::no_note_in_scale_take, "no_note_in_scale_take"},
        {WarningCode::unknown, "unknown"},
    }};

/// Doubts in which the head is not moved: what is wrong must be found first. The gravest stands first.
inline constexpr std::array deep_doubts{
    WarningCode::other_sound,    WarningCode::struck_string,    WarningCode::tune_played,
    WarningCode::unsteady,       WarningCode::pitch_corrected,  WarningCode::head_moved,
    WarningCode::scale_far_off,  WarningCode::scale_doubtful,   WarningCode::instrument_ambiguous,
    WarningCode::takes_disagree, WarningCode::strengths_unknown};

constexpr std::string_view text_of(WarningCode code) { return warning_codes[static_cast<std::size_t>(code)].second; }

/// The code of that text; `unknown` where there is none.
constexpr WarningCode warning_code(std::string_view text) {
  for (const auto& [code, own] : warning_codes)
    if (text == own) return code;
  return WarningCode::unknown;
}

constexpr bool is_deep_doubt(WarningCode code) {
  for (const WarningCode doubt : deep_doubts)
    if (code == doubt) return true;
  return false;
}

/// A result exists but is doubtful: a stable code for programs, a sentence with its remedy for people.
struct Warning {
  WarningCode code = WarningCode::unknown;
  std::string message;  ///< what is doubtful and what to do about it
};

using Warnings = std::vector<Warning>;

/// The first warning of that code; none: null.
inline const Warning* find_warning(const Warnings& warnings, WarningCode code) {
  for (const Warning& warning : warnings)
    if (warning.code == code) return &warning;
  return nullptr;
}

}  // namespace windway
