// SPDX-License-Identifier: GPL-3.0-or-later
#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>

#include "report/player/card_report.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/layout.hpp"
#include "report/wording/spelling.hpp"
#include "report/wording/words.hpp"
#include "slide/slide.hpp"

namespace windway {
namespace {

constexpr std::size_t card_columns = 80;

// What stands in a cell where no figure does.
constexpr auto fully_in_mark = "in";
constexpr auto travel_mark = "end";
constexpr auto far_off_mark = "?";

std::string line(const std::string& text) { return wrapped("  " + text, 2, card_columns); }

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

/// The cell of a row that is reached at the temperature nearest to the take's; null: none is.
const CardCell* nearest_reached(const CardRow& row, double bore_temp_c) {
  const CardCell* nearest = nullptr;
  const auto distance_c = [&](const CardCell& cell) { return std::abs(cell.bore_temp_c - bore_temp_c); };
  for (const CardCell& cell : row.cells)
    if (is_reached(cell) && (!nearest || distance_c(cell) < distance_c(*nearest))) nearest = &cell;
  return nearest;
}

bool has_one_check_note(const std::vector<const CardCell*>& reached) {
  return std::ranges::all_of(
      reached, [&](const CardCell* cell) { return cell->check_note->id == reached.front()->check_note->id; });
}

/// "D5 -2.4"
std::string check_cell(const CardRow& row, const Measurement& measurement) {
  const CardCell* cell = nearest_reached(row, quoted_air(measurement.settings).temperature_c);
  if (!cell) return "-";
  return spelt_for_people(cell->check_note->id, measurement) + " " +
         signed_fixed(cell->check_note->cents, places_deserved(cell->check_u95_cents, 1));
}

std::string card_table(const HeadCard& card, const Measurement& measurement, bool shows_check) {
  const int places = places_of(card);
  std::vector<Column> columns{{"A4", true}};
  for (const CardCell& cell : card.rows.front().cells) columns.push_back({shortest(cell.bore_temp_c) + " °C", true});
  if (shows_check) columns.push_back({"set it by"});
  std::vector<std::vector<std::string>> rows;
  for (const CardRow& row : card.rows) {
    auto& cells = rows.emplace_back(std::vector<std::string>{shortest(row.a4_hz) + " Hz"});
    for (const CardCell& cell : row.cells) cells.push_back(cell_text(cell, places));
    if (shows_check) cells.push_back(check_cell(row, measurement));
  }
  return table(columns, rows);
}

/// "2.4 cents flat"
std::string reading_in_words(const CardCell& cell) {
  return deviation_in_words(cell.check_note->cents, cell.check_u95_cents);
}

/// Where one note sets the head in every cell. What it should read changes little by little with the place of the head,
/// for notes of other lengths change more or less than it does.
std::string check_line(const std::vector<const CardCell*>& reached, const Measurement& measurement, int places) {
  const auto [innermost, outermost] = std::ranges::minmax_element(reached, {}, &CardCell::slide_mm);
  const std::string inner = reading_in_words(**innermost), outer = reading_in_words(**outermost);
  const std::string reading = inner == outer ? inner
                                             : inner + " at " + cell_text(**innermost, places) + " mm and " + outer +
                                                   " at " + cell_text(**outermost, places) + " mm, and evenly between";
  return wrapped("Set it by " + spelt_for_people(reached.front()->check_note->id, measurement) +
                     ": blown moderately, against the A4 of its row, it should be " + reading + ".",
                 0, card_columns);
}

/// What the figures are.
std::string figures_line(const Measurement& measurement) {
  const Head& head = measurement.settings.head;
  const std::string columns = "; across: how warm the air in the blown flute is, in a warm room about 25 °C";
  std::string text;
  if (head.out_mm) {
    text = line("mm that the head stands out of fully in" + columns);
  } else {
    text = line("mm to move the head from where it was at the take, + out, - in" + columns) +
           line(
               "Where it was then is not known, so - may be farther in than it goes: --fully-in or --head-out with the "
               "recording gives places.");
  }
  if (!head.travel_mm) text += line("How far out it goes is not known (--travel MM), so nothing stops it here.");
  return text;
}

std::string marks_lines(const HeadCard& card) {
  std::string text;
  if (any_cell(card, is_fully_in))
    text += line(std::string(fully_in_mark) + ": it should go farther than fully in: set it fully in and blow harder");
  if (any_cell(card, is_at_end))
    text += line(std::string(travel_mark) +
                 ": it should come out farther than it goes: draw it out to the end of its "
                 "travel and blow softer");
  if (any_cell(card, is_far_off))
    text += line(std::string(far_off_mark) + ": the flute is too far from that A4 for a move of the head");
  return text;
}

/// How sure the figures are, and what a wrong temperature does to them.
std::string doubt_line(const HeadCard& card, const std::vector<const CardCell*>& reached) {
  const auto [least_mm, most_mm] = u95_range_mm(reached);
  const std::string surest = plus_minus(least_mm, 1), least_sure = plus_minus(most_mm, 1);
  std::string text = "Each figure is sure to " + surest + " mm" +
                     (surest == least_sure ? "" : ", to " + least_sure + " mm farthest from where the head was") + ".";
  if (card.mm_per_degree)
    text += " A degree in the bore is " + fixed(std::abs(*card.mm_per_degree), 1) +
            " mm; if the bore was warmer or colder at the take than it was taken for, every figure is off by as much.";
  return line(text);
}

std::string takes_in_words(const std::vector<TakeInfo>& takes) {
  std::vector<std::string> names;
  for (const TakeInfo& take : takes) {
    const std::string name = take.path == "-" ? "standard input" : std::filesystem::path(take.path).filename().string();
    names.push_back(take.recorded_at ? name + " (recorded " + *take.recorded_at + ")" : name);
  }
  return list_in_words(names);
}

/// "Measured from a.flac, the bore taken as 25 °C, the head fully in; equal temperament."
std::string basis_line(const Measurement& measurement) {
  const MeasureSettings& settings = measurement.settings;
  const auto& out_mm = settings.head.out_mm;
  const std::string head = !out_mm        ? "the head at a place not known"
                           : *out_mm == 0 ? "the head fully in"
                                          : "the head " + shortest(*out_mm) + " mm out";
  return line("Measured from " + takes_in_words(measurement.takes) + ", the bore taken as " +
              shortest(settings.air.temperature_c) + " °C, " + head + "; " +
              temperament_in_words(settings.tuning.temperament) + ".");
}

}  // namespace

std::string card_text(const HeadCard& card, const Measurement& measurement) {
  const auto reached = cells_of(card, is_reached);
  const bool has_one_check = reached.empty() || has_one_check_note(reached);
  std::string text = wrapped("Where the head belongs: " + instrument_in_words(measurement), 0, card_columns) + "\n" +
                     card_table(card, measurement, !has_one_check) + "\n";
  if (reached.empty()) text += "The head reaches none of these.\n";
  if (!reached.empty() && has_one_check) text += check_line(reached, measurement, places_of(card));
  text += figures_line(measurement) + marks_lines(card);
  if (!has_one_check) text += line("set it by: this note, blown moderately, should be so many cents off then");
  if (!reached.empty()) text += doubt_line(card, reached);
  return text + basis_line(measurement);
}

}  // namespace windway
