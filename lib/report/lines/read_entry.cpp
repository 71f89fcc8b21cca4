// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/lines/read_entry.hpp"

#include <simdjson.h>

#include <cassert>
#include <cmath>
#include <cstring>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

#include "report/lines/line_fields.hpp"
#include "report/measurement/json.hpp"
#include "report/record/bounds.hpp"
#include "report/wording/choices.hpp"
#include "report/wording/spelling.hpp"

namespace windway {
namespace {

using simdjson::ondemand::array;
using simdjson::ondemand::object;
using simdjson::ondemand::value;

// Reading throws simdjson_error where a key is missing or of another type. The keys are asked for in the order in which
// they are written: so each is found where the last ended. find_field does not look before that. The search by []
// would, and takes it for granted that it is JSON what it has passed; a line may be anything.

bool is_null(value found) { return found.is_null(); }

/// Throws where the number is no MIDI key.
void require_midi_key(int number) {
  if (!is_midi_key(number)) throw simdjson::simdjson_error(simdjson::NUMBER_OUT_OF_RANGE);
}

void read(value json, bool& flag) { flag = json.get_bool(); }
void read(value json, double& number) { number = json.get_double(); }
void read(value json, std::string& text) { text = std::string_view(json.get_string()); }

void read(value json, int& number) {
  const double found = json.get_double();
  if (!(std::abs(found) < 1e9 && found == std::floor(found)))  // fits an int
    throw simdjson::simdjson_error(simdjson::NUMBER_OUT_OF_RANGE);
  number = static_cast<int>(found);
}

template <typename Choice>
requires std::is_enum_v<Choice>
void read(value json, Choice& choice) {
  const auto found = choice_called<Choice>(std::string_view(json.get_string()));
  if (!found) throw simdjson::simdjson_error(simdjson::INCORRECT_TYPE);
  choice = *found;
}

void read(object json, std::vector<std::pair<std::string, std::string>>& members) {
  for (auto field : json)
    members.emplace_back(std::string_view(field.unescaped_key()), std::string_view(field.value().get_string()));
}

template <typename Value>
void read(value json, std::optional<Value>& found) {
  read(json, found.emplace());
}

/// Throws where the field cannot have that figure.
template <typename Value>
void require_possible(const Field& field, const Value& value) {
  if constexpr (std::is_arithmetic_v<Value> && !std::is_same_v<Value, bool>)
    if (!is_possible(field, static_cast<double>(value))) throw simdjson::simdjson_error(simdjson::NUMBER_OUT_OF_RANGE);
}

template <typename Value>
void require_possible(const Field& field, const std::optional<Value>& value) {
  if (value) require_possible(field, *value);
}

template <typename Value>
constexpr bool is_optional = false;
template <typename Value>
constexpr bool is_optional<std::optional<Value>> = true;

/// Reads those fields that it visits which the bench's statistics need; what may be null and is keeps its default.
struct LineReader {
  object& json;

