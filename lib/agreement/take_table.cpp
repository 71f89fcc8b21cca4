// SPDX-License-Identifier: GPL-3.0-or-later
#include "agreement/take_table.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "breath/response/wander.hpp"
#include "units/units.hpp"

namespace windway {
namespace {

bool share_a_note(const TakeNotes& a, const TakeNotes& b) {
  return std::ranges::any_of(a.notes, [&](const NoteBreath& note) { return note_in(b, note.id) != nullptr; });
}

/// The takes that hang together with the first that shares a note with another.
std::set<std::size_t> hanging_together(const std::vector<TakeNotes>& takes) {
  for (std::size_t first = 0; first < takes.size(); ++first) {
    std::set<std::size_t> found{first};
    for (bool grows = true; grows;) {
      grows = false;
      for (std::size_t t = 0; t < takes.size(); ++t)
        if (!found.contains(t) &&
            std::ranges::any_of(found, [&](std::size_t other) { return share_a_note(takes[t], takes[other]); }))
          grows = found.insert(t).second;
    }
    if (found.size() > 1) return found;
  }
  return {};
}

std::vector<NoteId> notes_in_two(const std::vector<TakeNotes>& takes, const std::set<std::size_t>& compared) {
  std::map<NoteId, int> count;
  for (const std::size_t t : compared)
    for (const NoteBreath& note : takes[t].notes) ++count[note.id];
  std::vector<NoteId> notes;
  for (const auto& [note, of_takes] : count)
    if (of_takes > 1) notes.push_back(note);
  return notes;
}

/// How surely the note was measured, and how well a player brings it back in another take.
double variance_cents2(const NoteBreath& note) {
  return std::pow(note.moderate.u95_cents / normal_u95_factor, 2) + unseen_variance_cents2;
}

}  // namespace

const NoteBreath* note_in(const TakeNotes& take, const NoteId& id) {
  const auto found = std::ranges::find(take.notes, id, &NoteBreath::id);
  return found == take.notes.end() ? nullptr : &*found;
}

TakeTable take_table(const std::vector<TakeNotes>& takes) {
  const std::set<std::size_t> compared = hanging_together(takes);
  TakeTable table;
  table.takes.assign(compared.begin(), compared.end());
  table.notes = notes_in_two(takes, compared);
  for (std::size_t t = 0; t < takes.size(); ++t)
    if (!compared.contains(t)) table.left_out.push_back(takes[t].take);
  for (std::size_t column = 0; column < table.takes.size(); ++column)
    for (std::size_t row = 0; row < table.notes.size(); ++row)
      if (const NoteBreath* note = note_in(takes[table.takes[column]], table.notes[row]))
        table.cells.push_back({column, row, note->moderate.cents, variance_cents2(*note)});
  return table;
}

bool may_leave_out(const TakeTable& table, std::size_t already) {
  return table.notes.size() > 2 && 3 * (already + 1) <= table.notes.size() + already;
}

TakeTable without_note(TakeTable table, std::size_t note) {
  table.notes.erase(table.notes.begin() + static_cast<std::ptrdiff_t>(note));
  std::erase_if(table.cells, [&](const TakeCell& cell) { return cell.note == note; });
  for (TakeCell& cell : table.cells)
    if (cell.note > note) --cell.note;
  return table;
}

}  // namespace windway
