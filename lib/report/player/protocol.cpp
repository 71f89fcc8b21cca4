// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/player/protocol.hpp"

#include <algorithm>
#include <sstream>

#include "report/wording/choices.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/layout.hpp"
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
std::string how_to_record(const Protocol& protocol) {
  const double minutes = protocol.warm_up_s / 60.0;
  return wrapped("1. Warm the flute: play for " + shortest(minutes) + " minutes, then begin at once.", 3) +
         wrapped(
             "2. Put the telephone or recorder a metre away and to the side, out of the stream of air, in a room with "
             "curtains or a carpet; stay at that distance to the end.",
             3) +
         wrapped(
             "3. Switch off voice filters, noise suppression and the automatic level; set the level so that the "
             "hardest blow of the highest note does not overload. Save as WAV or FLAC.",
             3) +
         wrapped("4. Leave the head where it is until the end, and note how far out it is.", 3) +
         wrapped("5. Play the list below. Each note " + count_in_words(protocol.blows.size(), "time") + ": " +
                     blows_in_words(protocol) + ", " + shortest(protocol.hold_s) +
                     " s each, tongued, a short silence between. Soft and hard are yours: as soft, and as hard, as you "
                     "would play. Talk between notes does no harm; a note that went wrong, play once more at once.",
                 3);
}

std::string cautions() {
  return wrapped(
      "Blown hard, the upper notes are loud near the ear: keep them short, protect your ears, follow the "
      "rules where you are. Do not share a mouthpiece unwashed. Never force a stuck head.");
}

std::string step_table(const Protocol& protocol) {
  std::vector<std::vector<std::string>> rows;
  const double step_s = static_cast<double>(protocol.blows.size()) * (protocol.hold_s + protocol.gap_s);
  double begin_s = 0;
  for (const ProtocolStep& step : protocol.steps) {
    rows.push_back({std::to_string(rows.size() + 1), spelt(step.note.midi, protocol.instrument), step.note.fingering,
                    blows_in_words(protocol), fixed(begin_s, 0) + " s", step.is_optional ? "if you use it" : ""});
    begin_s += step_s;
  }
  return table({{"", true}, {"note"}, {"fingering"}, {"blow it"}, {"at about", true}, {""}}, rows);
}

/// Over several lines where need be: a shell takes them as one word, and windway their ends as blanks.
std::string order_option(const Protocol& protocol) {
  std::string lines = "    --order '";
  std::size_t width = lines.size();
  std::istringstream notes(order_of(protocol));
  for (std::string note; notes >> note; width += note.size() + 1) {
    if (width + note.size() + 1 > text_columns) lines += "\n     ", width = 5;
    lines += (lines.back() == '\'' ? "" : " ") + note;
  }
  return lines + "'\n";
}

}  // namespace

Protocol protocol_of(const Instrument& instrument, bool up_only) {
  Protocol protocol;
  protocol.instrument = instrument;
  for (const ScaleNote& note : instrument.scale)
    protocol.steps.push_back({note.id, note.weight == 0 || !note.can_check});
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

std::string protocol_text(const Protocol& protocol, const std::string& options) {
  const Instrument& instrument = protocol.instrument;
  const std::string what =
      instrument.name.value_or(kind_name(instrument.kind)) + " from " + spelt(instrument.lowest_midi, instrument);
  std::string text =
      wrapped("What to play for a good take: " + what + ", " + count_in_words(protocol.steps.size(), "step") +
              ", about " + fixed((protocol.warm_up_s + duration_s(protocol)) / 60.0, 0) + " minutes with warming up.");
  text += "\n" + how_to_record(protocol) + "\n" + step_table(protocol) + "\n" + cautions();
  return text + "\nThen ask, as it stands here:\n\n  windway measure my-scale.wav" + options + " \\\n" +
         order_option(protocol);
}

}  // namespace windway
