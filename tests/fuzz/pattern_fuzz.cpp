// SPDX-License-Identifier: GPL-3.0-or-later
// A pattern of names, and on the next lines names to read by it.
#include "fuzz_input.hpp"
#include "manifest/serial_pattern.hpp"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t count) {
  using namespace windway;
  fuzz::unless_refused([&] {
    fuzz::Texts texts(bytes, count);
    const SerialPattern pattern = serial_pattern(texts.next());
    for (std::string name = texts.next(); !name.empty(); name = texts.next()) {
      const NameReading reading = subject_of(pattern, name);
      fuzz::require(reading.subject.has_value() == reading.why_not.empty(), "it is a subject, or the reason is told");
      fuzz::require(!reading.subject || !reading.subject->serial.value_or("").empty(), "a subject has a serial");
    }
  });
  return 0;
}
