// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/pages/sheet_page.hpp"

#include <algorithm>
#include <cmath>

#include "error.hpp"
#include "report/measurement/advice.hpp"
#include "report/measurement/pictured.hpp"
#include "report/measurement/text.hpp"
#include "report/page/section.hpp"
#include "report/pages/sheet_parts.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/spelling.hpp"
#include "report/wording/verdict_words.hpp"
#include "report/wording/words.hpp"

namespace windway {
namespace {

constexpr auto look = "sheet";

/// What the maker calls it.
std::string model_in_words(const Measurement& measurement) {
  const auto& maker = measurement.naming.instrument.maker;
  return maker && maker->model ? *maker->model : capitalised(instrument_in_words(measurement));
}

/// The first reasons of that kind; "and 4 more".
std::string reasons(const std::vector<EntryJudged>& judged, VerdictResult of) {
  constexpr std::size_t most = 3;
  std::vector<std::string> messages;
  for (const EntryJudged& each : judged)
    if (each.judged.result == of && !each.message.empty()) messages.push_back(each.message);
  std::string all;
  for (std::size_t at = 0; at < std::min(most, messages.size()); ++at) all += (at == 0 ? "" : ". ") + messages[at];
  if (messages.size() > most) all += "; and " + std::to_string(messages.size() - most) + " more";
  return all.empty() ? "" : ": " + all;
}

std::string kept_sentence(const std::vector<EntryJudged>& judged) {
  const std::string criteria = criteria_in_words(judged);
  return criteria.empty() ? "It passed; the limits were not noted." : "It passed: " + criteria + ".";
}

std::string verdict_sentence(const SheetFacts& facts) {
  if (!facts.result) return "It was not judged.";
  switch (*facts.result) {
    case VerdictResult::pass:
      return kept_sentence(facts.judged);
    case VerdictResult::fail:
      return "It failed" + reasons(facts.judged, VerdictResult::fail) + ".";
    case VerdictResult::too_close:
      return "Whether it passes is too close to call" + reasons(facts.judged, VerdictResult::too_close) + ".";
    case VerdictResult::not_measured:
      break;
  }
  return "It could not be judged in full" + reasons(facts.judged, VerdictResult::not_measured) + ".";
}

/// "Recorded on 2026-03-02; boxwood, head H1."
std::string recorded_sentence(const Subject& subject) {
  constexpr std::size_t date_length = 10;
  std::string sentence = subject.recorded_at ? "Recorded on " + subject.recorded_at->substr(0, date_length)
                                             : "The day of the recording was not noted";
  std::vector<std::string> traits;
  if (subject.material) traits.push_back(*subject.material);
  if (subject.head) traits.push_back("head " + *subject.head);
  for (const std::string& trait : traits) sentence += (&trait == &traits.front() ? "; " : ", ") + trait;
  return sentence + ".";
}

/// The note that is farthest off once the head is set.
std::string farthest_in_words(const Measurement& measurement) {
  const auto& moved = measurement.compromise->notes;
  const auto farthest = std::ranges::max_element(moved, {}, [](const MovedNote& note) { return std::abs(note.cents); });
  const NoteBreath& note = measurement.breath.notes[static_cast<std::size_t>(farthest - moved.begin())];
  return spelt_for_people(note.id, measurement) + ", " + deviation_in_words(farthest->cents, farthest->u95_cents) +
         " at moderate breath";
}

Markup hands_section(const Measurement& measurement, bool any_reach) {
  std::vector<Term> terms;
  if (const auto bent = least_and_most_bent(measurement)) {
    const auto words = [&](const NoteBreath* note) {
      return spelt_for_people(note->id, measurement) + ", " + spread_in_words(*note);
    };
    terms = {{"steadiest", words(bent->first)}, {"bends most", words(bent->second)}};
  }
  terms.push_back({"farthest off", farthest_in_words(measurement)});
  const std::string lacking =
      any_reach ? ""
                : "How far the breath bends each note was not measured, as the notes were not blown soft and hard. So "
                  "this sheet does not say how hard to blow them.";
  return section("hands", "In your hands", terms_markup(terms) + paragraphs({lacking}));
}

Markup signature() {
  const auto line = [](const char* what) { return element("p", {{"class", "to-sign"}}, words_markup(what)); };
  return element("div", {{"class", "columns signature"}}, line("signed") + line("date"));
}

Markup maker_markup(const std::optional<Maker>& maker) {
  if (!maker) return {};
  Markup lines = maker->name ? element("strong", {}, words_markup(*maker->name)) : Markup();
  for (const std::string& line : maker->address)
    lines += (lines.empty() ? Markup() : words_markup(" · ")) + words_markup(line);
  return lines.empty() ? lines : element("address", {}, lines);
}

/// "windway 0.1.0 · recording 2f37af30df868686 · air in the flute taken as 25 °C"
std::string basis_in_words(const Measurement& measurement, const std::string& program_version) {
  constexpr std::size_t digits = 16;
  std::vector<std::string> sums;
  for (const TakeInfo& take : measurement.takes)
    if (!take.sha256.empty()) sums.push_back(take.sha256.substr(0, digits));
  const std::string recording =
      sums.empty() ? "" : std::string(" · recording") + (sums.size() > 1 ? "s " : " ") + list_in_words(sums);
  return "windway " + program_version + recording + " · air in the flute taken as " +
         shortest(quoted_air(measurement.settings).temperature_c) + " °C";
}

Markup foot(const Measurement& measurement, const std::string& program_version) {
  return element("footer", {},
                 signature() + maker_markup(measurement.naming.instrument.maker) +
                     remarks_markup({basis_in_words(measurement, program_version)}));
}

Markup column(const Markup& content) { return element("div", {}, content); }

}  // namespace

SheetFacts sheet_facts(const BenchEntry& entry) { return {dated_subject(entry), entry.result, entry.judged}; }

bool is_sheet_page(std::string_view text) {
  return text.find("<main class=\"" + std::string(look) + "\">") != std::string_view::npos;
}

std::string why_no_sheet(const Measurement& measurement) {
  for (const WarningCode doubt : deep_doubts)
    if (const Warning* warning = find_warning(measurement.warnings, doubt)) return warning->message;
  if (measurement.breath.notes.size() < 2 || !measurement.compromise)
    return "its scale was not measured; record the whole scale, each note soft, moderate and hard";
  return "";
}

std::string lacking_on_sheet(const Measurement& measurement) {
  const Head& head = measurement.settings.head;
  if (!head.moves) return "";
  if (!head_belongs_mm(measurement))
    return "it is not known where the head was, so the sheet gives no place for it and no A4 of its ends: record with "
           "--fully-in or --head-out, or with head_out_mm in the manifest";
  return head.travel_mm ? ""
                        : "how far the head can be drawn out is not known, so the sheet does not give the lowest A4: "
                          "give travel_mm in the instrument file, or --travel";
}

std::string sheet_page(const Measurement& measurement, const SheetFacts& facts, const std::string& program_version) {
  const auto picture = pictured(measurement);
  if (!picture) throw Error(ErrorKind::recording, "no sheet can be made: " + why_no_sheet(measurement));
  const bool any_reach = any_reach_measured(*picture);
  const std::string model = model_in_words(measurement);
  Page page;
  page.look = look;
  page.heading = facts.subject.serial.value_or(model);
  if (facts.subject.serial) page.above = model;
  page.title = facts.subject.serial ? page.heading + ", " + model : model;
  const Markup head = set_head_section(measurement), hands = hands_section(measurement, any_reach);
  page.content =
      paragraphs({verdict_sentence(facts) + " " + recorded_sentence(facts.subject)}) +
      element("div", {{"class", "columns"}}, column(head + hands) + column(with_others_section(measurement)));
  if (any_reach) page.content += blow_section(measurement, *picture);
  page.content += foot(measurement, program_version);
  return html_of(page);
}

}  // namespace windway
