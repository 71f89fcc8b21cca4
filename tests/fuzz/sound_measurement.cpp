// SPDX-License-Identifier: GPL-3.0-or-later
#include "sound_measurement.hpp"

#include "fuzz_input.hpp"
#include "report/measurement/csv.hpp"
#include "report/measurement/json.hpp"
#include "report/measurement/measurement_fields.hpp"
#include "report/measurement/note_fields.hpp"
#include "report/measurement/text.hpp"
#include "report/pages/measurement_page.hpp"
#include "report/pages/sheet_page.hpp"
#include "well_formed.hpp"
#include "within_bounds.hpp"

namespace windway::fuzz {
namespace {

void require_holds_in_order(const Measurement& measurement) {
  const NamedHold* before = nullptr;
  for (const NamedHold& named : measurement.naming.holds) {
    const Hold& hold = named.hold;
    visit_hold(named, HoldWords{}, WithinBounds{});
    require(hold.take >= 0 && static_cast<std::size_t>(hold.take) < measurement.takes.size(), "a hold is of a take");
    const double end_s = measurement.takes[static_cast<std::size_t>(hold.take)].duration_s;
    require(hold.start_s <= hold.steady_start_s && hold.steady_start_s < hold.steady_end_s &&
                hold.steady_end_s <= hold.end_s && hold.end_s <= end_s,
            "a hold is within its take, and its steady part within the hold");
    require(before == nullptr || before->hold.take < hold.take || before->hold.end_s <= hold.start_s,
            "holds are in order");
    before = &named;
  }
}

void require_head_within_limits(const Measurement& measurement) {
  const Compromise& compromise = *measurement.compromise;
  const Head& head = measurement.settings.head;
  constexpr double rounding_mm = 1e-9;
  visit_compromise(compromise, WithinBounds{});
  if (compromise.steady_blow) visit_steady_blow(*compromise.steady_blow, WithinBounds{});
  visit_check_note(compromise.check_note, std::string(), WithinBounds{});
  for (const MovedNote& note : compromise.notes) {
    visit_moved(note, WithinBounds{});
    visit_air_column(note, WithinBounds{});
  }
  require(compromise.notes.size() == measurement.breath.notes.size(), "each note is moved");
  require(head.moves || compromise.slide_mm == 0, "a fixed head stays");
  if (!head.moves || !head.out_mm) return;
  require(*head.out_mm + compromise.slide_mm >= -rounding_mm, "the head goes in no farther than fully in");
  require(!head.travel_mm || *head.out_mm + compromise.slide_mm <= *head.travel_mm + rounding_mm,
          "the head goes out no farther than its travel");
}

}  // namespace

void require_sound(const Measurement& measurement) {
  for (const TakeInfo& take : measurement.takes) visit_take(take, WithinBounds{});
  require_holds_in_order(measurement);
  for (const NoteBreath& note : measurement.breath.notes) visit_note(note, std::string(), WithinBounds{});
  if (measurement.breath.drift) visit_drift(*measurement.breath.drift, 0.0, WithinBounds{});
  if (measurement.compromise) require_head_within_limits(measurement);
  write_reports(measurement);
}

void write_reports(const Measurement& measurement) {
  const PageSource source{"1.2.3", "windway measure"};
  text_of(measurement_prose(measurement));
  csv_report(measurement);
  json_report(measurement, source.program_version, Curves::written);
  require_well_formed(measurement_page(measurement, source));
  for (const std::string& figure : measurement_figures())
    unless_refused([&] { require_well_formed(measurement_svg(measurement, figure)); });
  unless_refused([&] { require_well_formed(sheet_page(measurement, {}, source.program_version)); });
}

}  // namespace windway::fuzz
