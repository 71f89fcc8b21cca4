// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/lines/batch_line.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <type_traits>
#include <vector>

#include "input/digest.hpp"
#include "instrument/instrument_toml.hpp"
#include "report/lines/advice_to_maker.hpp"
#include "report/lines/line_fields.hpp"
#include "report/measurement/json.hpp"
#include "report/record/json_record.hpp"
#include "report/wording/verdict_words.hpp"

namespace windway {
namespace {

std::string subject_json(const Subject& subject) {
  return json_object([&](const JsonWriter& write) { visit_subject(subject, write); });
}

JudgedWords words_of(const Judged& judged, const Instrument& instrument) {
  JudgedWords words;
  if (judged.note) {
    words.name = spelt_for_programs(judged.note->midi);
    words.midi = judged.note->midi;
    words.fingering = judged.note->fingering;
  }
  if (judged.value) words.u95 = judged.u95;
  words.message = reason_in_words(judged, instrument);
  return words;
}

void write_verdict(const Verdict& verdict, const Instrument& instrument, const JsonWriter& write) {
  visit_verdict(verdict, write);
  write(Field{"worst_step"},
        Nested{verdict.worst_step, [](const UnevenStep& step, auto&& each) { visit_uneven_step(step, each); }});
  write(Field{"judged"}, Nested{verdict.judged, [&](const Judged& judged, auto&& each) {
                                  visit_judged(judged, words_of(judged, instrument), each);
                                }});
  write(Field{"work"}, Nested{verdict.work, [&](const WorkAdvice& work, auto&& each) {
                                visit_work(work, work_in_words(work, instrument), each);
                              }});
}

/// Counting's fields without the braces of an object.
std::string counting_text(const Counting& counting) {
  const std::string object = json_object([&](const JsonWriter& write) { visit_counting(counting, write); });
  return object.substr(1, object.size() - 2);
}

/// What a batch says besides the measurement.
void write_additions(const JudgedTake& take, const JsonWriter& write) {
  visit_error(take.error, write);
  write.add("subject", subject_json(take.subject));
  write.add("batch", json_object([&](const JsonWriter& inner) {
              visit_counting(take.counting, inner);
              visit_of_batch(take, inner);
            }));
  write(Field{"verdict"}, Nested{take.verdict, [&](const Verdict& verdict, const JsonWriter& inner) {
                                   write_verdict(verdict, take.measurement.naming.instrument, inner);
                                 }});
}

/// The take as its file is known, where it could not be measured.
std::string take_alone(const JudgedTake& take) {
  TakeInfo known;
  known.path = take.path;
  known.sha256 = take.sha256;
  const std::string object = json_object([&](const JsonWriter& write) {
    visit_take(known, [&](const Field& field, const auto& value) {
      constexpr bool is_text = std::is_convertible_v<decltype(value), std::string>;  // of figures nothing is known
      JsonWriter{write.object, is_text}(field, value);
    });
  });
  return "[" + object + "]";
}

}  // namespace

std::string batch_line(const JudgedTake& take, const std::string& program_version) {
  std::vector<JsonMember> members = json_members(take.measurement, program_version);
  const auto holds = std::ranges::find(members, "holds", &JsonMember::key);
  std::rotate(holds, holds + 1, members.end());
  return json_object([&](const JsonWriter& write) {
           for (const JsonMember& member : members) {
             if (member.key == "subject") continue;
             const bool is_unread = member.key == "takes" && member.texts.empty();
             const bool is_left_out = member.key == "holds" && !take.with_holds;
             write.add(member.key.c_str(), is_unread ? take_alone(take) : is_left_out ? "null" : value_of(member));
             if (member.key == "program") write_additions(take, write);
           }
         }) +
         "\n";
}

std::string path_as_written(const std::string& path) {
  return nlohmann::json::parse(json_text(path)).get<std::string>();
}

std::string settings_key(const MeasureSettings& settings, const JudgeLimits& limits, const Subject& subject,
                         const std::string& program_version) {
  Measurement asked;
  asked.settings = settings;
  const auto members = json_members(asked, program_version);
  const InstrumentHint& hint = settings.instrument;
  std::vector<std::string> order;
  for (const NoteId& note : hint.order)
    order.push_back("[" + json_text(note.midi) + "," + json_text(note.fingering) + "]");
  const auto& range = limits.head_out_range_mm;
  const std::string said = json_object([&](const JsonWriter& write) {
    write(Field{"version"}, program_version);
    write(Field{"settings"}, value_of(*std::ranges::find(members, "settings", &JsonMember::key)));
    write(Field{"kind"}, hint.kind);
    write.add("lowest", hint.lowest
                            ? "[" + json_text(hint.lowest->pitch_class) + "," + json_text(hint.lowest->octave) + "]"
                            : "null");
    write(Field{"instrument"}, hint.instrument ? std::optional(instrument_toml(*hint.instrument)) : std::nullopt);
    write.add("order", fmt::format("[{}]", fmt::join(order, ",")));
    write(Field{"blows"}, settings.blows.order);
    write(Field{"tolerance_cents"}, limits.tolerance_cents);
    write(Field{"notes_have_their_own"}, limits.notes_have_their_own);
    write(Field{"max_spread_cents"}, limits.max_spread_cents);
    write(Field{"max_octave_cents"}, limits.max_octave_cents);
    write(Field{"head_out_range_mm"},
          range ? std::optional(std::vector<double>{range->min_mm, range->max_mm}) : std::nullopt);
    write(Field{"every_note"}, limits.every_note);
    write.add("subject", subject_json(subject));
  });
  return sha256_of_text(said).substr(0, 16);
}

std::string with_counting(std::string line, const Counting& counting) {
  // Within a JSON string every quote has a backslash before it: this can be found nowhere else.
  const std::string key = R"(,"batch":{)";
  const std::size_t found = line.find(key);
  const std::size_t last = found == std::string::npos ? found : line.find(R"(,"settings_key":)", found);
  if (last == std::string::npos) return line;
  const std::size_t from = found + key.size();
  return line.replace(from, last - from, counting_text(counting));
}

}  // namespace windway
