// SPDX-License-Identifier: GPL-3.0-or-later
#include "report/figures/take_figure.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "input/input_file.hpp"
#include "report/figures/take_lines.hpp"
#include "report/measurement/json.hpp"
#include "report/page/figure_key.hpp"
#include "report/page/marks.hpp"
#include "report/page/section.hpp"
#include "report/wording/figures.hpp"
#include "report/wording/spelling.hpp"
#include "report/wording/words.hpp"
#include "units/count_in_words.hpp"
#include "units/order_statistics.hpp"

namespace windway {
namespace {

constexpr double names_px = 16, loud_px = 26, cents_top_px = names_px + loud_px + 14, cents_px = 62;
constexpr double axis_px = 18, picture_px = cents_top_px + cents_px + axis_px;
constexpr int most_ticks = 5;

/// A hold with what the report says of it.
struct HeardHold {
  const NamedHold* named = nullptr;
  std::optional<Blow> blow;
  double cents = 0;
  std::string why_not;  ///< empty: it counts
};

std::vector<HeardHold> holds_of(const Measurement& measurement, int take) {
  std::vector<HeardHold> heard;
  for (std::size_t h = 0; h < measurement.naming.holds.size(); ++h) {
    const NamedHold& named = measurement.naming.holds[h];
    if (named.hold.take != take) continue;
    const bool is_used = named.in_scale && measurement.breath.used[h];
    heard.push_back({&named, measurement.breath.blow[h], named.deviation_cents + measurement.breath.correction_cents[h],
                     is_used          ? ""
                     : named.in_scale ? how_hard_is_not_known
                                      : not_in_scale});
  }
  std::ranges::stable_sort(heard, {}, [](const HeardHold& hold) { return hold.named->hold.start_s; });
  return heard;
}

std::string letter_of(const HeardHold& heard) {
  if (!heard.why_not.empty()) return "×";
  if (!heard.blow) return "?";
  switch (*heard.blow) {
    case Blow::soft:
      return "s";
    case Blow::moderate:
      return "m";
    case Blow::hard:
      return "h";
    case Blow::swell:
      break;
  }
  return "<";
}

/// What one line is drawn on; all lines have one scale.
struct LineAxes {
  Axis time_s;
  Axis cents;

