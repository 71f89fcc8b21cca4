// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>

#include "report/pages/page_source.hpp"
#include "report/player/card_report.hpp"
#include "report/player/check_report.hpp"
#include "report/player/compare_report.hpp"
#include "report/player/partner_report.hpp"
#include "report/player/playing_report.hpp"
#include "report/player/take_history_report.hpp"

namespace windway {

// The answers to a player's other questions, each as a page that says what its text says, with figures where they help.

std::string check_page(const HeadCheck& check, const Measurement& earlier, const PageSource& source);
std::string compare_page(const Comparison& comparison, const Measurement& before, const Measurement& after,
                         const PageSource& source);
std::string partner_page(const Partner& partner, const PageSource& source);
std::string playing_page(const Playing& playing, const PageSource& source);
std::string card_page(const HeadCard& card, const Measurement& measurement, const PageSource& source);
std::string take_history_page(const TakeHistory& history, const PageSource& source);

}  // namespace windway
