// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/lines/batch_line.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

#include "report/lines/made_up_line.hpp"

namespace windway {
namespace {

using report_tests::entry_of;
using report_tests::judged_take;
using report_tests::line_of;

const std::string odd =
    "a \"quote\", \\ back, tab\t, line\nfeed, bell\a, \x7f, é ♭ 𝄞 ,\"batch\":{\"counts\":true,\"settings_key\":";

TEST(BatchLine, IsOneLineOfJsonWithTheHoldsLast) {
  JudgedTake take = judged_take();
  EXPECT_TRUE(nlohmann::ordered_json::parse(batch_line(take, "1.2.3"))["holds"].is_null());
  take.with_holds = true;
  const std::string line = batch_line(take, "1.2.3");
  EXPECT_EQ(line.find('\n'), line.size() - 1);
  const auto json = nlohmann::ordered_json::parse(line);
  EXPECT_EQ(json["schema"], "windway.measurement.v1");
  EXPECT_EQ(json["verdict"]["result"], "fail");
  EXPECT_EQ(json.rbegin().key(), "holds");
  EXPECT_EQ(json["holds"].size(), 11U);
}

TEST(BatchLine, KeepsAllOfTheSubject) {
  JudgedTake take = judged_take();
  take.subject = {.serial = odd,
                  .stage = "raw",
                  .lot = "L",
                  .material = "ash",
                  .head = "H",
                  .operator_name = "Kim",
                  .retake = 3,
                  .recorded_at = "2026-11-25",
                  .remark = odd,
                  .other = {{odd, odd}, {"settings_key", "x"}}};
  const Subject read = entry_of(line_of(take)).value().subject;
  EXPECT_EQ(read.serial, odd);
  EXPECT_EQ(read.stage, "raw");
  EXPECT_EQ(read.lot, "L");
  EXPECT_EQ(read.material, "ash");
  EXPECT_EQ(read.head, "H");
  EXPECT_EQ(read.operator_name, "Kim");
  EXPECT_EQ(read.retake, 3);
  EXPECT_EQ(read.recorded_at, "2026-11-25");
  EXPECT_EQ(read.remark, odd);
  EXPECT_EQ(read.other, take.subject.other);
}

TEST(BatchLine, KeepsWhatWasMeasured) {
  const JudgedTake take = judged_take();
  const BenchEntry entry = entry_of(line_of(take)).value();
  const Compromise& compromise = *take.measurement.compromise;
  EXPECT_EQ(entry.path, take.path);
  EXPECT_EQ(entry.sha256, "00ff");
  EXPECT_EQ(entry.settings_key, take.settings_key);
  EXPECT_EQ(entry.error, "");
  EXPECT_EQ(entry.kind, Kind::whistle);
  EXPECT_EQ(entry.lowest_midi, 74);
  EXPECT_EQ(entry.a4_hz, 440.0);
  EXPECT_EQ(entry.head_out_mm, 4.5);
  EXPECT_EQ(entry.slide_mm, 1.24);
  EXPECT_NEAR(entry.slide_u95_mm, std::hypot(0.08, 0.062), 1e-9);
  EXPECT_EQ(entry.home_a4_hz, 442.02);
  EXPECT_EQ(entry.warnings, (std::vector<WarningCode>{WarningCode::not_in_scale, WarningCode::spread_not_measured}));
  ASSERT_EQ(entry.notes.size(), 4U);
  for (std::size_t i = 0; i < 4; ++i) {
    const NoteBreath& note = take.measurement.breath.notes[i];
    EXPECT_EQ(entry.notes[i].id, note.id);
    EXPECT_EQ(entry.notes[i].register_number, note.register_number);
    EXPECT_EQ(entry.notes[i].weight, note.weight);
    EXPECT_NEAR(entry.notes[i].moderate.cents, note.moderate.cents, 1e-6);
    EXPECT_NEAR(entry.notes[i].moved.value().cents, compromise.notes[i].cents, 1e-6);
    EXPECT_NEAR(entry.notes[i].moved.value().u95_cents, compromise.notes[i].u95_cents, 1e-6);
    EXPECT_EQ(entry.notes[i].spread.has_value(), note.spread.has_value());
    EXPECT_EQ(entry.notes[i].effective_length_mm, 295.1);
  }
  EXPECT_NEAR(entry.notes[1].spread.value().cents, 20.6, 1e-6);
}

TEST(BatchLine, KeepsTheVerdictWithItsReasons) {
  const JudgedTake take = judged_take();
  const BenchEntry entry = entry_of(line_of(take)).value();
  EXPECT_EQ(entry.result, VerdictResult::fail);
  EXPECT_NEAR(entry.head_rests_mm.value(), 5.74, 1e-9);
  EXPECT_NEAR(entry.evenness_cents.value(), take.verdict->evenness_cents.value(), 1e-6);
  ASSERT_EQ(entry.judged.size(), take.verdict->judged.size());
  for (std::size_t i = 0; i < entry.judged.size(); ++i) {
    const Judged& read = entry.judged[i].judged;
    const Judged& written = take.verdict->judged[i];
    EXPECT_EQ(read.criterion, written.criterion);
    EXPECT_EQ(read.result, written.result);
    EXPECT_EQ(read.note, written.note);
    EXPECT_EQ(read.value.has_value(), written.value.has_value());
    EXPECT_NEAR(read.value.value_or(0), written.value.value_or(0), 1e-6);
    EXPECT_NEAR(read.u95, written.u95, 1e-6);
    EXPECT_EQ(read.lower, written.lower);
    EXPECT_EQ(read.upper, written.upper);
    EXPECT_EQ(entry.judged[i].message.empty(), written.result == VerdictResult::pass);
  }
}

TEST(BatchLine, KeepsWhereNotesAreMeant) {
  JudgedTake take = judged_take();
  Instrument& instrument = take.measurement.naming.instrument;
  EXPECT_TRUE(entry_of(line_of(take)).value().targets.empty());
  instrument.stretch_cents_per_octave = -1.5;
  instrument.scale[1].target_cents = 2.0;
  const BenchEntry entry = entry_of(line_of(take)).value();
  EXPECT_EQ(entry.stretch_cents_per_octave, -1.5);
  EXPECT_EQ(entry.targets, own_targets(instrument));
}

/// Work on A5 and A6, which are `cents` off.
WorkAdvice work_on_a(double cents, HoleWork work) {
  WorkAdvice advice;
  advice.degree.degree_semitones = 7;
  advice.degree.common = {cents, 1.2};
  advice.degree.by_register = {{{81}, 1, {cents - 1.0, 1.5}}, {{93}, 2, {cents + 1.0, 1.5}}};
  advice.degree.work = work;
  advice.degree.move_mm = -cents / 8.8;
  advice.degree.move_u95_mm = 0.2;
  advice.degree.is_sure = true;
  return advice;
}

TEST(BatchLine, KeepsTheWorkThatWouldMendIt) {
  JudgedTake take = judged_take();
  take.verdict->work = {work_on_a(-15.2, HoleWork::enlarge), work_on_a(11.0, HoleWork::fill)};
  take.verdict->work[1].one_hole_mends = false;
  const std::string line = line_of(take);
  const auto json = nlohmann::json::parse(line)["verdict"]["work"];
  ASSERT_EQ(json.size(), 2U);
  EXPECT_EQ(json[0]["note"], "A5");
  EXPECT_EQ(json[0]["midi"], 81);
  EXPECT_EQ(json[0]["work"], "enlarge");
  EXPECT_NEAR(json[0]["towards_window_mm"].get<double>(), 1.727, 0.001);
  EXPECT_EQ(json[0]["towards_window_u95_mm"], 0.2);
  EXPECT_EQ(json[0]["registers"][1]["note"], "A6");
  EXPECT_EQ(json[1]["work"], "none");
  EXPECT_TRUE(json[1]["towards_window_mm"].is_null());
  const std::vector<EntryWork> work = entry_of(line).value().work;
  ASSERT_EQ(work.size(), 2U);
  EXPECT_TRUE(work[0].one_hole_mends);
  EXPECT_EQ(work[0].message,
            "A5 and A6 are 15 cents flat (± 1) compared with the other notes: enlarge the hole that opens for A5, "
            "or undercut it towards the window. It sounds as if it were 1.7 mm (± 0.2) too far from the "
            "window.");
  EXPECT_FALSE(work[1].one_hole_mends);
  EXPECT_EQ(work[1].message,
            "A5 and A6 differ: A6 is 2 cents sharper than A5, and work at one hole cannot put both right; check the "
            "voicing and the bore.");
}

TEST(BatchLine, KeepsATakeThatCouldNotBeRead) {
  JudgedTake take;
  take.path = "gone.wav";
  take.subject.serial = "A";
  take.error = "cannot read gone.wav";
  take.verdict = not_measured(take.error);
  const BenchEntry entry = entry_of(line_of(take)).value();
  EXPECT_EQ(entry.path, "gone.wav");
  EXPECT_EQ(entry.sha256, "");
  EXPECT_EQ(entry.error, take.error);
  EXPECT_EQ(entry.result, VerdictResult::not_measured);
  EXPECT_EQ(entry.judged.at(0).message, take.error);
  EXPECT_TRUE(entry.notes.empty());
  EXPECT_FALSE(entry.lowest_midi || entry.slide_mm);
}

TEST(BatchLine, PutsAMarkForBytesThatAreNoUtf8) {
  JudgedTake take = judged_take();
  take.subject.remark = "caf\xe9";
  take.subject.other = {{"\xff", "\xc3"}};
  const Subject read = entry_of(line_of(take)).value().subject;
  EXPECT_EQ(read.remark, "caf\uFFFD");
  EXPECT_EQ(read.other.at(0).first, "\uFFFD");
}

TEST(WithCounting, ChangesNothingButHowTheTakeCounts) {
  JudgedTake take = judged_take();
  take.subject.remark = odd;
  take.subject.other = {{odd, odd}, {"batch", R"({"counts":true)"}, {"settings_key", "x"}};
  take.counting.takes_of_subject = 1;
  const std::string line = batch_line(take, "1.2.3");
  take.counting.counts = false;
  take.counting.takes_of_subject = 12;
  const std::string otherwise = batch_line(take, "1.2.3");
  EXPECT_EQ(with_counting(line, {false, 12}), otherwise);
  EXPECT_EQ(with_counting(otherwise, {true, 1}), line);
  EXPECT_EQ(with_counting(line, {true, 1}), line);
  const BenchEntry read = entry_of(otherwise.substr(0, otherwise.size() - 1)).value();
  EXPECT_FALSE(read.counting.counts);
  EXPECT_EQ(read.counting.takes_of_subject, 12);
}

TEST(BatchLine, RemembersTheKeeperAndTheGroupsOfItsBatch) {
  JudgedTake take = judged_take();
  EXPECT_FALSE(entry_of(line_of(take)).value().counting.keeper);
  EXPECT_EQ(entry_of(line_of(take)).value().counting.group_by, std::nullopt);
  take.counting.keeper = true;
  take.counting.group_by = GroupBy::operator_name;
  const std::string line = line_of(take);
  EXPECT_TRUE(entry_of(line).value().counting.keeper);
  EXPECT_EQ(entry_of(line).value().counting.group_by, GroupBy::operator_name);
}

TEST(WithCounting, LeavesALineThatIsNoResultAsItIs) {
  for (const char* line : {"", "{}", R"({"a":1,"batch":{"counts":true}})"})
    EXPECT_EQ(with_counting(line, {false, 2}), line);
}

/// The keys of all settings that differ from the usual in one thing each.
std::vector<std::string> keys_of_changes() {
  std::vector<std::string> keys;
  const auto add = [&](auto change) {
    MeasureSettings settings;
    JudgeLimits limits;
    Subject subject;
    std::string version = "1";
    change(settings, limits, subject, version);
    keys.push_back(settings_key(settings, limits, subject, version));
  };
  const auto setting = [&](auto change) {
    add([&](MeasureSettings& settings, auto&, auto&, auto&) { change(settings); });
  };
  const auto limit = [&](auto change) { add([&](auto&, JudgeLimits& limits, auto&, auto&) { change(limits); }); };
  const auto said = [&](auto change) { add([&](auto&, auto&, Subject& subject, auto&) { change(subject); }); };
  setting([](MeasureSettings&) {});
  add([](auto&, auto&, auto&, std::string& version) { version = "2"; });
  setting([](MeasureSettings& s) { s.tuning.a4_hz = 442; });
  setting([](MeasureSettings& s) { s.a4_u95_hz = 0.5; });
  setting([](MeasureSettings& s) { s.tuning.temperament.name = TemperamentName::just; });
  setting([](MeasureSettings& s) { s.air.temperature_c += 1; });
  setting([](MeasureSettings& s) { s.air.relative_humidity = 0.123; });
  setting([](MeasureSettings& s) { s.quote_at_c = 20; });
  setting([](MeasureSettings& s) { s.head.out_mm = 0; });
  setting([](MeasureSettings& s) { s.head.travel_mm = 9; });
  setting([](MeasureSettings& s) { s.head.moves = false; });
  setting([](MeasureSettings& s) { s.head.factor = SlideFactor{1.1, 0.01}; });
  setting([](MeasureSettings& s) { s.hold_rules.min_hold_s = 0.5; });
  setting([](MeasureSettings& s) { s.blows.is_warm = true; });
  setting([](MeasureSettings& s) { s.note_names = NoteNames::german; });
  setting([](MeasureSettings& s) { s.blows.order = {Blow::soft, Blow::hard}; });
  setting([](MeasureSettings& s) { s.instrument.kind = Kind::recorder; });
  setting([](MeasureSettings& s) { s.instrument.order = {{74, ""}}; });
  setting([](MeasureSettings& s) { s.instrument.order = {{74, "vented"}}; });
  setting([](MeasureSettings& s) { s.instrument.instrument = builtin_instrument(Kind::whistle, 74); });
  setting([](MeasureSettings& s) { s.instrument.instrument = builtin_instrument(Kind::whistle, 72); });
  const auto whistle = [&](auto change) {
    setting([&](MeasureSettings& s) {
      s.instrument.instrument = builtin_instrument(Kind::whistle, 74);
      change(*s.instrument.instrument);
    });
  };
  whistle([](Instrument& i) { i.stretch_cents_per_octave = 4; });
  whistle([](Instrument& i) { i.scale[3].target_cents = -8; });
  whistle([](Instrument& i) { i.scale[3].tolerance_cents = 8; });
  whistle([](Instrument& i) { i.scale[3].max_spread_cents = 8; });
  setting([](MeasureSettings& s) {
    s.instrument.instrument = builtin_instrument(Kind::whistle, 74);
    s.instrument.instrument->scale[2].tolerance_cents = 7;
  });
  limit([](JudgeLimits& l) { l.tolerance_cents = 10; });
  limit([](JudgeLimits& l) { l.max_spread_cents = 10; });
  limit([](JudgeLimits& l) { l.max_octave_cents = 10; });
  limit([](JudgeLimits& l) { l.head_out_range_mm = HeadRange{2, 8}; });
  limit([](JudgeLimits& l) { l.head_out_range_mm = HeadRange{2, 9}; });
  limit([](JudgeLimits& l) { l.every_note = true; });
  said([](Subject& s) { s.serial = "A"; });
  said([](Subject& s) { s.stage = "A"; });
  said([](Subject& s) { s.retake = 1; });
  said([](Subject& s) { s.remark = "A"; });
  said([](Subject& s) { s.other = {{"A", "A"}}; });
  return keys;
}

TEST(SettingsKey, IsAnotherForEachThingThatMatters) {
  const auto keys = keys_of_changes();
  for (std::size_t i = 0; i < keys.size(); ++i)
    for (std::size_t j = 0; j < i; ++j) EXPECT_NE(keys[i], keys[j]) << j << " and " << i;
}

TEST(SettingsKey, IsTheSameSixteenHexadecimalDigitsEachTime) {
  const auto keys = keys_of_changes();
  EXPECT_EQ(keys, keys_of_changes());
  EXPECT_EQ(keys[0].size(), 16U);
  EXPECT_EQ(keys[0].find_first_not_of("0123456789abcdef"), std::string::npos);
}

}  // namespace
}  // namespace windway
