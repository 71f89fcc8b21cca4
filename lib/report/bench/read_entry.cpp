// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/read_entry.hpp"

#include <simdjson.h>

#include <cassert>
#include <cmath>
#include <cstring>
#include <string>
#include <type_traits>
#include <utility>

#include "report/measurement/measurement_fields.hpp"
#include "report/measurement/note_fields.hpp"
#include "report/wording/fields.hpp"

namespace windway {
namespace {

using simdjson::ondemand::array;
using simdjson::ondemand::object;
using simdjson::ondemand::value;

// Each of these throws simdjson_error where the key is missing or of another type. The keys are asked for in the order
// in which they are written: so each is found where the last ended.

bool is_null(value found) { return found.is_null(); }

std::optional<double> number_at(object& json, std::string_view key) {
  value found = json[key];
  return is_null(found) ? std::nullopt : std::optional(found.get_double().value());
}

double number_or(object& json, std::string_view key, double otherwise) {
  return number_at(json, key).value_or(otherwise);
}

/// The same, where it is one of MIDI's keys.
int key_of_midi(double number) {
  if (!(number >= 0 && number <= 127)) throw simdjson::simdjson_error(simdjson::NUMBER_OUT_OF_RANGE);
  return static_cast<int>(number);
}

std::optional<std::string> text_at(object& json, std::string_view key) {
  value found = json[key];
  return is_null(found) ? std::nullopt : std::optional<std::string>(std::string_view(found.get_string()));
}

std::optional<CentsEstimate> estimate_at(object& json, std::string_view cents, std::string_view u95) {
  const auto found = number_at(json, cents);
  const double u95_cents = number_or(json, u95, 0);
  return found ? std::optional(CentsEstimate{*found, u95_cents}) : std::nullopt;
}

int midi_of_name(std::string_view name) { return midi_of(parse_note(std::string(name), NoteNames::english)); }

template <typename Choice>
std::optional<Choice> choice_at(object& json, std::string_view key) {
  const auto word = text_at(json, key);
  return word ? choice_called<Choice>(*word) : std::nullopt;
}

void read(value json, double& number) { number = json.get_double(); }
void read(value json, std::optional<double>& number) { number = json.get_double().value(); }
void read(value json, std::string& text) { text = std::string_view(json.get_string()); }
void read(value json, std::optional<std::string>& text) { text = std::string(std::string_view(json.get_string())); }

void read(value json, int& number) {
  const double found = json.get_double();
  if (!(std::abs(found) < 1e6 && found == std::floor(found)))
    throw simdjson::simdjson_error(simdjson::NUMBER_OUT_OF_RANGE);
  number = static_cast<int>(found);
}

template <typename Choice>
requires std::is_enum_v<Choice>
void read(value json, Choice& choice) {
  choice = choice_called<Choice>(std::string_view(json.get_string())).value_or(choice);
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
      if (!field.in_line) return;
      simdjson::ondemand::value found = json[field.key];
      if (!is_null(found)) return read(found, value);
      if (!is_optional<std::remove_reference_t<Value>> && !field.may_be_null)
        throw simdjson::simdjson_error(simdjson::INCORRECT_TYPE);
    } else {
      assert(!field.in_line);
    }
  }
  template <typename Pair>
  [[gnu::always_inline]] void operator()(const Field& field, const Field& u95_field, Pair& pair) const {
    auto& [value, u95] = pair;
    (*this)(field, value);
    (*this)(u95_field, u95);
  }
  template <typename Pair>
  [[gnu::always_inline]] void operator()(const Field& field, const Field& u95_field, std::optional<Pair>& pair) const {
    std::optional<double> value, u95;
    (*this)(field, value);
    (*this)(u95_field, u95);
    if (value) pair = Pair{*value, u95.value_or(0.0)};
  }
};

Subject subject_of(object json) {
  Subject subject;
  for (const auto& [name, text] : subject_texts) subject.*text = text_at(json, name);
  if (const auto retake = number_at(json, "retake")) subject.retake = static_cast<int>(*retake);
  subject.recorded_at = text_at(json, "recorded_at");
  subject.remark = text_at(json, "remark");
  for (auto field : object(json["other"]))
    subject.other.emplace_back(std::string_view(field.unescaped_key()), std::string_view(field.value().get_string()));
  return subject;
}

EntryJudged judged_of(object json) {
  EntryJudged entry;
  Judged& judged = entry.judged;
  judged.criterion = choice_at<Criterion>(json, "criterion").value_or(Criterion::take);
  judged.result = choice_at<VerdictResult>(json, "result").value_or(VerdictResult::not_measured);
  if (const auto midi = number_at(json, "midi")) judged.midi = key_of_midi(*midi);
  entry.fingering = text_at(json, "fingering").value_or("");
  const bool in_mm = judged.criterion == Criterion::head_place;
  judged.value = number_at(json, in_mm ? "value_mm" : "value_cents");
  judged.u95 = number_or(json, in_mm ? "u95_mm" : "u95_cents", 0);
  judged.lower = number_at(json, in_mm ? "lower_mm" : "lower_cents");
  judged.upper = number_at(json, in_mm ? "upper_mm" : "upper_cents");
  entry.message = text_at(json, "message").value_or("");
  return entry;
}

