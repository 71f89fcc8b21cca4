// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "bench/bench_findings.hpp"
#include "report/lines/advice_to_maker.hpp"
#include "report/measurement/note_fields.hpp"
#include "report/wording/choices.hpp"

namespace windway {

// The fields of a bench's statistics, schema windway.summary.v1, in the order in which they are written.

template <typename Visit>
void visit_counts(const VerdictCounts& counts, Visit&& visit) {
  for (std::size_t result = 0; result < counts.by_result.size(); ++result)
    visit(Field{choice_words<VerdictResult>[result], "", at_least_0}, counts.by_result[result]);
  visit(Field{"not_judged", "Measured without limits.", at_least_0}, counts.measured_only);
}

/// The keys of moments, which have a unit.
struct MomentKeys {
  const char* mean;
  const char* sd;
  const char* min;
  const char* max;
};
inline constexpr MomentKeys moments_cents{"mean_cents", "sd_cents", "min_cents", "max_cents"};
inline constexpr MomentKeys moments_mm{"mean_mm", "sd_mm", "min_mm", "max_mm"};
inline constexpr MomentKeys moments_hz{"mean_hz", "sd_hz", "min_hz", "max_hz"};
inline constexpr MomentKeys moments_c{"mean_c", "sd_c", "min_c", "max_c"};

template <typename Visit>
void visit_moments(const Field& field, const Moments& moments, const MomentKeys& keys, Visit&& visit) {
  visit(field, Nested{moments, [&](const Moments& all, auto&& each) {
                        const auto if_any = [&](double value) {
                          return all.n > 0 ? std::optional(value) : std::nullopt;
                        };
                        each(Field{"n", "", at_least_0}, all.n);
                        each(Field{keys.mean}, if_any(all.mean));
                        each(Field{keys.sd, "By n - 1; null: of fewer than two.", at_least_0}, sample_sd(all));
                        each(Field{keys.min}, if_any(all.min));
                        each(Field{keys.max}, if_any(all.max));
                      }});
}

template <typename Visit>
void visit_deviations(const char* count_key, const char* key, const char* meaning, const NamedDeviations& deviations,
                      Visit&& visit) {
  visit(Field{count_key, "All of them; the list has the first 100.", at_least_0}, deviations.count);
  visit(Field{key, meaning},
        Nested{deviations.listed, [](const NamedDeviation& deviation, auto&& each) {
                 each(Field{"name", "Serial, else the file; of a series with the time."}, deviation.name);
                 each(Field{"cents"}, deviation.cents);
               }});
}

template <typename Visit>
void visit_chart(const std::optional<IndividualsChart>& chart, const NamedDeviations& beyond, Visit&& visit) {
  visit(Field{"chart", "Of single values in production order; null: fewer than eight."},
        Nested{chart, [&](const IndividualsChart& known, auto&& each) {
                 each(Field{"mean_cents"}, known.mean);
                 each(Field{"mean_moving_range_cents", "", at_least_0}, known.mean_moving_range);
                 each(Field{"lower_cents", "Mean less 3 moving ranges / 1.128."}, known.lower);
                 each(Field{"upper_cents"}, known.upper);
                 visit_deviations("beyond_count", "beyond", "", beyond, each);
               }});
}

template <typename Visit>
void visit_gauge(const char* key, const std::optional<GaugeStudy>& study, Visit&& visit) {
  visit(
      Field{key, "null: no whole table of instruments, operators and trials."},
      Nested{
          study, [](const GaugeStudy& known, auto&& each) {
            each(Field{"repeatability_sd_cents", "", at_least_0}, known.repeatability.sd);
            each(Field{"reproducibility_sd_cents", "From operator to operator.", at_least_0}, known.reproducibility.sd);
            each(Field{"gauge_sd_cents", "", at_least_0}, known.gauge.sd);
            each(Field{"instrument_sd_cents", "", at_least_0}, known.part.sd);
            each(Field{"gauge_percent", "Of the whole SD.", at_least_0}, known.gauge.percent);
            each(Field{"distinct_categories", "", at_least_0}, known.distinct_categories);
          }});
}

template <typename Visit>
void visit_note_finding(const NoteFinding& note, Visit&& visit) {
  const auto& capability = note.capability;
  visit_note_id(spelt_for_programs(note.note.midi), note.note, visit);
  visit(Field{"register", "", at_least_0}, note.register_number);
  visit_moments(Field{"left", "Residual of the note with each head at its best place, + sharp."}, note.left,
                moments_cents, visit);
  visit(Field{"share_5_cents", "Below which 5 % lie; from a histogram of 0.05 cents."}, note.share_5_cents);
  visit(Field{"share_25_cents", "Below which a quarter lie."}, note.share_25_cents);
  visit(Field{"median_cents"}, note.median_cents);
  visit(Field{"share_75_cents", "Below which three quarters lie."}, note.share_75_cents);
  visit(Field{"share_95_cents"}, note.share_95_cents);
  visit(Field{"tolerance_cents", "null: none, or they differ.", at_least_0}, note.tolerance_cents);
  visit(Field{"cp"}, capability ? std::optional(capability->cp) : std::nullopt);
  visit(Field{"cpk"}, capability ? std::optional(capability->cpk) : std::nullopt);
  visit_moments(Field{"spread", "From soft to hard."}, note.spread, moments_cents, visit);
  visit_chart(note.chart, note.beyond_chart, visit);
  visit_deviations("outlier_count", "outliers", "Modified z beyond 3.5.", note.outliers, visit);
  visit(Field{"repeatability", "null: nothing was measured again."},
        Nested{note.repeatability, [&](const RepeatabilitySd& known, auto&& each) {
                 each(Field{"sd_cents", "", at_least_0}, known.sd);
                 each(Field{"lower_cents", "", at_least_0}, known.lower);
                 each(Field{"upper_cents", "", at_least_0}, known.upper);
                 each(Field{"degrees", "", at_least_0}, known.degrees);
                 each(Field{"between_sd_cents", "From instrument to instrument.", at_least_0}, note.between_sd_cents);
               }});
  visit_gauge("gauge_by_anova", note.gauge, visit);
  visit_gauge("gauge_by_range", note.gauge_by_range, visit);
}

template <typename Visit>
void visit_group(const GroupFinding& group, Visit&& visit) {
  visit(Field{"name"}, group.name);
  visit(Field{"verdicts"},
        Nested{group.verdicts, [](const VerdictCounts& counts, auto&& each) { visit_counts(counts, each); }});
  visit(Field{"notes"},
        Nested{group.notes, [](const GroupNote& note, auto&& each) {
                 visit_note_id(spelt_for_programs(note.note.midi), note.note, each);
                 each(Field{"above_rest_cents", "Mean of the group less mean of the rest."}, "above_rest_u95_cents",
                      note.above_rest);
                 each(Field{"is_sure", "True if more than chance explains on any note of any group."}, note.is_sure);
               }});
}

template <typename Visit>
void visit_series(const SeriesFinding& series, Visit&& visit) {
  visit(Field{"takes", "", at_least_0}, series.takes);
  visit(Field{"mean_home_a4_hz", "", at_least_0}, series.mean_home_a4_hz);
  visit_chart(series.chart, series.beyond_chart, visit);
  visit(Field{"days", "Where each day has equally many takes, two at least; null: too few for limits."},
        Nested{series.days, [&](const SubgroupChart& days, auto&& each) {
                 each(Field{"takes_a_day", "", at_least_0}, days.subgroup_size);
                 each(Field{"sd_within_day_cents", "", at_least_0}, days.sigma);
                 each(Field{"mean_lower_cents"}, days.mean_lower);
                 each(Field{"mean_upper_cents"}, days.mean_upper);
                 each(Field{"sd_upper_cents", "", at_least_0}, days.sd_upper);
                 visit_deviations("beyond_count", "beyond", "", series.days_beyond, each);
               }});
  visit(Field{"rise_cents", "From the first to the last, by the straight line."}, "rise_u95_cents", series.rise);
}

template <typename Visit>
void visit_series(const char* key, const char* meaning, const std::optional<SeriesFinding>& series, Visit&& visit) {
  visit(Field{key, meaning},
        Nested{series, [](const SeriesFinding& known, auto&& each) { visit_series(known, each); }});
}

template <typename Visit>
void visit_keepers(const std::vector<KeeperFinding>& keepers, Visit&& visit) {
  const auto only = keepers.size() == 1 ? std::optional(keepers.front().series) : std::nullopt;
  visit_series("keeper", "null: no take, or several keepers (keepers).", only, visit);
  visit(Field{"keepers", "The keepers (the bench's own flutes), by serial number; usually one."},
        Nested{keepers, [](const KeeperFinding& keeper, auto&& each) {
                 each(Field{"serial"}, keeper.serial);
                 visit_series(keeper.series, each);
               }});
}

template <typename Visit>
void visit_warned(const std::map<WarningCode, WarnedTakes>& warned, Visit&& visit) {
  using Warned = std::pair<WarningCode, WarnedTakes>;
  const std::vector<Warned> all(warned.begin(), warned.end());
  visit(Field{"warnings", "Of the takes that count."},
        Nested{all, [](const Warned& one, auto&& each) {
                 each(Field{"code"}, std::string(text_of(one.first)));
                 each(Field{"takes", "", at_least_0}, one.second.takes);
                 each(Field{"first", "Names of the first three."},
                      std::vector<std::string>(one.second.named.begin(), one.second.named.end()));
               }});
}

template <typename Visit>
void visit_degree(const HoleAdvice& degree, const std::optional<BenchEntry>& model, Visit&& visit) {
  const bool has_message = degree.is_sure && !degree.by_register.empty();
  visit(Field{"degree_semitones", "Above the lowest note.", at_least_0}, degree.degree_semitones);
  visit(Field{"common_cents", "Error common to the bench, + sharp."}, "common_u95_cents", degree.common);
  visit(Field{"registers"}, Nested{degree.by_register, [](const RegisterCents& part, auto&& each) {
                                     each(Field{"note", "", {}, "note_name"}, spelt_for_programs(part.id.midi));
                                     each(Field{"midi", "", {}, "midi"}, part.id.midi);
                                     each(Field{"register", "", at_least_0}, part.register_number);
                                     each(Field{"common_cents"}, "common_u95_cents", part.common);
                                   }});
  visit(Field{"registers_disagree", "True if the registers differ, though one hole serves both."},
        degree.registers_disagree);
  visit(Field{"is_sure", "True if more than chance explains on any degree."}, degree.is_sure);
  visit(Field{"towards_window_mm",
              "How far to move the hole, or the end, towards the window; null: not sure, or no single hole gives it."},
        degree.move_mm);
  visit(Field{"towards_window_u95_mm", "", at_least_0}, degree.move_u95_mm);
  visit(Field{"message", "null: not sure."},
        has_message ? std::optional(degree_in_words(degree, *model)) : std::nullopt);
}

template <typename Visit>
void visit_summary(const BenchTally& tally, const BenchFindings& findings, Visit&& visit) {
  visit(Field{"takes", "", at_least_0}, tally.takes);
  visit(Field{"of_other_stages", "", at_least_0}, tally.of_other_stages);
  visit(Field{"overtaken", "By a later take of the same instrument.", at_least_0}, tally.overtaken);
  visit(Field{"duplicates", "Left out, as the same recording has a later result.", at_least_0}, tally.duplicates);
  visit(Field{"first_pass", "Verdicts of each instrument's first take."},
        Nested{tally.first_takes, [](const VerdictCounts& counts, auto&& each) { visit_counts(counts, each); }});
  visit(Field{"reworked", "Pass, though not at their first take.", at_least_0}, tally.reworked());
  visit(Field{"by_keeper", "The keeper's offset of each day is taken out."}, tally.is_by_keeper);
  visit_moments(Field{"bore_temp", "From the manifest, degrees C."}, tally.warmth.said_c, moments_c, visit);
  visit(Field{"bore_temp_not_said", "Takes for which the manifest gives no temperature.", at_least_0},
        tally.warmth.not_said);
  visit(
      Field{
          "quoted_at_c",
          "Temperature of the air in the bore that all pitches are given for; null: as recorded, or not all for one."},
      tally.warmth.quoted_c);
  visit(Field{"verdicts"},
        Nested{tally.verdicts, [](const VerdictCounts& counts, auto&& each) { visit_counts(counts, each); }});
  visit(Field{"in_statistics", "Instruments in the statistics: measured, and not in deep doubt.", at_least_0},
        in_statistics(tally));
  visit_warned(tally.warned, visit);
  visit(Field{"a4_hz", "", at_least_0}, tally.model ? std::optional(tally.model->a4_hz) : std::nullopt);
  visit_moments(Field{"head_rests", "Best places of the heads."}, tally.head_rests_mm, moments_mm, visit);
  visit_moments(Field{"home_a4", "As recorded."}, tally.home_a4_hz, moments_hz, visit);
  visit_moments(Field{"octave", "Upper notes less lower ones."}, tally.octave_cents, moments_cents, visit);
  visit(Field{"notes"},
        Nested{findings.notes, [](const NoteFinding& note, auto&& each) { visit_note_finding(note, each); }});
  visit(Field{"group_by", "null: no grouping, or several, which are not compared."},
        tally.groupings.size() == 1 ? std::optional(*tally.groupings.begin()) : std::nullopt);
  visit(Field{"ungrouped", "Counted, but of no known group.", at_least_0}, tally.ungrouped);
  visit(Field{"comparisons", "How many notes of groups were compared with the rest; is_sure allows for so many.",
              at_least_0},
        findings.comparisons);
  visit(Field{"groups"},
        Nested{findings.groups, [](const GroupFinding& group, auto&& each) { visit_group(group, each); }});
  visit(Field{"operators"}, tally.repeatability.operators());
  visit(Field{"why_no_gauge_study"}, findings.why_no_gauge_study);
  visit_series("instruments", "null: no take.", findings.instruments, visit);
  visit_keepers(findings.keepers, visit);
  visit(Field{"advice", "null: too few instruments, or of several kinds."},
        Nested{
            findings.advice, [&](const BenchAdvice& advice, auto&& each) {
              each(Field{"instruments", "", at_least_0}, advice.instruments);
              each(
                  Field{"unobservable_slide_mm",
                        "How far out the heads were, or how far off all holes and the end: a scale cannot tell which."},
                  advice.unobservable_slide_mm);
              each(Field{"baseline_sd_cents", "SD of degrees without a fault about their common line.", at_least_0},
                   advice.baseline_sd_cents);
              each(Field{"degrees"}, Nested{advice.degrees, [&](const HoleAdvice& degree, auto&& inner) {
                                              visit_degree(degree, tally.model, inner);
                                            }});
            }});
}

}  // namespace windway
