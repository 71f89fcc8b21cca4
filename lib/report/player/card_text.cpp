// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>

#include "input/input_file.hpp"
#include "report/player/card_report.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/prose.hpp"
#include "report/wording/spelling.hpp"
#include "report/wording/words.hpp"
#include "slide/slide.hpp"

namespace windway {
namespace {

// What stands in a cell where no figure does.
constexpr auto fully_in_mark = "in";
constexpr auto travel_mark = "end";
constexpr auto far_off_mark = "?";

std::vector<const CardCell*> cells_of(const HeadCard& card, bool (*wanted)(const CardCell&)) {
  std::vector<const CardCell*> cells;
  for (const CardRow& row : card.rows)
    for (const CardCell& cell : row.cells)
      if (wanted(cell)) cells.push_back(&cell);
  return cells;
}

bool any_cell(const HeadCard& card, bool (*wanted)(const CardCell&)) { return !cells_of(card, wanted).empty(); }

bool is_fully_in(const CardCell& cell) { return cell.limit == SlideLimit::fully_in; }
bool is_at_end(const CardCell& cell) { return cell.limit == SlideLimit::travel; }
bool is_far_off(const CardCell& cell) { return !cell.slide_mm; }

/// The least and the largest u95 of the cells that are reached.
std::pair<double, double> u95_range_mm(const std::vector<const CardCell*>& reached) {
  const auto [least, most] = std::ranges::minmax_element(reached, {}, &CardCell::slide_u95_mm);
  return {*(*least)->slide_u95_mm, *(*most)->slide_u95_mm};
}

/// No more places than the surest cell deserves.
int places_of(const HeadCard& card) {
  const auto reached = cells_of(card, is_reached);
  return reached.empty() ? 1 : places_deserved(u95_range_mm(reached).first, 1);
}

std::string cell_text(const CardCell& cell, int places) {
  if (is_far_off(cell)) return far_off_mark;
  if (cell.limit) return is_fully_in(cell) ? fully_in_mark : travel_mark;
  return cell.head_out_mm ? fixed(*cell.head_out_mm, places) : signed_fixed(*cell.slide_mm, places);
}

/// "2.4 cents flat", of the temperament.
std::string reading_in_words(const CardCell& cell, double meant_cents) {
  return deviation_in_words(cell.check->cents + meant_cents, cell.check->u95_cents);
}

/// What the check note should read changes little by little with the place of the head,
/// for notes of other lengths change more or less than it does.
Prose check_line(const HeadCard& card, const std::vector<const CardCell*>& reached, const Measurement& measurement) {
  const int places = places_of(card);
  const auto [innermost, outermost] = std::ranges::minmax_element(reached, {}, &CardCell::slide_mm);
  const double meant_cents = intended_cents(measurement.naming.instrument, card.check_note);
  const std::string inner = reading_in_words(**innermost, meant_cents),
                    outer = reading_in_words(**outermost, meant_cents);
  const std::string reading = inner == outer
                                  ? inner
                                  : inner + " at " + cell_text(**innermost, places) + " mm and " + outer + " at " +
                                        cell_text(**outermost, places) + " mm, and in proportion between";
  return words("Set it by " + spelt_for_people(card.check_note, measurement) +
               ". Blown moderately, and measured against the A4 of the row, it should be " + reading +
               meant_in_words(meant_cents) + ".");
}

/// What the figures are.
Prose figures_line(const Measurement& measurement) {
  const Head& head = measurement.settings.head;
  const std::string columns = "; °C: the air in the blown flute, about 25 °C in a warm room";
  Prose prose;
  if (head.out_mm) {
    prose = words("  figures: mm from fully in" + columns, 2);
  } else {
    prose = words("  figures: mm to move the head from where it was at the take, + out, - in" + columns, 2) +
            words(
                "  Where the head was is not known, so - may be farther in than it goes. Measure with --fully-in or "
                "--head-out to get places.",
                2);
  }
  if (!head.travel_mm) prose += words("  " + std::string(travel_not_known) + ": measure again with --travel MM.", 2);
  return prose;
}

std::string takes_in_words(const std::vector<TakeInfo>& takes) {
  std::vector<std::string> names;
  for (const TakeInfo& take : takes) {
    const std::string name = std::filesystem::path(take_name(take.path)).filename().string();
    names.push_back(take.recorded_at ? name + " (recorded " + *take.recorded_at + ")" : name);
  }
  return list_in_words(names);
}

/// "Measured from a.flac, the bore taken as 25 °C, the head fully in; equal temperament."
Prose basis_line(const Measurement& measurement) {
  const MeasureSettings& settings = measurement.settings;
  const auto& out_mm = settings.head.out_mm;
  const std::string head = !out_mm        ? "the head at a place not known"
                           : *out_mm == 0 ? "the head fully in"
                                          : "the head " + shortest(*out_mm) + " mm out";
  return words("  Measured from " + takes_in_words(measurement.takes) + ", the bore taken as " +
                   shortest(settings.air.temperature_c) + " °C, " + head + "; " +
                   temperament_in_words(settings.tuning.temperament) + ".",
               2);
}

}  // namespace

Grid card_table(const HeadCard& card) {
  const int places = places_of(card);
  std::vector<Column> columns{{"A4", true}};
  for (const CardCell& cell : card.rows.front().cells) columns.push_back({shortest(cell.bore_temp_c) + " °C", true});
  std::vector<std::vector<std::string>> rows;
  for (const CardRow& row : card.rows) {
    auto& cells = rows.emplace_back(std::vector<std::string>{shortest(row.a4_hz) + " Hz"});
    for (const CardCell& cell : row.cells) cells.push_back(cell_text(cell, places));
  }
  return {columns, rows};
}

Prose card_marks(const HeadCard& card) {
  Prose lines;
  const auto add = [&](const std::string& mark, const std::string& meaning) {
    lines += words("  " + mark + ": " + meaning, 2);
  };
  if (any_cell(card, is_fully_in))
    add(fully_in_mark, "the head would have to go farther in than it can; set it fully in and blow harder");
  if (any_cell(card, is_at_end))
    add(travel_mark,
        "the head would have to come farther out than it can; draw it out to the end of its travel and blow softer");
  if (any_cell(card, is_far_off)) add(far_off_mark, "the flute is too far from that A4 for a move of the head");
  return lines;
}

Prose card_doubt(const HeadCard& card) {
  const auto reached = cells_of(card, is_reached);
  if (reached.empty()) return {};
  const auto [least_mm, most_mm] = u95_range_mm(reached);
  const std::string surest = plus_minus(least_mm, 1), least_sure = plus_minus(most_mm, 1);
  std::string text = surest == least_sure ? "Each figure is sure to " + surest + " mm."
                                          : "Near where the head was, a figure is sure to " + surest +
                                                " mm; far from it, to " + least_sure + " mm.";
  if (card.mm_per_degree) {
    const std::string mm = fixed(std::abs(*card.mm_per_degree), 1) + " mm";
    text += " For each degree that the bore is warmer, the head belongs " + mm +
            (*card.mm_per_degree > 0 ? " farther out." : " farther in.") +
            " If the bore at the take was warmer or colder than assumed, every figure is off by " + mm + " a degree.";
  }
  return words("  " + text, 2);
}

Prose card_prose(const HeadCard& card, const Measurement& measurement) {
  const auto reached = cells_of(card, is_reached);
  Prose prose = words("Where the head belongs: " + instrument_in_words(measurement)) + Prose(Gap{}) +
                Prose(card_table(card)) + Prose(Gap{});
  prose += reached.empty() ? words("The head reaches none of these.") : check_line(card, reached, measurement);
  return prose + figures_line(measurement) + card_marks(card) + card_doubt(card) + basis_line(measurement);
}

}  // namespace windway
