// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/record/json_record.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "report/wording/figures.hpp"

namespace windway {
namespace {

using Json = nlohmann::ordered_json;

std::string line_of(const Json& value) { return value.dump(-1, ' ', false, Json::error_handler_t::replace); }

}  // namespace

std::string json_text(double value) { return std::isfinite(value) ? line_of(rounded(value)) : "null"; }
std::string json_text(bool value) { return value ? "true" : "false"; }
std::string json_text(int value) { return std::to_string(value); }
std::string json_text(std::uint64_t value) { return std::to_string(value); }
std::string json_text(const std::string& value) { return line_of(value); }
std::string json_text(InPercent<const double> value) { return json_text(100.0 * value.share); }

std::string json_text(const std::vector<std::pair<std::string, std::string>>& members) {
  Json object = Json::object();
  for (const auto& [key, content] : members) object[key] = content;
  return line_of(object);
}

void JsonWriter::add(const char* key, const std::string& text_of_value) const {
  object.append(object.ends_with('{') ? "\"" : ",\"").append(key).append("\":").append(text_of_value);
}

std::string laid_out(const std::string& json) { return Json::parse(json).dump(1, ' ', false); }

}  // namespace windway