  template <typename Value>
  [[gnu::always_inline]] void operator()(const Field& field, Value&& value) const {
    // Not all values of a record have a read: the others are no part of what is needed.
    if constexpr (requires(simdjson::ondemand::value found) { read(found, value); }) {
      if (!field.is(in_line)) return;
      simdjson::ondemand::value found = json.find_field(field.key);
      if (!is_null(found)) {
        read(found, value);
        return require_possible(field, value);
      }
      if (!is_optional<std::remove_reference_t<Value>> && !field.is(nullable))
        throw simdjson::simdjson_error(simdjson::INCORRECT_TYPE);
    } else {
      assert(!field.is(in_line));
    }
  }
  template <typename Estimate>
  [[gnu::always_inline]] void operator()(const Field& field, const char* u95_key, Estimate& estimate) const {
    auto& [value, u95] = estimate;
    (*this)(field, value);
    (*this)(u95_of(field, u95_key), u95);
  }
  template <typename Estimate>
  [[gnu::always_inline]] void operator()(const Field& field, const char* u95_key,
                                         std::optional<Estimate>& estimate) const {
    std::optional<double> value, u95;
    (*this)(field, value);
    (*this)(u95_of(field, u95_key), u95);
    if (value) estimate = Estimate{*value, u95.value_or(0.0)};
  }
};

EntryJudged judged_of(object json) {
  EntryJudged entry;
  JudgedWords words;
  visit_judged(entry.judged, words, LineReader{json});
  if (words.midi) require_midi_key(*words.midi);
  if (words.midi) entry.judged.note = NoteId{*words.midi, words.fingering};
  entry.judged.u95 = words.u95.value_or(0.0);
  entry.message = words.message;
  return entry;
}

void add_verdict(BenchEntry& entry, object json) {
  Verdict verdict;
  visit_verdict(verdict, LineReader{json});
  entry.result = verdict.result;
  entry.head_rests_mm = verdict.head_rests_mm;
  entry.head_rests_u95_mm = verdict.head_rests_u95_mm.value_or(0.0);
  entry.octave = verdict.octave;
  entry.evenness_cents = verdict.evenness_cents;
  for (object each : array(json.find_field("judged"))) entry.judged.push_back(judged_of(each));
  for (object each : array(json.find_field("work"))) {
    WorkAdvice advice;
    std::string message;
    visit_work(advice, message, LineReader{each});
    entry.work.push_back({advice.one_hole_mends, message});
  }
}

void add_take(BenchEntry& entry, object json) {
  TakeInfo take;
  visit_take(take, LineReader{json});
  entry.path = std::move(take.path);
  entry.sha256 = std::move(take.sha256);
  entry.recorded_at = entry.subject.recorded_at ? entry.subject.recorded_at : std::move(take.recorded_at);
}

void add_targets(BenchEntry& entry, object& instrument) {
  read(instrument.find_field("stretch_cents_per_octave"), entry.stretch_cents_per_octave);
  for (object each : array(instrument.find_field("targets"))) {
    std::string name;
    NoteTarget& target = entry.targets.emplace_back();
    visit_note_target(target, name, LineReader{each});
    require_midi_key(target.id.midi);
  }
}

void add_settings(BenchEntry& entry, object json) {
  MeasureSettings settings;
  std::optional<double> speed_of_sound_m_s;
  visit_reference(settings, LineReader{json});
  visit_conditions(settings, speed_of_sound_m_s, LineReader{json});
  entry.a4_hz = settings.tuning.a4_hz;
  entry.air_c = quoted_air(settings).temperature_c;
  entry.is_quoted = settings.quote_at_c.has_value();
  entry.head_out_mm = settings.head.out_mm;
  entry.travel_mm = settings.head.travel_mm;
  entry.head_moves = settings.head.moves;
  entry.note_names = settings.note_names;
  value instrument = json.find_field("instrument");
  if (is_null(instrument)) return;
  object found = instrument.get_object();
  InstrumentWords words;
  visit_instrument(words, LineReader{found});
  entry.kind = words.kind;
  entry.lowest_midi = midi_spelt_for_programs(words.lowest);
  add_targets(entry, found);
}

EntryNote note_of(object json) {
  NoteBreath note;
  std::string name;
  MovedNote moved;
  visit_note(note, name, LineReader{json});
  visit_air_column(moved, LineReader{json});
  require_midi_key(note.id.midi);
  EntryNote entry{.id = note.id,
                  .register_number = note.register_number,
                  .weight = note.weight,
                  .moderate = note.moderate,
                  .moved = {},
                  .spread = note.spread,
                  .effective_length_mm = {}};
  value found = json.find_field("moved");
  if (is_null(found)) return entry;
  object record = found.get_object();
  visit_moved(moved, LineReader{record});
  entry.moved = {moved.cents, moved.u95_cents};
  if (moved.effective_length_mm > 0) entry.effective_length_mm = moved.effective_length_mm;
  return entry;
}

void add_compromise(BenchEntry& entry, object json) {
  Compromise compromise;
  visit_compromise(compromise, LineReader{json});
  entry.slide_mm = compromise.slide_mm;
  entry.slide_u95_mm = slide_u95_mm(compromise);
  entry.home_a4_hz = compromise.home_a4_hz;
  entry.limit = compromise.limit;
  entry.end_a4_hz = end_a4_hz(compromise);
  entry.shift_u95_cents = compromise.shift_u95_cents;
}

/// The line before a key and its value; empty where the key is not in it. Within a JSON string every quote has a
/// backslash before it: the key can be found nowhere else.
std::string_view before(std::string_view key, std::string_view line) {
  const void* found = memmem(line.data(), line.size(), key.data(), key.size());  // std::search is ten times slower
  if (found == nullptr) return "";
  return line.substr(0, static_cast<std::size_t>(static_cast<const char*>(found) - line.data()));
}

/// The line up to its holds, which come last; empty where it was cut short and does not end with them.
std::string_view without_holds(std::string_view line) {
  static constexpr std::string_view none = R"(,"holds":null})";
  if (line.ends_with(none)) return line.substr(0, line.size() - none.size());
  return line.ends_with("]}") ? before(R"(,"holds":[)", line) : "";
}

void require_schema(object& json) {
  if (std::string_view(json.find_field("schema").get_string()) != measurement_schema)
    throw simdjson::simdjson_error(simdjson::INCORRECT_TYPE);
}

BenchEntry entry_of(object json) {
  BenchEntry entry;
  require_schema(json);
  visit_error(entry.error, LineReader{json});
  object subject = json.find_field("subject");
  visit_subject(entry.subject, LineReader{subject});
  object batch = json.find_field("batch");
  visit_counting(entry.counting, LineReader{batch});
  visit_of_batch(entry, LineReader{batch});
  value verdict = json.find_field("verdict");
  if (!is_null(verdict)) add_verdict(entry, verdict.get_object());
  for (object take : array(json.find_field("takes"))) add_take(entry, take);
  add_settings(entry, json.find_field("settings"));
  for (object note : array(json.find_field("notes"))) entry.notes.push_back(note_of(note));
  value compromise = json.find_field("compromise");
  if (!is_null(compromise)) add_compromise(entry, compromise.get_object());
  for (object found : array(json.find_field("warnings"))) {
    Warning warning;
    visit_warning(warning, LineReader{found});
    entry.warnings.push_back(warning.code);
  }
  return entry;
}

TakeOrder order_of(object json) {
  BenchEntry entry;
  require_schema(json);
  object subject = json.find_field("subject");
  visit_subject(entry.subject, LineReader{subject});
  object batch = json.find_field("batch");
  visit_counting(entry.counting, LineReader{batch});
  for (object take : array(json.find_field("takes"))) add_take(entry, take);
  TakeOrder order = take_order(entry.subject, entry.counting.from, entry.path, entry.sha256);
  order.is_lost = entry.counting.is_lost;
  return order;
}

}  // namespace

struct EntryReader::State {
  simdjson::ondemand::parser parser;
  std::string padded;  ///< the line, and behind it the bytes that the parser may look at

  /// What `read_object` makes of an object whose last brace is missing; nothing where it is no result.
  template <typename ReadObject>
  auto read(std::string_view open_object, const ReadObject& read_object)
      -> std::optional<decltype(read_object(std::declval<object>()))> {
    if (open_object.empty()) return std::nullopt;
    padded.assign(open_object).push_back('}');
    padded.reserve(padded.size() + simdjson::SIMDJSON_PADDING);
    try {
      auto document = parser.iterate(padded.data(), padded.size(), padded.capacity()).value();
      return read_object(document.get_object());
    } catch (const simdjson::simdjson_error&) {
      return std::nullopt;
    } catch (const Error&) {  // a note that none is called so
      return std::nullopt;
    }
  }
};

EntryReader::EntryReader() : state_(std::make_unique<State>()) {}
EntryReader::~EntryReader() = default;

std::optional<BenchEntry> EntryReader::read(std::string_view line) {
  return state_->read(without_holds(line), entry_of);
}

std::optional<TakeOrder> EntryReader::order(std::string_view line) {
  return without_holds(line).empty() ? std::nullopt : state_->read(before(R"(,"settings":{)", line), order_of);
}

}  // namespace windway
