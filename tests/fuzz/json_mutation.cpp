// SPDX-License-Identifier: GPL-3.0-or-later
#include "json_mutation.hpp"

#include <cstring>
#include <nlohmann/json.hpp>
#include <random>

#include "fuzz_input.hpp"

extern "C" std::size_t LLVMFuzzerMutate(std::uint8_t* bytes, std::size_t count, std::size_t most);

namespace windway::fuzz {
namespace {

using Json = nlohmann::ordered_json;

/// Every value in the document and its parents.
void gather(Json& json, std::vector<Json*>& all) {
  all.push_back(&json);
  if (json.is_structured())
    for (Json& inner : json) gather(inner, all);
}

Json strange_value(std::minstd_rand& random) {
  static const std::vector<Json> values{
      nullptr, true,         0,     -1,           1,     127,    128,  1e-300,        1e300,
      -1e300,  2147483648.0, -3e9,  1e10,         0.5,   "",     "x",  "D5",          "D",
      "\n",    "<&\"",       "C-1", "2026-11-25", 99999, 200000, 1e-9, Json::array(), Json::object()};
  return values[random() % values.size()];
}

void change(Json& json, std::minstd_rand& random) {
  if (json.is_array() && !json.empty() && random() % 2 == 0) {
    const std::size_t at = random() % json.size();
    if (random() % 2 == 0)
      json.erase(at);
    else
      json.push_back(Json(json[at]));
  } else if (json.is_object() && !json.empty() && random() % 2 == 0) {
    json.erase(std::next(json.begin(), static_cast<std::ptrdiff_t>(random() % json.size())));
  } else if (json.is_number() && random() % 2 == 0) {
    json = json.get<double>() * (random() % 2 == 0 ? -1.0 : 1e3);
  } else {
    json = strange_value(random);
  }
}

}  // namespace

std::string with_one_value_changed(const std::string& text, unsigned seed) {
  Json json = Json::parse(text, nullptr, false);
  if (json.is_discarded()) return "";
  std::minstd_rand random(seed);
  std::vector<Json*> all;
  gather(json, all);
  change(*all[random() % all.size()], random);
  return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::size_t mutated_json(std::uint8_t* bytes, std::size_t count, std::size_t most, unsigned seed) {
  const std::string changed = seed % 2 == 0 ? with_one_value_changed(text_of(bytes, count), seed) : "";
  if (changed.empty() || changed.size() > most) return LLVMFuzzerMutate(bytes, count, most);
  std::memcpy(bytes, changed.data(), changed.size());
  return changed.size();
}

}  // namespace windway::fuzz
