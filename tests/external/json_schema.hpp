// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <set>
#include <string>
#include <vector>

namespace windway::external_tests {

/// Names of the shipped schemas, "windway.check.v1" for lib/report/schemas/windway.check.v1.schema.json; ascending.
std::set<std::string> shipped_schemas();

/// Names of the formats that the library's sources write or read, as they stand there in quotes.
std::set<std::string> schemas_in_sources();

/// May a text have keys that the schema does not describe, or in another order? The shipped schemas let it, for what
/// is to come; of what windway writes today nothing may be left undescribed.
enum class Keys { as_described, in_any_order, more_may_come };

/// What tests/external/validate_json.py says of JSON texts held against a shipped schema.
struct Judgement {
  int exit_status = 0;     ///< 0 all are right, 1 some are not, 2 no schema or no JSON, 3 python3-jsonschema is missing
  std::set<int> refused;   ///< which of the texts, counted from 1
  std::string in_words{};  ///< each mistake with its place
};
Judgement judge(const std::string& schema, const std::vector<std::string>& texts, Keys keys);

/// Whether a shipped schema follows the rules for schemas: 0, as exit_status above.
int judge_schema(const std::string& schema);

/// Whether the validator can run here.
bool validator_is_there();

}  // namespace windway::external_tests
