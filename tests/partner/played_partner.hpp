// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include <string>
#include <vector>

#include "partner/partner.hpp"
#include "support/struck_strings.hpp"

namespace windway::partner_tests {

inline constexpr double rate_hz = 48000.0;
inline constexpr double piano_stiffness = 6e-4;
inline constexpr double note_s = 2.0;

/// When the i-th note of piano() and reeds() starts.
double start_of(std::size_t i);

synthesis::StruckNote piano_note(int midi, double a4_hz, double start_s);
/// The keys one after the other, in a quiet room.
std::vector<float> piano(const std::vector<int>& keys, double a4_hz);
/// The same of an accordion, two reeds a note `apart_hz` apart, or one.
std::vector<float> reeds(const std::vector<int>& keys, double a4_hz, double apart_hz);

/// A recording as a file that goes with the object.
class SavedPartner {
 public:
  explicit SavedPartner(const std::vector<float>& samples, double file_rate_hz = rate_hz);
  ~SavedPartner();
  SavedPartner(const SavedPartner&) = delete;
  SavedPartner& operator=(const SavedPartner&) = delete;
  std::string path() const { return path_; }

 private:
  std::string path_;
};

Partner partner_of(const std::vector<float>& samples, const PartnerSettings& settings = {},
                   double file_rate_hz = rate_hz);
std::vector<int> keys_of(const Partner& partner);
std::vector<WarningCode> codes_of(const Partner& partner);

}  // namespace windway::partner_tests