  double y_px(double value) const { return cents_top_px + cents_px * (1 - cents.percent(value) / 100); }
};

/// The loudness as an area, 60 dB high.
Markup loudness_of(const PowerCurve& power, float loud_db, const TakeLine& line, const LineAxes& axes) {
  constexpr double range_db = 60.0;
  std::vector<Place> places;
  for (std::size_t i = 0; i < power.power_db.size(); ++i) {
    const double time_s = power.first_s + static_cast<double>(i) * power.hop_s;
    if (time_s < line.start_s || time_s > line.end_s) continue;
    const double share = std::clamp((power.power_db[i] - loud_db + range_db) / range_db, 0.0, 1.1);
    const double x_percent = axes.time_s.percent(time_s);
    if (places.empty()) places.push_back({x_percent, loud_px});
    places.push_back({x_percent, std::round((loud_px - share * (loud_px - 2)) * 10) / 10});
  }
  if (places.empty()) return {};
  places.push_back({places.back().x_percent, loud_px});
  return stretched({{"y", names_px}, {"width", "100%"}}, loud_px,
                   leaf("path", {{"class", "loud"}, {"d", path_through(places) + "Z"}}));
}

Markup hold_marks(const HeardHold& heard, const LineAxes& axes) {
  const Hold& hold = heard.named->hold;
  const double from = axes.time_s.percent(hold.start_s), to = axes.time_s.percent(hold.end_s);
  const double steady_from = axes.time_s.percent(hold.steady_start_s),
               steady_to = axes.time_s.percent(hold.steady_end_s);
  const double y_px = axes.y_px(heard.cents);
  Markup drawn = level(names_px + loud_px + 3, "held", from, to);
  if (heard.why_not.empty()) drawn += level(y_px, "steady", steady_from, steady_to);
  const double letter_px = heard.why_not.empty() ? y_px - 5 : cents_top_px + cents_px / 2;
  const double middle = 0.5 * (from + to);
  constexpr double edge = 97;  // percent: a letter there would stand outside on a phone
  return drawn + label(middle, letter_px, letter_of(heard), middle > edge ? "end" : "middle", "quiet");
}

Markup cents_grid(const LineAxes& axes) {
  Markup drawn;
  const double step = tick_step(axes.cents, most_ticks);
  for (const double tick : ticks(axes.cents, most_ticks))
    drawn += level(axes.y_px(tick), tick == 0 ? "zero" : "grid") +
             label(0, axes.y_px(tick) - 3, tick_label(tick, step), "start", "quiet");
  return drawn;
}

Markup time_labels(const LineAxes& axes, const TakeLine& line) {
  constexpr int most_times = 7;
  Markup drawn;
  const double step = tick_step(axes.time_s, most_times);
  for (const double tick : ticks(axes.time_s, most_times)) {
    const double x = axes.time_s.percent(tick);
    if (tick < 0 || tick > line.end_s) continue;
    const bool is_second = std::lround(tick / step) % 2 != 0;
    drawn += label(x, picture_px - 4, fixed(tick, 0) + " s",
                   x < 4    ? "start"
                   : x > 96 ? "end"
                            : "middle",
                   is_second ? "quiet second" : "quiet");
  }
  return drawn;
}

std::string heard_in_words(const HeardHold& heard, const Measurement& measurement) {
  return fmt::format("{} {} s: {}", spelt_for_people(heard.named->note, measurement),
                     fixed(heard.named->hold.start_s, 1),
                     heard.why_not.empty() ? signed_fixed(heard.cents, 1) + " cents" : "left out, " + heard.why_not);
}

/// A stretch that is no hold: a cross where it stands.
Markup not_held_marks(const std::vector<LeftOut>& left_out, int take, const TakeLine& line, const LineAxes& axes) {
  Markup drawn;
  for (const LeftOut& each : left_out)
    if (each.take == take && each.start_s >= line.start_s && each.start_s < line.end_s)
      drawn += label(axes.time_s.percent(0.5 * (each.start_s + each.end_s)), names_px + loud_px + 12, "×", "middle",
                     "quiet");
  return drawn;
}

Markup line_picture(const Measurement& measurement, int take, const std::vector<HeardHold>& holds, const TakeLine& line,
                    const LineAxes& axes, float loud_db) {
  Markup drawn;
  const auto at = static_cast<std::size_t>(take);
  if (at < measurement.loudness.size()) drawn += loudness_of(measurement.loudness[at], loud_db, line, axes);
  drawn += cents_grid(axes) + time_labels(axes, line) + not_held_marks(measurement.left_out, take, line, axes);
  std::string said, last_name;
  for (const HeardHold& heard : holds) {
    if (heard.named->hold.start_s < line.start_s || heard.named->hold.start_s >= line.end_s) continue;
    drawn += hold_marks(heard, axes);
    const std::string name = spelt_for_people(heard.named->note, measurement);
    if (name != last_name)
      drawn += label(axes.time_s.percent(heard.named->hold.start_s), names_px - 4, name, "start", "name");
    last_name = name;
    said += heard_in_words(heard, measurement) + "; ";
  }
  return picture_markup(fmt::format("From {} s to {} s", fixed(std::max(0.0, line.start_s), 0), fixed(line.end_s, 0)),
                        said, picture_px, drawn);
}

Axis cents_axis(const std::vector<HeardHold>& holds) {
  constexpr double least_width_cents = 40;
  std::vector<double> cents;
  for (const HeardHold& heard : holds)
    if (heard.why_not.empty()) cents.push_back(heard.cents);
  const Axis axis = axis_over(cents, least_width_cents);
  return {axis.least, axis.most + 0.12 * (axis.most - axis.least)};  // room for the letters
}

float loud_level_db(const Measurement& measurement, std::size_t take) {
  if (take >= measurement.loudness.size() || measurement.loudness[take].power_db.empty()) return 0;
  std::vector<float> levels = measurement.loudness[take].power_db;
  return value_of_rank(levels, 95 * levels.size() / 100);
}

Markup pictures_of_take(const Measurement& measurement, int take, std::size_t most_lines) {
  const std::vector<HeardHold> holds = holds_of(measurement, take);
  std::vector<const Hold*> bare;
  for (const HeardHold& heard : holds) bare.push_back(&heard.named->hold);
  const std::vector<TakeLine> lines = take_lines(bare, most_lines);
  double width_s = usual_line_s / 2;
  for (const TakeLine& line : lines) width_s = std::max(width_s, line.end_s - line.start_s);
  const float loud_db = loud_level_db(measurement, static_cast<std::size_t>(take));
  Markup pictures;
  for (const TakeLine& line : lines) {
    const LineAxes axes{{line.start_s, line.start_s + width_s}, cents_axis(holds)};
    pictures += line_picture(measurement, take, holds, line, axes, loud_db);
  }
  if (!lines.empty() && !bare.empty() && lines.back().end_s < bare.back()->start_s)
    pictures += paragraphs(
        {fmt::format("From {} s on, the take was measured but is not drawn.", fixed(lines.back().end_s, 0))});
  return pictures;
}

const char* in_words(NotHeld why) {
  switch (why) {
    case NotHeld::too_short:
      return "too short";
    case NotHeld::too_high:
      return "too high for a duct flute";
    case NotHeld::roaming:
      return "gliding too far";
    case NotHeld::out_of_range:
      return "outside the range of the instrument";
    case NotHeld::too_faint:
      break;
  }
  return "far softer than the notes";
}

/// "Heard, but not counted as a hold: 2 too short (at 1.2 s, 3.4 s)."
std::string not_held_in_words(const std::vector<LeftOut>& left_out, int take) {
  constexpr std::size_t most_times = 4;
  std::map<NotHeld, std::vector<std::string>> times;
  for (const LeftOut& each : left_out)
    if (each.take == take) times[each.why].push_back(fixed(each.start_s, 1) + " s");
  std::vector<std::string> words;
  for (auto& [why, at] : times) {
    const std::size_t count = at.size();
    if (count > most_times) at.resize(most_times);
    words.push_back(fmt::format("{} {} (at {}{})", count, in_words(why), fmt::join(at, ", "),
                                count > most_times ? " and later" : ""));
  }
  return words.empty() ? "" : "Heard, but not counted as a hold: " + list_in_words(words) + ".";
}

/// "39 holds. Left out: C6 at 12.3 s (not in this scale)."
std::string holds_in_words(const Measurement& measurement) {
  constexpr std::size_t most_named = 8;
  std::string out;
  std::size_t count = 0;
  for (std::size_t take = 0; take < measurement.takes.size(); ++take)
    for (const HeardHold& heard : holds_of(measurement, static_cast<int>(take))) {
      if (heard.why_not.empty() || ++count > most_named) continue;
      out += fmt::format("{}{} at {} s ({})", out.empty() ? "" : ", ", spelt_for_people(heard.named->note, measurement),
                         fixed(heard.named->hold.start_s, 1), heard.why_not);
    }
  if (count > most_named) out += fmt::format(" and {} more", count - most_named);
  return count_in_words(measurement.naming.holds.size(), "hold") + (count == 0 ? "." : ". Left out: " + out + ".");
}

Markup keys() {
  constexpr double wide_px = 20;
  return keys_markup({{leaf("rect", {{"class", "loud"}, {"width", wide_px}, {"height", key_px}}), wide_px, "loudness"},
                      {level(key_middle_px, "held"), wide_px, "a hold"},
                      {level(key_middle_px, "steady"), wide_px, "its steady part, drawn at its cents from the target"},
                      {{}, 0, "s blown soft, m moderately, h hard, < a swell, ? not known, × left out"}});
}

}  // namespace

Markup take_section(const Measurement& measurement) {
  if (measurement.naming.holds.empty()) return {};
  constexpr std::size_t most_lines = 8;
  const std::size_t takes = measurement.takes.size();
  Markup content = paragraphs({holds_in_words(measurement)}) + keys();
  for (std::size_t take = 0; take < takes; ++take) {
    if (takes > 1)
      content += element("h3", {},
                         words_markup(fmt::format("Take {}: {}", take + 1, take_name(measurement.takes[take].path))));
    content += paragraphs({not_held_in_words(measurement.left_out, static_cast<int>(take))}) +
               pictures_of_take(measurement, static_cast<int>(take), std::max<std::size_t>(2, most_lines / takes));
  }
  return element("div", {{"class", "long"}},
                 section("take", takes > 1 ? "The takes, as they were heard" : "The take, as it was heard", content));
}

}  // namespace windway
