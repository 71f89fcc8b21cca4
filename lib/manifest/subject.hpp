// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <array>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace windway {

/// The instrument of a take and the circumstances of the recording. Nothing of it is guessed.
struct Subject {
  std::optional<std::string> serial;
  std::optional<std::string> stage;  ///< of the work: raw, voiced, final, ...
  std::optional<std::string> lot;
  std::optional<std::string> material;
  std::optional<std::string> head;
  std::optional<std::string> operator_name;  ///< who played or recorded it
  std::optional<int> retake;                 ///< number of the take among those of the same serial and stage
  std::optional<std::string> recorded_at;    ///< ISO 8601
  std::optional<std::string> remark;
  std::vector<std::pair<std::string, std::string>> other;  ///< further columns of the manifest: name, content
};

/// One text of a subject and its name in manifests, patterns of names, JSON and CSV.
struct SubjectText {
  const char* name;
  std::optional<std::string> Subject::*text;
  const char* meaning;  ///< a sentence for the schema
};

/// Which instrument a take is of, in the order of JSON and CSV.
inline constexpr std::array<SubjectText, 6> subject_texts{
    {{"serial", &Subject::serial, "Serial number of the instrument; null: not said."},
     {"stage", &Subject::stage, "Stage of the work: raw, voiced, final, ...; null: not said."},
     {"lot", &Subject::lot, "Lot of the material; null: not said."},
     {"material", &Subject::material, "Material of the body; null: not said."},
     {"head", &Subject::head, "Which head it was played with; null: not said."},
     {"operator", &Subject::operator_name, "Who played or recorded it; null: not said."}}};

/// By what the bench's instruments are told apart.
enum class GroupBy { head, lot, material, operator_name, stage, day, week, month };

}  // namespace windway
