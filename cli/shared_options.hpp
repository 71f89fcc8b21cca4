// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "measurement.hpp"

namespace CLI {
class App;
}

namespace windway::cli {

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
  std::optional<double> bore_temp_c;
  std::optional<double> humidity_percent;
  std::optional<double> co2_percent;
  std::optional<double> quote_at_c;
};

/// What is said of the head.
struct HeadOptions {
  std::vector<double> head_out_mm;  ///< one place, or of several takes one for each
  std::optional<double> travel_mm;
  bool is_fully_in = false;
  bool is_fixed_head = false;
};

/// How the takes were blown.
struct BlowOptions {
  std::vector<std::string> blown;  ///< soft, moderate, hard in the order of each note's blows
  bool is_warm = false;
  HoldRules hold_rules;
};

/// All that is said of takes to measure.
struct TakeOptions {
  BlowOptions blow;
  FluteOptions flute;
  PitchOptions pitch;
  HeadOptions head;
};

/// Where the result goes, and in which form.
struct ResultOptions {
  std::string format = "text";
  std::optional<std::string> output;  ///< absent or -: standard output
  bool has_decimal_comma = false;     ///< of CSV over many takes
  std::string figure;                 ///< of SVG: which; empty: the first
  bool has_curves = false;            ///< of JSON: loudness and pitch too, each 50 ms
  bool has_plot = false;              ///< text with the first figure in characters
};

// Each declares a group of options; parsing fills the struct, which must outlive `command`.

/// Of takes: the flute, the pitch and the air, the head.
void add_take_options(CLI::App& command, TakeOptions& take);
/// The same of takes of whole scales: how they were blown and in which order besides.
void add_scale_take_options(CLI::App& command, TakeOptions& take);
void add_flute_options(CLI::App& command, FluteOptions& flute);
/// That the flute had been played warm before.
void add_warm_option(CLI::App& command, BlowOptions& blow);
/// The reference pitch and the temperament alone.
void add_tuning_options(CLI::App& command, PitchOptions& pitch);
/// By format, what the help says of it.
using FormatWords = std::map<std::string, std::string>;
/// The form and the place of the result, and the help. `own`: what the command's formats are, where not as usual.
void add_result_options(CLI::App& command, ResultOptions& result, const std::vector<std::string>& formats,
                        const FormatWords& own = {});
/// Where the result goes, of a command that has one form alone.
void add_output_option(CLI::App& command, ResultOptions& result);
/// Which figure --format svg draws.
void add_figure_option(CLI::App& command, ResultOptions& result, const std::vector<std::string>& figures);
/// The same, and the first of them in characters.
void add_figure_options(CLI::App& command, ResultOptions& result, const std::vector<std::string>& figures);
/// Refuses them with a format that they do not belong to. Throws Error (kind usage).
void check_figure_options(const ResultOptions& result);
/// What the files are that a bench's results are read from.
inline constexpr auto saved_lines_in_words = "files that windway batch --results has written; - is standard input";
/// The results of a bench, of a command that reads other things too.
void add_saved_lines_option(CLI::App& command, std::vector<std::string>& results);
/// The positional recordings of a command.
void add_recordings_option(CLI::App& command, const std::string& name, std::vector<std::string>& recordings,
                           const std::string& what);

}  // namespace windway::cli
