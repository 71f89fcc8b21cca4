// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "measurement.hpp"

namespace CLI {
class App;
}

namespace windway::cli {

class OutputFile;

/// What is said of the flute; what is not said is judged from the recording.
struct FluteOptions {
  std::string instrument;  ///< a file, or a name that windway knows
  std::string kind;
  std::string lowest;
  std::string scale;
  std::string order;
  std::string note_names = "english";
};

/// What is said of the pitch and the air.
struct PitchOptions {
  std::optional<double> a4_hz;
  std::string partner;  ///< a recording that tells A4
  std::string temperament;
  std::string key;
  Air air;
  std::optional<double> humidity_percent;
  std::optional<double> co2_percent;
  std::optional<double> quote_at_c;
};

/// What is said of the head.
struct HeadOptions {
  std::optional<double> head_out_mm;
  std::optional<double> travel_mm;
  bool is_fully_in = false;
  bool is_fixed_head = false;
};

/// Where the result goes, and in which form.
struct ResultOptions {
  std::string format = "text";
  std::optional<std::string> output;  ///< absent or -: standard output
};

/// How the takes were blown.
struct BlowOptions {
  std::vector<std::string> blown;  ///< soft, moderate, hard in the order of each note's blows
  HoldRules hold_rules;
};

// Each declares a group of options; parsing fills the struct, which must outlive `command`.
void add_blow_options(CLI::App& command, BlowOptions& blow);
void add_flute_options(CLI::App& command, FluteOptions& flute);
void add_order_option(CLI::App& command, FluteOptions& flute);
void add_pitch_options(CLI::App& command, PitchOptions& pitch);
/// Of these, the reference pitch and the temperament alone.
void add_tuning_options(CLI::App& command, PitchOptions& pitch);
void add_head_options(CLI::App& command, HeadOptions& head);
void add_result_options(CLI::App& command, ResultOptions& result, const std::vector<std::string>& formats);
/// The positional recordings of a command.
void add_recordings_option(CLI::App& command, const std::string& name, std::vector<std::string>& recordings,
                           const std::string& what);

/// Refuses a call that contradicts itself. Throws Error (kind usage).
[[noreturn]] void refuse(const std::string& message);
NoteNames note_names_of(const FluteOptions& flute);
/// The instrument of a file (an existing path, or a name that ends in .toml), or the built-in one of that name.
Instrument instrument_from(const std::string& file_or_name);
InstrumentHint hint_of(const FluteOptions& flute);
/// The reference pitch and temperament: as said, else the instrument's, else A4 = 440 Hz in equal temperament.
Tuning tuning_of(const PitchOptions& pitch, const InstrumentHint& hint);
/// The tuning, and how sure its A4 is where a partner's recording told it; what is doubtful about that recording goes
/// to standard error.
std::pair<Tuning, std::optional<double>> tuning_with_partner(const PitchOptions& pitch, const InstrumentHint& hint);
Air air_of(const PitchOptions& pitch);
Head head_of(const HeadOptions& head);
BlowHint blow_hint_of(const BlowOptions& blow);
/// What all commands that measure takes have in common.
MeasureSettings settings_of(const FluteOptions& flute, const PitchOptions& pitch, const HeadOptions& head);

/// What a result saved as JSON says, or else what the recording measures.
Measurement measured_or_saved(const std::string& path, const MeasureSettings& settings);

/// Refuses an output that is one of the files that are read; an empty name is none. `option` named it.
void refuse_overwriting(const std::string& option, const std::string& output, const std::vector<std::string>& inputs);
/// The result's file, made before the work starts; null: standard output. Refuses one of `inputs`, or no name.
std::unique_ptr<OutputFile> open_result(const ResultOptions& result, const std::vector<std::string>& inputs);
void write_result(const std::unique_ptr<OutputFile>& file, const std::string& report);
/// Refuses where none is given (with the question, as in "which recording? as in: ...") or one is given twice.
void check_recordings(const std::vector<std::string>& recordings, const std::string& question);
/// Each as a line "windway: warning: ..." on standard error, for formats that have no place for them.
void complain_of(const Warnings& warnings);

}  // namespace windway::cli
