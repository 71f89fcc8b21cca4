// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <optional>
#include <string>
#include <utility>

#include "measurement.hpp"
#include "shared_options.hpp"

namespace CLI {
class App;
}

namespace windway::cli {

// What the options say, as the library wants it. All throw Error (kind usage) where they contradict each other.

NoteNames note_names_of(const FluteOptions& flute);
/// The instrument of a file (an existing path, or a name that ends in .toml), or the built-in one of that name.
Instrument instrument_from(const std::string& file_or_name);
InstrumentHint hint_of(const FluteOptions& flute);
/// The reference pitch and temperament: as said, else the instrument's, else A4 = 440 Hz in equal temperament.
Tuning tuning_of(const PitchOptions& pitch, const InstrumentHint& hint);
/// The tuning, and how sure its A4 is where a partner's recording told it; what is doubtful about that recording goes
/// to standard error.
std::pair<Tuning, std::optional<double>> tuning_with_partner(const PitchOptions& pitch, const InstrumentHint& hint);
BlowHint blow_hint_of(const BlowOptions& blow);
/// What all commands that measure takes have in common. Refuses several places of the head.
MeasureSettings settings_of(const TakeOptions& take);
/// The same of so many takes together, each of which may have its own place of the head.
MeasureSettings settings_of(const TakeOptions& take, std::size_t takes);

/// The air, where the call does not say otherwise.
Air air_of(const PitchOptions& pitch, Air air);

/// Refuses every option that the call gave but those of results, limits and `but`: they say how to measure a recording,
/// and `why_none` says that there is none to measure.
void refuse_take_options(const CLI::App& command, const std::string& why_none,
                         const std::vector<std::string>& but = {});
/// The same where `saved` is a saved result.
void refuse_options_with_saved(const CLI::App& command, const std::string& saved);

/// What a result saved as JSON says, under what the call says besides, or else what the recording measures. `settings`
/// are settings_of(take), perhaps with the instrument of an earlier take.
Measurement measured_or_saved(const std::string& path, const TakeOptions& take, const MeasureSettings& settings);

}  // namespace windway::cli
