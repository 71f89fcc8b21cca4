// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "measurement.hpp"

namespace windway {

/// The first lines of the text report, each a line before wrapping: what to do with the head and how sure that is, the
/// note to set it by, what is left for the breath, the home A4. `as_said`: where the reader finds what each note needs.
std::vector<std::string> advice(const Measurement& measurement, const std::string& as_said = "as the table says");

// Lines of it that stand elsewhere too. `measurement` has a compromise.

/// The note to set the head by, and what it should read: a tuner and a drone know the temperament, not what is meant.
std::string check_line(const Measurement& measurement);
/// The A4 at which the flute is at home, and those that its head reaches.
std::string home_line(const Measurement& measurement);
/// What the move to a limit leaves over: "still 4.1 cents sharp on average".
std::string residuals_in_words(const Compromise& compromise);

/// True where the scale is too far off, or fits the instrument too badly, for the head to answer; the advice then is
/// the question what is wrong.
bool is_in_deep_doubt(const Measurement& measurement);

/// True where the text report says by itself, beside the figure it touches, what this warning says.
bool is_said_already(const Warning& warning);

/// No move that this take can tell; to a limit of the travel, none that a player could make.
bool stays(const Compromise& compromise);

}  // namespace windway
