// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/player/protocol.hpp"

#include <algorithm>
#include <array>
#include <sstream>

#include "report/wording/choices.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/spelling.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

std::string blows_in_words(const Protocol& protocol) {
  std::vector<std::string> blows;
  for (const Blow blow : protocol.blows) blows.emplace_back(word_of(blow));
  return list_in_words(blows);
}

/// What stands before the list. All of it common practice, no source.
Prose how_to_record(const Protocol& protocol) {
  const double minutes = protocol.warm_up_s / 60.0;
  const std::array steps{
      "1. Warm the flute: play for " + shortest(minutes) + " minutes, then begin at once.",
      std::string("2. Put the telephone or recorder a metre away and to the side, out of the stream of air, in a room "
                  "with curtains or a carpet. Stay at that distance to the end."),
      std::string("3. Switch off voice filters, noise suppression and the automatic level. Set the level so that the "
                  "hardest blow of the highest note does not overload. Save as WAV or FLAC."),
      std::string("4. Leave the head where it is until the end, and note how far out it is."),
      "5. Play the list below. Play each note " + count_in_words(protocol.blows.size(), "time") + ": " +
          blows_in_words(protocol) + ", " + shortest(protocol.hold_s) +
          " s each, tongued, with a short silence between. Blow as soft, and as hard, as you would when you play. You "
          "may talk between notes. If a note goes wrong, play it again at once."};
  Prose prose;
  for (const std::string& step : steps) prose += words(step, 3);
  return prose;
}

Prose cautions() {
  return words(
      "Blown hard, the upper notes are loud near the ear: keep them short, protect your ears, follow the "
      "rules where you are. Do not share a mouthpiece unwashed. Never force a stuck head.");
}

Grid step_table(const Protocol& protocol) {
  std::vector<std::vector<std::string>> rows;
  const double step_s = static_cast<double>(protocol.blows.size()) * (protocol.hold_s + protocol.gap_s);
  double begin_s = 0;
  for (const ProtocolStep& step : protocol.steps) {
    rows.push_back({std::to_string(rows.size() + 1), spelt(step.note.midi, protocol.instrument), step.note.fingering,
                    blows_in_words(protocol), fixed(begin_s, 0) + " s", step.is_optional ? "if you use it" : ""});
    begin_s += step_s;
  }
  return {{{"", true}, {"note"}, {"fingering"}, {"blow it", false, 1}, {"at about", true, 2}, {""}}, rows};
}

constexpr std::size_t code_indent = 2;  // of a line to copy, as text

/// Over several lines where need be: a shell takes them as one word, and windway their ends as blanks.
std::vector<std::string> order_option(const Protocol& protocol, std::size_t columns) {
  std::vector<std::string> lines{"  --order '"};
  std::size_t width = code_indent + lines.back().size();
  std::istringstream notes(order_of(protocol));
  for (std::string note; notes >> note; width += display_width(note) + 1) {
    if (width + display_width(note) + 2 > columns)  // a blank, and the last quote
      lines.emplace_back("   "), width = code_indent + lines.back().size();
    lines.back() += (lines.back().back() == '\'' ? "" : " ") + note;
  }
  lines.back() += "'";
  return lines;
}

/// The command to ask with; what does not fit its first line goes on below.
Code command(const Protocol& protocol, const std::vector<std::string>& options, std::size_t columns) {
  std::vector<std::string> lines{"windway measure my-scale.wav"};
  for (const std::string& option : options) {
    const std::size_t width = code_indent + display_width(lines.back()) + 1 + display_width(option);
    if (width + 2 <= columns) {  // " \\" at the end
      lines.back() += " " + option;
    } else {
      lines.back() += " \\";
      lines.push_back("  " + option);
    }
  }
  lines.back() += " \\";
  for (const std::string& line : order_option(protocol, columns)) lines.push_back(line);
  return {lines};
}

}  // namespace

/// A whistle's second flat seventh has no fingering that every whistle takes, and little speaks above two octaves
/// (common practice, no source).
bool is_asked(const ScaleNote& note, const Instrument& instrument) {
  const int semitones = note.id.midi - instrument.lowest_midi;
  return instrument.kind != Kind::whistle || (semitones != 22 && semitones <= 24);
}

Protocol protocol_of(const Instrument& instrument, bool up_only) {
  Protocol protocol;
  protocol.instrument = instrument;
  for (const ScaleNote& note : instrument.scale)
    if (is_asked(note, instrument)) protocol.steps.push_back({note.id, note.weight == 0 || !note.can_check});
  if (up_only || protocol.steps.empty()) return protocol;
  const std::vector<ProtocolStep> up = protocol.steps;
  for (auto step = up.rbegin() + 1; step != up.rend(); ++step)
    if (step->note.fingering.empty()) protocol.steps.push_back(*step);
  return protocol;
}

double duration_s(const Protocol& protocol) {
  return static_cast<double>(protocol.steps.size() * protocol.blows.size()) * (protocol.hold_s + protocol.gap_s);
}

std::string order_of(const Protocol& protocol) {
  std::string order;
  for (const auto& [note, is_optional] : protocol.steps)
    order += (order.empty() ? "" : " ") + with_fingering(spelt(note.midi, protocol.instrument), note, ":");
  return order;
}

Prose protocol_prose(const Protocol& protocol, const std::vector<std::string>& options, std::size_t columns) {
  const Instrument& instrument = protocol.instrument;
  const std::string what =
      instrument.name.value_or(kind_name(instrument.kind)) + " from " + spelt(instrument.lowest_midi, instrument);
  const std::string minutes = fixed((protocol.warm_up_s + duration_s(protocol)) / 60.0, 0);
  return words("What to play for a good take: " + what + ", " + count_in_words(protocol.steps.size(), "step") +
               ", about " + count_in_words(minutes, "minute") + " with warming up.") +
         Prose(Gap{}) + how_to_record(protocol) + Prose(Gap{}) + Prose(step_table(protocol)) + Prose(Gap{}) +
         cautions() + Prose(Gap{}) + words("Then run this command:") + Prose(Gap{}) +
         Prose(command(protocol, options, columns));
}

}  // namespace windway
