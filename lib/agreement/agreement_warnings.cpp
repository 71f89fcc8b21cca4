// SPDX-License-Identifier: GPL-3.0-or-later
#include "agreement/agreement_warnings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "slide/warming.hpp"

namespace windway {
namespace {

const std::string& name_of(int take, const TakesInWords& words) { return words.names[static_cast<std::size_t>(take)]; }

/// "a, b and c"; "a or b".
std::string joined(const std::vector<std::string>& items, const char* last) {
  std::string text;
  for (std::size_t i = 0; i < items.size(); ++i)
    text += (i == 0 ? "" : i + 1 == items.size() ? fmt::format(" {} ", last) : ", ") + items[i];
  return text;
}

/// "5.9 cents (± 0.5) sharper"
std::string sharper_or_flatter(const CentsEstimate& off) {
  return fmt::format("{:.1f} cents (± {:.1f}) {}", std::abs(off.cents), std::max(0.1, off.u95_cents),
                     off.cents > 0 ? "sharper" : "flatter");
}

bool stand_alike(const TakeAgreement& agreement) {
  return std::ranges::all_of(agreement.takes, [](const TakeOffset& take) {
    return std::abs(take.above_first.cents) <= take.above_first.u95_cents;
  });
}

std::string offsets(const TakeAgreement& agreement, const TakesInWords& words) {
  if (stand_alike(agreement)) return "on average they are equal, but single notes are not";
  std::vector<std::string> others;
  for (const TakeOffset& take : agreement.takes)
    if (take.take != agreement.takes.front().take)
      others.push_back(fmt::format("{} is {}", name_of(take.take, words), sharper_or_flatter(take.above_first)));
  return fmt::format("on average over all notes, {} than {}", joined(others, "and"),
                     name_of(agreement.takes.front().take, words));
}

/// The take that is farthest from the first.
const TakeOffset& farthest(const TakeAgreement& agreement) {
  return *std::ranges::max_element(agreement.takes, {},
                                   [](const TakeOffset& take) { return std::abs(take.above_first.cents); });
}

std::string causes(const TakeAgreement& agreement, const TakesInWords& words) {
  const TakeOffset& take = farthest(agreement);
  const bool is_sharper = take.above_first.cents > 0;
  std::vector<std::string> found;
  if (agreement.as_warmth)
    found.push_back(fmt::format("the flute was {:.1f} degrees C {}",
                                std::abs(as_warming_c(take.above_first.cents, words.air)),
                                is_sharper ? "warmer" : "colder"));
  if (agreement.as_head && words.head_moves)
    found.push_back(fmt::format("its head stood {:.1f} mm further {}", std::abs(take.head_out_mm),
                                take.head_out_mm < 0 ? "in" : "out"));
  if (agreement.as_breath) found.push_back(std::string("it was blown ") + (is_sharper ? "harder" : "softer"));
  if (found.empty())
    return "No single cause explains it, neither warmth nor the place of the head nor the blowing: is it one flute, "
           "fingered alike?";
  return fmt::format("In {} it is as if {}{}.", name_of(take.take, words), joined(found, "or"),
                     found.size() > 1 ? "; these notes cannot tell which" : "");
}

std::string move_of(const TakeOffset& take, const TakesInWords& words) {
  const double u95_mm = std::max(0.1, take.slide_u95_mm.value_or(0));
  if (words.common_place_mm)
    return fmt::format("{} puts the head {:.1f} mm out (± {:.1f})", name_of(take.take, words),
                       *words.common_place_mm + *take.slide_mm, u95_mm);
  if (std::abs(*take.slide_mm) < finest_move_mm)
    return fmt::format("{} leaves the head where it was (± {:.1f} mm)", name_of(take.take, words), u95_mm);
  return fmt::format("{} puts the head {:.1f} mm {} (± {:.1f})", name_of(take.take, words), std::abs(*take.slide_mm),
                     *take.slide_mm > 0 ? "further out" : "further in", u95_mm);
}

std::string moves(const TakeAgreement& agreement, const TakesInWords& words) {
  std::vector<std::string> of_takes;
  for (const TakeOffset& take : agreement.takes)
    if (take.slide_mm) of_takes.push_back(move_of(take, words));
  return of_takes.empty() ? "" : " Taken alone, " + joined(of_takes, "and") + ".";
}

std::string remedy(const TakesInWords& words) {
  if (words.common_place_mm)
    return "Together they give no place for the head. Check each --head-out, warm the flute alike for all takes and "
           "record again.";
  if (!words.head_moves) return "Warm the flute alike for all takes and record again.";
  return "Together they give no place for the head. Warm the flute, leave the head where it is and record again. If "
         "you moved the head between them, say how far out it was in each take, as in --head-out 2,3.5.";
}

Warning takes_disagree(const TakeAgreement& agreement, const TakesInWords& words) {
  const std::string how =
      agreement.notes_scatter
          ? fmt::format(
                "their notes differ by ± {:.1f} cents, more than blowing and measuring explain. Are they of one "
                "flute, fingered alike?",
                agreement.note_u95_cents)
          : offsets(agreement, words) + ". " + causes(agreement, words);
  return {WarningCode::takes_disagree,
          "the takes do not agree: " + how + moves(agreement, words) + " " + remedy(words)};
}

Warning note_apart(const TakeAgreement& agreement, const TakesInWords& words) {
  std::vector<std::string> notes;
  for (const NoteApart& note : agreement.notes)
    notes.push_back(fmt::format("{} is {} in {}", spelt(note.note, words.instrument), sharper_or_flatter(note.off),
                                name_of(note.take, words)));
  const bool one = notes.size() == 1;
  return {WarningCode::take_note_apart,
          fmt::format("{} than the other notes suggest: check that {} fingered and blown alike in all takes.",
                      joined(notes, "and"), one ? "it was" : "they were")};
}

Warning not_compared(const TakeAgreement& agreement, const TakesInWords& words) {
  std::vector<std::string> takes;
  for (const int take : agreement.left_out) takes.push_back(name_of(take, words));
  return {
      WarningCode::takes_not_compared,
      fmt::format("{} no note with the other takes, so windway cannot tell whether {} with them; record the same scale "
                  "in each take.",
                  joined(takes, "and") + (takes.size() == 1 ? " shares" : " share"),
                  takes.size() == 1 ? "it agrees" : "they agree")};
}

}  // namespace

Warnings agreement_warnings(const TakeAgreement& agreement, const TakesInWords& words) {
  Warnings out;
  if (!agreement.agree) out.push_back(takes_disagree(agreement, words));
  if (!agreement.notes.empty()) out.push_back(note_apart(agreement, words));
  if (!agreement.left_out.empty()) out.push_back(not_compared(agreement, words));
  return out;
}

Warning no_common_note() {
  return {WarningCode::takes_not_compared,
          "no two of the takes share a note, so windway cannot tell whether they agree; record the same scale in each "
          "take."};
}

}  // namespace windway
