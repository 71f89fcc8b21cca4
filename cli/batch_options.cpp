// SPDX-License-Identifier: GPL-3.0-or-later
#include "batch_options.hpp"

#include <CLI/CLI.hpp>

#include "options.hpp"

namespace windway::cli {
namespace {

constexpr auto batch_examples = R"(Examples:
  windway batch bench/bench.toml
  windway batch bench/ --instrument d-whistle.toml --manifest bench/manifest.csv
  windway batch --manifest bench/manifest.csv --check-manifest
  windway batch bench/ --serial-from '{serial}_{stage}_{retake}' --tolerance 12
  windway batch bench/ --instrument d-whistle.toml --results bench.jsonl \
      --resume
  find bench -name '*.flac' | windway batch - --tolerance 12 --format junit \
      --output bench.xml

Each take is one line of the results file (JSON Lines), written as soon as it is
done. --resume finishes an interrupted batch. windway summary makes the report
again from such files.

A run that makes no report removes an earlier one at --output.

Exit status: 0 all pass, or no limits were given; 1 one fails; 2 a mistake in
the call or in a file that it names; 3 one could not be read, measured or
judged, is too close to call, or is in the manifest without a file (3 outranks
1); 4 an output could not be written; 130 interrupted.)";

void add_takes(CLI::App& command, BatchCall& call) {
  command
      .add_option(
          "PATH", call.paths,
          "a bench file (TOML), which says everything else; or takes, each\nof one instrument; or folders of takes; "
          "or - for a list of\npaths on standard input, one a line")
      ->type_name("")
      ->default_str("");
}

void add_subject_options(CLI::App& command, SubjectOptions& subject) {
  const std::string group = "Which take is of which instrument";
  command
      .add_option("--manifest", subject.manifest,
                  "table (CSV) with columns take, serial, stage, lot, material,\nhead, operator, retake, bore_temp_c, "
                  "head_out_mm,\nrecorded_at, remark")
      ->group(group)
      ->type_name("FILE");
  command
      .add_option("--serial-from", subject.serial_from,
                  "how file names say it: '{serial}_{stage}_{retake}'\n(for takes that the manifest does not name)")
      ->group(group)
      ->type_name("PATTERN");
  accept_choices(command
                     .add_option("--verdict-from", subject.verdict_from,
                                 "which takes count where a serial has several at one stage:\nlast or all")
                     ->group(group)
                     ->type_name("WHICH"),
                 {"last", "all"});
}

void add_check_option(CLI::App& command, bool& checks_manifest) {
  command
      .add_flag("--check-manifest", checks_manifest,
                "list what is missing or wrong in the manifest, its files and\n--serial-from; measure nothing and "
                "write no file")
      ->group("Which take is of which instrument");
}

void add_running_options(CLI::App& command, BatchCall& call) {
  const std::string group = "Running";
  command
      .add_option(
          "--results", call.results,
          "add the result of each take to this file as soon as it is\nmeasured (for windway summary and history)")
      ->group(group)
      ->type_name("FILE");
  command
      .add_flag("--resume", call.resume,
                "go on with the file of --results: a take that is in it and\nhas not changed is not measured again")
      ->group(group);
  command
      .add_flag("--with-holds", call.with_holds,
                "keep each held note in the results too; their lines get\nabout twice as long")
      ->group(group);
  command
      .add_option("--shard", call.shard,
                  "do only part K of N, as in 3/8: all takes of one serial are in\nthe same part (scripts/batch_shards "
                  "does all parts)")
      ->group(group)
      ->type_name("K/N");
  accept_numbers(command.add_option("--jobs", call.jobs, "how many takes to measure at once (else one for each core)")
                     ->group(group)
                     ->default_str(""),
                 {1, 1024, "COUNT", "takes", ""});
}

}  // namespace

void add_batch_options(CLI::App& command, BatchCall& call) {
  add_takes(command, call);
  add_subject_options(command, call.subject);
  add_check_option(command, call.checks_manifest);
  add_limit_options(command, call.limits, "those of the bench or instrument file");
  add_bench_options(command, call.bench);
  add_running_options(command, call);
  add_scale_take_options(command, call.take);
  add_bench_result_options(command, call.result, {"text", "html", "svg", "csv", "jsonl", "junit"});
  command.footer(batch_examples);
}

}  // namespace windway::cli
