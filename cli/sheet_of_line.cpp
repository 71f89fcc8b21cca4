// SPDX-License-Identifier: GPL-3.0-or-later
#include "sheet_of_line.hpp"

#include <utility>

#include "error.hpp"
#include "options.hpp"
#include "report/measurement/saved.hpp"
#include "shared_settings.hpp"

namespace windway::cli {
namespace {

/// The result's own maker, else the one that is said.
Measurement with_maker(Measurement measurement, const std::optional<Instrument>& said, const std::string& name,
                       RepeatedNotes& notes) {
  Instrument& own = measurement.naming.instrument;
  if (!said || !said->maker) return measurement;
  if (said->kind != own.kind || said->lowest_midi != own.lowest_midi)
    refuse("--instrument is a " + described(*said) + ", and " + name + " is a " + described(own) +
           "; give the file of this instrument");
  if (own.maker && own.maker != said->maker)
    notes.add("note", name, "the result and --instrument name different makers; the sheet has the maker of the result");
  if (!own.maker) own.maker = said->maker;
  return measurement;
}

}  // namespace

std::optional<Instrument> maker_said(const std::string& instrument_file) {
  if (instrument_file.empty()) return std::nullopt;
  Instrument instrument = instrument_from(instrument_file);
  if (!instrument.maker)
    refuse("--instrument " + instrument_file +
           " names no maker; add a table [maker] to it, with name, address and model");
  return instrument;
}

void note_counting(const BenchEntry& entry, RepeatedNotes& notes) {
  if (entry.counting.keeper) {
    notes.add("note", name_of(entry), "it is the bench's own flute");
  } else if (entry.counting.is_told_twice) {
    notes.add("note", name_of(entry), "its bench has a later result of the same recording");
  } else if (!entry.counting.counts) {
    notes.add("note", name_of(entry), "this take does not count in its bench: a later take of the instrument does");
  }
}

std::string sheet_of(Measurement measurement, const SheetFacts& facts, const std::optional<Instrument>& said,
                     const std::string& name, RepeatedNotes& notes) {
  if (const std::string why = why_no_sheet(measurement); !why.empty())
    throw Error(ErrorKind::recording, "no sheet of " + name + ": " + why);
  measurement = with_maker(std::move(measurement), said, name, notes);
  std::string sheet = sheet_page(measurement, facts, WINDWAY_VERSION);
  for (const Warning& warning : measurement.warnings) notes.add("warning", name, warning.message);
  if (const std::string lacking = lacking_on_sheet(measurement); !lacking.empty()) notes.add("note", name, lacking);
  return sheet;
}

std::string sheet_of_line(const BenchEntry& entry, std::string_view line, const std::optional<Instrument>& said,
                          RepeatedNotes& notes) {
  const std::string& name = name_of(entry);
  if (!entry.error.empty()) throw Error(ErrorKind::recording, "no sheet of " + name + ": " + entry.error);
  note_counting(entry, notes);
  return sheet_of(measurement_from_json(std::string(line), name), sheet_facts(entry), said, name, notes);
}

}  // namespace windway::cli
