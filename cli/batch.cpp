// SPDX-License-Identifier: GPL-3.0-or-later
#include "batch.hpp"

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <memory>
#include <system_error>
#include <thread>

#include "batch_options.hpp"
#include "bench_writer.hpp"
#include "call_files.hpp"
#include "exit_status.hpp"
#include "interrupt.hpp"
#include "options.hpp"
#include "progress.hpp"
#include "report/bench/batch_line.hpp"
#include "results/judge_take.hpp"
#include "results/kept_results.hpp"
#include "shared_settings.hpp"
#include "takes/worker_pool.hpp"
#include "terminal.hpp"

namespace windway::cli {
namespace {

std::vector<std::string> with_listed(const std::vector<std::string>& paths) {
  std::vector<std::string> all;
  for (const std::string& path : paths) {
    if (path != "-") {
      all.push_back(path);
      continue;
    }
    for (const std::string& listed : listed_paths(std::cin)) all.push_back(listed);
  }
  return all;
}

/// "note: 3 files were passed over, ...: a.txt, ...".
void note_about(const std::vector<std::string>& names, const std::string& one, const std::string& several) {
  if (names.empty()) return;
  const std::string count = std::to_string(names.size()) + " ";
  complain("note: " + count + (names.size() == 1 ? one : several) + ": " + names.front() +
           (names.size() > 1 ? ", ..." : ""));
}

/// The files of the call itself lie among the takes as a rule; they are no takes that were left out.
std::vector<std::string> without_own(std::vector<std::string> files, const BatchCall& call) {
  const auto is_own = [&](const std::string& file) {
    std::error_code failure;
    return std::ranges::any_of(
        std::vector{call.subject.manifest, call.take.flute.instrument, call.results, call.result.output.value_or("")},
        [&](const std::string& own) { return !own.empty() && std::filesystem::equivalent(own, file, failure); });
  };
  std::erase_if(files, is_own);
  return files;
}

void say_what_was_left_out(const TakeFiles& files, const BatchList& list, const BatchCall& call) {
  const std::string& manifest = call.subject.manifest;
  note_about(without_own(files.passed_over, call), "file was passed over, as its name is not that of a sound file",
             "files were passed over, as their names are not those of sound files");
  note_about(list.not_given, "take of " + manifest + " is not among these",
             "takes of " + manifest + " are not among these");
}

std::vector<BatchJob> jobs_of(const BatchCall& call) {
  if (call.paths.empty() && call.subject.manifest.empty())
    refuse("which takes? as in: windway batch bench/ --instrument d-whistle.toml");
  std::optional<Manifest> manifest;
  std::optional<SerialPattern> pattern;
  if (!call.subject.manifest.empty()) manifest = read_manifest(call.subject.manifest);
  if (!call.subject.serial_from.empty()) pattern = serial_pattern(call.subject.serial_from);
  const TakeFiles files = take_files(with_listed(call.paths));
  if (!call.paths.empty() && files.takes.empty())
    throw Error(ErrorKind::recording,
                "no take is in " + (call.paths.front() == "-" ? "the list on standard input" : call.paths.front()) +
                    ": no file there is named as sound files are");
  BatchList list = batch_jobs(files, manifest, pattern);
  say_what_was_left_out(files, list, call);
  return std::move(list.jobs);
}

Batch batch_of(const BatchCall& call) {
  Batch batch;
  batch.jobs = jobs_of(call);
  batch.rules = tally_rules_of(call.bench);
  if (call.subject.verdict_from == "all") batch.verdict_from = VerdictFrom::all;
  batch.with_holds = call.with_holds;
  batch.settings = settings_of(call.take);
  const bool is_warmth_said =
      std::ranges::any_of(batch.jobs, [](const BatchJob& job) { return job.bore_temp_c.has_value(); });
  if (is_warmth_said && !batch.settings.quote_at_c) batch.settings.quote_at_c = Air{}.temperature_c;
  const auto& instrument = batch.settings.instrument.instrument;
  batch.limits = limits_for(limits_of(call.limits), instrument);
  // A file says which notes there must be; what windway knows by name has more than anybody plays.
  batch.limits.every_note = std::filesystem::is_regular_file(call.take.flute.instrument);
  return batch;
}

std::vector<std::string> inputs_of(const BatchCall& call, const Batch& batch) {
  std::vector<std::string> inputs = files_of(call.take);
  inputs.push_back(call.subject.manifest);
  for (const BatchJob& job : batch.jobs) inputs.push_back(job.path);
  return inputs;
}

/// Measures what is not done yet and hands every line on, in the order of the jobs.
void do_jobs(const BatchCall& call, const Batch& batch, KeptResults& kept, BenchWriter& writer) {
  const std::vector<std::optional<LinePlace>> done = kept.done;
  Progress progress(static_cast<std::size_t>(std::count(kept.done.begin(), kept.done.end(), std::nullopt)));
  InOrder in_order([&](std::size_t, const std::string& line) { writer.add(line); });
  const auto result_of = [&](std::size_t job) {
    return done[job] ? kept.file->line_at(*done[job])
                     : batch_line(judged_take(batch.jobs[job], batch), WINDWAY_VERSION);
  };
  const auto take = [&](std::size_t job, std::string line) {
    if (kept.file && !done[job]) kept.done[job] = kept.file->append(line);
    in_order.take(job, std::move(line));
    if (!done[job]) progress.step();
  };
  const unsigned threads = call.jobs > 0 ? static_cast<unsigned>(call.jobs) : std::thread::hardware_concurrency();
  finish_when_interrupted();
  work_through(batch.jobs.size(), threads, {result_of, take, [] { return stop_signal() != 0; }});
  in_order.finish();
  if (kept.file) kept.file->flush();
}

int interrupted(const BatchCall& call, const BenchWriter& writer, std::size_t all) {
  const std::string done = std::to_string(writer.taken()) + " of " + std::to_string(all) + " takes are done";
  complain("interrupted: " + done +
           (call.results.empty() ? "" : " and kept; go on with --results " + call.results + " --resume"));
  return 128 + stop_signal();
}

int batch_and_report(const BatchCall& call) {
  if (call.resume && call.results.empty()) refuse("--resume goes on with a results file: name it with --results FILE");
  Batch batch = batch_of(call);
  std::vector<std::string> inputs = inputs_of(call, batch);
  if (!call.results.empty()) refuse_overwriting("--results", call.results, inputs);
  inputs.push_back(call.results);  // what --results keeps, --output must not put away
  BenchWriter writer(call.result, call.bench, inputs);
  KeptResults kept = kept_results(call.results, call.resume, batch);
  do_jobs(call, batch, kept, writer);
  if (stop_signal() != 0) return interrupted(call, writer, batch.jobs.size());
  if (kept.file) put_in_order(kept);
  writer.finish();
  return exit_status_of(writer.tally());
}

}  // namespace

Action declare_batch(CLI::App& command) {
  const auto call = std::make_shared<BatchCall>();
  add_batch_options(command, *call);
  return [call] { return batch_and_report(*call); };
}

}  // namespace windway::cli
