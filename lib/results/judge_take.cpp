// SPDX-License-Identifier: GPL-3.0-or-later
#include "results/judge_take.hpp"

#include <fmt/format.h>

#include <exception>
#include <filesystem>
#include <new>
#include <system_error>

#include "analysis.hpp"
#include "input/digest.hpp"
#include "input/input_file.hpp"
#include "report/lines/batch_line.hpp"
#include "results/reason.hpp"
#include "slide/slide.hpp"

namespace windway {
namespace {

void set_unmeasured(JudgedTake& take, const std::string& why, const JudgeLimits& limits) {
  take.error = why;
  if (asks_anything(limits)) take.verdict = not_measured(why);
}

/// A slip of the pen in a manifest must not come out as a faulty body. Empty: nothing is wrong.
std::string why_not_there(const MeasureSettings& settings) {
  const auto& instrument = settings.instrument.instrument;
  const Head head = instrument ? known_head(settings.head, *instrument) : settings.head;
  if (!head.moves || !head.out_mm || !head.travel_mm || *head.out_mm <= *head.travel_mm) return "";
  return fmt::format("its head_out_mm in the manifest is {} mm, but its head goes {} mm out at most", *head.out_mm,
                     *head.travel_mm);
}

/// A pipe or a device could keep the whole batch waiting. Empty: it is none.
std::string why_no_file(const std::string& path) {
  std::error_code failure;
  const auto type = std::filesystem::status(path, failure).type();
  const bool is_other = type == std::filesystem::file_type::fifo || type == std::filesystem::file_type::socket ||
                        type == std::filesystem::file_type::character || type == std::filesystem::file_type::block;
  return is_other ? cannot_read(path) + ": it is a pipe or a device, and a batch reads files; save it as a file" : "";
}

/// The settings for one take: the manifest's own figures outrank the call's.
MeasureSettings settings_for(const BatchJob& job, const MeasureSettings& settings) {
  MeasureSettings own = settings;
  if (job.bore_temp_c) own.air.temperature_c = *job.bore_temp_c;
  if (job.head_out_mm) own.head.out_mm = job.head_out_mm;
  return own;
}

JudgeLimits limits_for(const BatchJob& job, const Batch& batch) {
  const bool is_judged = !is_keeper(batch.rules, job.subject) && is_of_stage(batch.rules, job.subject);
  return is_judged ? batch.limits : JudgeLimits{};
}

/// The take without what a measurement finds.
JudgedTake unjudged_take(const BatchJob& job, const Batch& batch) {
  JudgedTake take;
  take.path = job.path;
  take.subject = job.subject;
  take.counting = job.counting;
  take.with_holds = batch.with_holds;
  take.bore_temp_c = job.bore_temp_c;
  take.settings_key = key_of(job, batch);
  take.measurement.settings = settings_for(job, batch.settings);
  return take;
}

}  // namespace

std::string key_of(const BatchJob& job, const Batch& batch) {
  const std::string key =
      settings_key(settings_for(job, batch.settings), limits_for(job, batch), job.subject, WINDWAY_VERSION);
  const std::string further = job.why_not + (batch.with_holds ? " with holds" : "");
  return further.empty() ? key : sha256_of_text(key + further).substr(0, key.size());
}

JudgedTake judged_take(const BatchJob& job, const Batch& batch) {
  JudgedTake take = unjudged_take(job, batch);
  const MeasureSettings& settings = take.measurement.settings;
  const JudgeLimits limits = limits_for(job, batch);
  const std::string why_no_take = why_no_file(job.path);
  const std::string why_not = !why_no_take.empty()  ? why_no_take
                              : job.why_not.empty() ? why_not_there(settings)
                                                    : job.why_not;
  if (!why_not.empty()) {
    set_unmeasured(take, why_not, limits);
    take.sha256 = sha256_of_path(take.path);
    return take;
  }
  try {
    take.measurement = measure({job.path}, settings);
    take.sha256 = take.measurement.takes.front().sha256;
    if (asks_anything(limits)) take.verdict = judge(take.measurement, limits);
  } catch (const std::bad_alloc&) {
    throw;
  } catch (const std::exception& failure) {  // one bad take never stops the rest
    set_unmeasured(take, failure.what(), limits);
    take.sha256 = sha256_of_path(take.path);
  }
  return take;
}

std::string judged_line(const BatchJob& job, const Batch& batch) {
  try {
    return batch_line(judged_take(job, batch), WINDWAY_VERSION);
  } catch (const std::bad_alloc& failure) {
    JudgedTake take = unjudged_take(job, batch);
    set_unmeasured(take, "cannot measure " + take_name(job.path) + ": " + reason_of(failure), limits_for(job, batch));
    return batch_line(take, WINDWAY_VERSION);
  }
}

}  // namespace windway
