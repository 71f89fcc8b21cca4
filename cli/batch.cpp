// SPDX-License-Identifier: GPL-3.0-or-later
#include "batch.hpp"

#include <algorithm>
#include <filesystem>
#include <memory>
#include <thread>

#include "batch_options.hpp"
#include "batch_takes.hpp"
#include "bench_call.hpp"
#include "bench_writer.hpp"
#include "call_files.hpp"
#include "earlier_report.hpp"
#include "exit_status.hpp"
#include "interrupt.hpp"
#include "options.hpp"
#include "progress.hpp"
#include "results/judge_take.hpp"
#include "results/kept_results.hpp"
#include "shared_settings.hpp"
#include "takes/worker_pool.hpp"
#include "terminal.hpp"
#include "units/count_in_words.hpp"

namespace windway::cli {
namespace {

/// Settles all but the jobs; `all` of the call, of which the batch may do a part.
void set_rules(Batch& batch, const BatchCall& call, const std::vector<BatchJob>& all) {
  batch.rules = tally_rules_of(call.bench);
  if (call.subject.verdict_from == "all") batch.verdict_from = VerdictFrom::all;
  batch.with_holds = call.with_holds;
  batch.settings = settings_of(call.take);
  const bool is_warmth_said = std::ranges::any_of(all, [](const BatchJob& job) { return job.bore_temp_c.has_value(); });
  if (is_warmth_said && !batch.settings.quote_at_c) batch.settings.quote_at_c = Air{}.temperature_c;
  const auto& instrument = batch.settings.instrument.instrument;
  batch.limits = limits_for(limits_of(call.limits), instrument);
  // A file says which notes there must be; what windway knows by name has more than anybody plays.
  batch.limits.every_note = std::filesystem::is_regular_file(call.take.flute.instrument);
}

/// The files that are read, as far as the call itself names them.
std::vector<std::string> files_read(const BatchCall& call) {
  std::vector<std::string> inputs = files_of(call.take);
  inputs.push_back(call.subject.manifest);
  inputs.push_back(call.bench_file);
  inputs.insert(inputs.end(), call.paths.begin(), call.paths.end());
  return inputs;
}

void say_what_is_gone(const std::vector<std::string>& gone, const std::string& results) {
  if (gone.empty()) return;
  const bool is_one = gone.size() == 1;
  complain("note: " + count_in_words(gone.size(), "take") + (is_one ? " is" : " are") + " no longer there; " +
           (is_one ? "its result is" : "their results are") + " removed from " + results + ": " + first_of(gone));
}

[[noreturn]] void cannot_read_back(const BatchCall& call) {
  throw Error(ErrorKind::output, "a result cannot be read back" +
                                     (call.results.empty() ? "" : " from " + call.results) + ": run the batch again");
}

/// Measures what is not done yet and hands every line on, in the order of the jobs.
void do_jobs(const BatchCall& call, const Batch& batch, KeptResults& kept, BenchWriter& writer) {
  const std::vector<std::optional<LinePlace>> done = kept.done;
  Progress progress(static_cast<std::size_t>(std::count(kept.done.begin(), kept.done.end(), std::nullopt)));
  InOrder in_order([&](std::size_t, const std::string& line) {
    if (!writer.add(line)) cannot_read_back(call);
  });
  const auto result_of = [&](std::size_t job) {
    return done[job] ? kept.file->line_at(*done[job]) : judged_line(batch.jobs[job], batch);
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
  const std::string how = call.goes_on_by_itself ? "the same command goes on from there"
                                                 : "go on with --results " + call.results + " --resume";
  complain("interrupted: " + done + (call.results.empty() ? "" : " and kept; " + how));
  return 128 + stop_signal();
}

/// `inputs` are the files that the call names, and grow by its takes.
int batch_and_report(const BatchCall& call, std::vector<std::string>& inputs) {
  if (call.resume && call.results.empty()) refuse("--resume needs a results file: name it with --results FILE");
  const std::vector<BatchJob> jobs = jobs_of(call);
  for (const BatchJob& job : jobs) inputs.push_back(job.path);
  Batch batch;
  batch.jobs = asked_part(call, jobs);
  set_rules(batch, call, jobs);
  if (!call.results.empty()) refuse_overwriting("--results", call.results, inputs);
  std::vector<std::string> kept_from_output = inputs;
  kept_from_output.push_back(call.results);
  BenchWriter writer(call.result, call.bench, kept_from_output);
  KeptResults kept = kept_results(call.results, call.resume, batch);
  say_what_is_gone(kept.gone, call.results);
  do_jobs(call, batch, kept, writer);
  if (stop_signal() != 0) return interrupted(call, writer, batch.jobs.size());
  if (kept.file) put_in_order(kept);
  writer.finish();
  return exit_status_of(writer.tally());
}

int run_batch(const BatchCall& call) {
  if (call.checks_manifest) return check_manifest(call);
  std::vector<std::string> inputs = files_read(call);
  // What --results keeps, no --output may put away either.
  const bool is_results =
      call.result.output && !call.results.empty() && is_same_file(*call.result.output, call.results);
  const ResultOptions result = is_results ? ResultOptions{} : call.result;
  return without_earlier_report(result, inputs, [&] { return batch_and_report(call, inputs); });
}

}  // namespace

Action declare_batch(CLI::App& command) {
  const auto call = std::make_shared<BatchCall>();
  add_batch_options(command, *call);
  return [call, &command] {
    BatchCall whole;
    const auto fill = [&] {
      whole = with_bench_file(*call, given_options(command));
      return exit_measured;
    };
    without_earlier_report(call->result, call->paths, fill);
    return run_batch(whole);
  };
}

}  // namespace windway::cli