void add_verdict(BenchEntry& entry, object json) {
  entry.result = choice_at<VerdictResult>(json, "result");
  entry.head_rests_mm = number_at(json, "head_rests_mm");
  entry.octave = estimate_at(json, "octave_cents", "octave_u95_cents");
  entry.evenness_cents = number_at(json, "evenness_cents");
  for (object each : array(json["judged"])) entry.judged.push_back(judged_of(each));
}

void add_take(BenchEntry& entry, object json) {
  TakeInfo take;
  visit_take(take, LineReader{json});
  entry.path = std::move(take.path);
  entry.sha256 = std::move(take.sha256);
  entry.recorded_at = entry.subject.recorded_at ? entry.subject.recorded_at : std::move(take.recorded_at);
}

void add_settings(BenchEntry& entry, object json) {
  MeasureSettings settings;
  std::optional<double> speed_of_sound_m_s;
  visit_reference(settings, LineReader{json});
  visit_conditions(settings, speed_of_sound_m_s, LineReader{json});
  entry.a4_hz = settings.tuning.a4_hz;
  entry.air_c = quoted_air(settings).temperature_c;
  entry.head_out_mm = settings.head.out_mm;
  entry.note_names = settings.note_names;
  value instrument = json["instrument"];
  if (is_null(instrument)) return;
  object found = instrument.get_object();
  entry.kind = text_at(found, "kind") == "recorder" ? Kind::recorder : Kind::whistle;
  entry.lowest_midi = midi_of_name(found["lowest"].get_string());
}

EntryNote note_of(object json) {
  NoteBreath note;
  NoteWords words;
  MovedNote moved;
  visit_note(note, words, LineReader{json});
  visit_air_column(moved, LineReader{json});
  EntryNote entry{.midi = key_of_midi(note.midi),
                  .fingering = words.fingering.value_or(""),
                  .register_number = note.register_number,
                  .weight = note.weight,
                  .moderate = note.moderate,
                  .moved = {},
                  .spread = note.spread,
                  .effective_length_mm = {}};
  value found = json["moved"];
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
  entry.slide_u95_mm = std::hypot(compromise.slide_u95_mm, compromise.slide_model_u95_mm);
  entry.home_a4_hz = compromise.home_a4_hz;
}

/// The line up to its holds, which come last and are half of it; empty where it was cut short and does not end with
/// them. Within a JSON string every quote has a backslash before it: the key can be found nowhere else.
std::string_view without_holds(std::string_view line) {
  static constexpr std::string_view key = R"(,"holds":[)";
  if (!line.ends_with("]}")) return "";
  const void* found = memmem(line.data(), line.size(), key.data(), key.size());  // std::search is ten times slower
  if (found == nullptr) return "";
  return line.substr(0, static_cast<std::size_t>(static_cast<const char*>(found) - line.data()));
}

BenchEntry entry_of(simdjson::ondemand::document& json) {
  BenchEntry entry;
  if (std::string_view(json["schema"].get_string()) != "windway.measurement.v1")
    throw simdjson::simdjson_error(simdjson::INCORRECT_TYPE);
  value error = json["error"];
  if (!is_null(error)) entry.error = std::string_view(error.get_string());
  entry.subject = subject_of(json["subject"]);
  object batch = json["batch"];
  entry.counts = batch["counts"].get_bool();
  entry.takes_of_subject = static_cast<int>(batch["takes_of_subject"].get_int64());
  entry.settings_key = std::string_view(batch["settings_key"].get_string());
  value verdict = json["verdict"];
  if (!is_null(verdict)) add_verdict(entry, verdict.get_object());
  for (object take : array(json["takes"])) add_take(entry, take);
  add_settings(entry, json["settings"]);
  for (object note : array(json["notes"])) entry.notes.push_back(note_of(note));
  value compromise = json["compromise"];
  if (!is_null(compromise)) add_compromise(entry, compromise.get_object());
  for (object warning : array(json["warnings"]))
    entry.warnings.emplace_back(std::string_view(warning["code"].get_string()));
  return entry;
}

}  // namespace

struct EntryReader::State {
  simdjson::ondemand::parser parser;
  std::string padded;  ///< the line, and behind it the bytes that the parser may look at
};

EntryReader::EntryReader() : state_(std::make_unique<State>()) {}
EntryReader::~EntryReader() = default;

std::optional<BenchEntry> EntryReader::read(std::string_view line) {
  std::string& padded = state_->padded;
  padded.assign(without_holds(line));
  if (padded.empty()) return std::nullopt;
  padded += '}';
  padded.reserve(padded.size() + simdjson::SIMDJSON_PADDING);
  try {
    auto document = state_->parser.iterate(padded.data(), padded.size(), padded.capacity()).value();
    return entry_of(document);
  } catch (const simdjson::simdjson_error&) {
    return std::nullopt;
  } catch (const Error&) {  // a note that none is called so
    return std::nullopt;
  }
}

}  // namespace windway
