// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/bench/read_entry.hpp"

#include <simdjson.h>

#include <cmath>
#include <cstring>
#include <initializer_list>
#include <string>
#include <utility>

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

/// A note's key number, which is one of MIDI's.
int midi_of(const std::optional<double>& number) {
  if (!number || !(*number >= 0 && *number <= 127)) throw simdjson::simdjson_error(simdjson::NUMBER_OUT_OF_RANGE);
  return static_cast<int>(*number);
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
std::optional<Choice> choice_of(const std::optional<std::string>& word, std::initializer_list<Choice> choices) {
  for (const Choice each : choices)
    if (word && *word == field_of(each)) return each;
  return std::nullopt;
}

std::optional<VerdictResult> result_of(const std::optional<std::string>& word) {
  return choice_of(word,
                   {VerdictResult::pass, VerdictResult::fail, VerdictResult::too_close, VerdictResult::not_measured});
}

Subject subject_of(object json) {
  Subject subject;
  subject.serial = text_at(json, "serial");
  subject.stage = text_at(json, "stage");
  subject.lot = text_at(json, "lot");
  subject.material = text_at(json, "material");
  subject.head = text_at(json, "head");
  subject.operator_name = text_at(json, "operator");
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
  judged.criterion =
      choice_of(text_at(json, "criterion"), {Criterion::take, Criterion::heard, Criterion::note, Criterion::spread,
                                             Criterion::octave, Criterion::head_place, Criterion::reach_of_a4})
          .value_or(Criterion::take);
  judged.result = result_of(text_at(json, "result")).value_or(VerdictResult::not_measured);
  if (const auto midi = number_at(json, "midi")) judged.midi = midi_of(midi);
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
  entry.result = result_of(text_at(json, "result"));
  entry.head_rests_mm = number_at(json, "head_rests_mm");
  entry.octave = estimate_at(json, "octave_cents", "octave_u95_cents");
  entry.evenness_cents = number_at(json, "evenness_cents");
  for (object each : array(json["judged"])) entry.judged.push_back(judged_of(each));
}

void add_settings(BenchEntry& entry, object json) {
  entry.a4_hz = json["a4_hz"].get_double();
  entry.air_c = number_at(json, "bore_temp_c");
  if (const auto quote_at_c = number_at(json, "quote_at_c")) entry.air_c = quote_at_c;
  entry.head_out_mm = number_at(json, "head_out_mm");
  if (text_at(json, "note_names") == "german") entry.note_names = NoteNames::german;
  value instrument = json["instrument"];
  if (is_null(instrument)) return;
  object found = instrument.get_object();
  entry.kind = text_at(found, "kind") == "recorder" ? Kind::recorder : Kind::whistle;
  entry.lowest_midi = midi_of_name(found["lowest"].get_string());
}

EntryNote note_of(object json) {
  EntryNote note;
  note.midi = midi_of(number_at(json, "midi"));
  note.fingering = text_at(json, "fingering").value_or("");
  note.weight = json["weight"].get_double();
  note.register_number = static_cast<int>(json["register"].get_int64());
  note.moderate = {json["moderate_cents"].get_double(), json["moderate_u95_cents"].get_double()};
  note.spread = estimate_at(json, "spread_cents", "spread_u95_cents");
  note.effective_length_mm = number_at(json, "effective_length_mm");
  value moved = json["moved"];
  if (is_null(moved)) return note;
  object found = moved.get_object();
  note.moved = estimate_at(found, "cents", "u95_cents");
  return note;
}

void add_compromise(BenchEntry& entry, object json) {
  entry.slide_mm = number_at(json, "slide_mm");
  entry.slide_u95_mm = std::hypot(number_or(json, "slide_u95_mm", 0), number_or(json, "slide_model_u95_mm", 0));
  entry.home_a4_hz = number_at(json, "home_a4_hz");
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
  for (object take : array(json["takes"])) {
    entry.path = text_at(take, "path").value_or("");
    entry.sha256 = text_at(take, "sha256").value_or("");
    const auto recorded_at = text_at(take, "recorded_at");
    entry.recorded_at = entry.subject.recorded_at ? entry.subject.recorded_at : recorded_at;
  }
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
EntryReader::EntryReader(EntryReader&&) noexcept = default;
EntryReader& EntryReader::operator=(EntryReader&&) noexcept = default;

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
