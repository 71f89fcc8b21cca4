// SPDX-License-Identifier: GPL-3.0-or-later
#include "batch_takes.hpp"

#include <algorithm>
#include <filesystem>
#include <iostream>
#include <optional>
#include <set>
#include <string>
#include <system_error>

#include "call_files.hpp"
#include "error.hpp"
#include "exit_status.hpp"
#include "manifest/true_path.hpp"
#include "options.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/words.hpp"
#include "takes/manifest_check.hpp"
#include "takes/shard.hpp"
#include "terminal.hpp"
#include "units/count_in_words.hpp"

namespace windway::cli {
namespace {

constexpr std::size_t most_named = 5;

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

/// What the call says of its takes.
struct SaidTakes {
  std::optional<Manifest> manifest;
  std::optional<SerialPattern> pattern;
  std::optional<TakeFiles> files;  ///< absent: those of the manifest
  BatchList list;
};

SaidTakes takes_of(const BatchCall& call) {
  if (call.paths.empty() && call.subject.manifest.empty())
    refuse("which takes? as in: windway batch bench/ --instrument d-whistle.toml");
  SaidTakes said;
  if (!call.subject.manifest.empty()) said.manifest = read_manifest(call.subject.manifest);
  if (!call.subject.serial_from.empty()) said.pattern = serial_pattern(call.subject.serial_from);
  if (!call.paths.empty()) said.files = take_files(with_listed(call.paths));
  said.list = batch_jobs(said.files, said.manifest, said.pattern);
  if (said.list.jobs.empty())
    throw Error(ErrorKind::recording,
                "no take is in " + (call.paths.front() == "-" ? "the list on standard input" : call.paths.front()) +
                    ": no file there has the name of a sound file");
  return said;
}

/// "note: 3 files were skipped, ...: a.txt, b.txt, c.txt".
void note_about(const std::vector<std::string>& names, const std::string& one, const std::string& several) {
  if (names.empty()) return;
  const std::string count = std::to_string(names.size()) + " ";
  complain("note: " + count + (names.size() == 1 ? one : several) + ": " + first_of(names));
}

/// The files of the call itself lie among the takes as a rule, and a row may name any file: neither was left out.
std::vector<std::string> passed_over(const SaidTakes& said, const BatchCall& call) {
  if (!said.files) return {};
  std::set<std::string> taken;
  for (const BatchJob& job : said.list.jobs) taken.insert(true_path(job.path));
  for (const std::string& own : {call.subject.manifest, call.bench_file, call.take.flute.instrument, call.results,
                                 call.result.output.value_or("")})
    if (!own.empty()) taken.insert(true_path(own));
  std::vector<std::string> files = said.files->passed_over;
  std::erase_if(files, [&](const std::string& file) { return taken.contains(true_path(file)); });
  return files;
}

void say_what_goes_through(const std::vector<std::string>& columns) {
  if (columns.empty()) return;
  std::vector<std::string> named(columns.begin(),
                                 columns.begin() + static_cast<std::ptrdiff_t>(std::min(columns.size(), most_named)));
  if (columns.size() > most_named) named.push_back(std::to_string(columns.size() - most_named) + " more");
  complain("note: the column" + (columns.size() == 1 ? " " + named.front() + " is copied into the results"
                                                     : "s " + list_in_words(named) + " are copied into the results"));
}

void say_what_was_left_out(const SaidTakes& said, const BatchCall& call) {
  const std::string& manifest = call.subject.manifest;
  note_about(passed_over(said, call), "file was skipped, as its name is not that of a sound file",
             "files were skipped, as their names are not those of sound files");
  note_about(said.list.not_given, "take of " + manifest + " is not in the paths given",
             "takes of " + manifest + " are not in the paths given");
  if (!said.manifest) return;
  if (!said.files)
    note_about(sounds_without_row(*said.manifest), "sound file in the same folders has no row in " + manifest,
               "sound files in the same folders have no row in " + manifest);
  say_what_goes_through(said.manifest->other_columns);
}

/// Groups of nothing are a slip of the pen, or of the manifest, which nobody should hear of hours later.
void refuse_groups_of_nothing(const SaidTakes& said, const BatchCall& call) {
  const TallyRules rules = tally_rules_of(call.bench);
  const bool may_sound_file_say_it = rules.group_by && *rules.group_by >= GroupBy::day;
  if (!rules.group_by || may_sound_file_say_it) return;
  const bool says_group =
      std::ranges::any_of(said.list.jobs, [&](const BatchJob& job) { return can_be_grouped(rules, job.subject); });
  if (says_group) return;
  refuse((call.bench_file.empty() ? "--group-by " : call.bench_file + ", group_by: ") + call.bench.group_by +
         ": no take" + (rules.stage ? " of the stage " + *rules.stage : std::string()) + " gives its " +
         call.bench.group_by +
         (said.manifest ? "; the manifest has the columns " + list_in_words(said.manifest->columns)
                        : "; give it in a manifest, or in file names with --serial-from"));
}

Shard shard_of(const std::string& said) {
  if (const auto shard = shard_in(said)) return *shard;
  refuse("--shard takes the number of a part and how many parts there are, as in --shard 3/8; not '" + said + "'");
}

std::string text_of(const ManifestCheck& check, const std::string& manifest, std::size_t columns) {
  const bool is_whole = std::ranges::none_of(check.findings, &ManifestFinding::is_missing);
  std::string text =
      wrapped(manifest + ": " + count_in_words(check.takes, "take") + " of " +
                  count_in_words(check.instruments, "instrument") + (is_whole ? "; nothing is missing." : "."),
              2, columns);
  for (const ManifestFinding& finding : check.findings) {
    text += "\n" + wrapped(finding.what + ":", 2, columns);
    for (const std::string& place : finding.places) text += wrapped("  " + place, 4, columns);
  }
  return text;
}

}  // namespace

std::vector<BatchJob> jobs_of(const BatchCall& call) {
  SaidTakes said = takes_of(call);
  refuse_groups_of_nothing(said, call);
  if (!call.shard) say_what_was_left_out(said, call);
  return std::move(said.list.jobs);
}

std::vector<BatchJob> asked_part(const BatchCall& call, const std::vector<BatchJob>& jobs) {
  return call.shard ? jobs_of_shard(jobs, shard_of(*call.shard)) : jobs;
}

int check_manifest(const BatchCall& call) {
  if (call.subject.manifest.empty()) refuse("--check-manifest needs a manifest: name it with --manifest FILE");
  const SaidTakes said = takes_of(call);
  const ManifestCheck check = check_of(*said.manifest, said.pattern, said.list, said.files.has_value());
  print(text_of(check, call.subject.manifest, columns_of_output()));
  const bool is_whole = std::ranges::none_of(check.findings, &ManifestFinding::is_missing);
  return is_whole ? exit_measured : exit_recording;
}

std::string first_of(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < std::min(names.size(), most_named); ++i) text += (i > 0 ? ", " : "") + names[i];
  return names.size() > most_named ? text + ", and " + std::to_string(names.size() - most_named) + " more" : text;
}

}  // namespace windway::cli
