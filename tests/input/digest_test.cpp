// SPDX-License-Identifier: GPL-3.0-or-later
#include "input/digest.hpp"

#include <gtest/gtest.h>

#include "input/input_file.hpp"
#include "recording/written_file.hpp"

namespace windway {
namespace {

std::string digest_of(const std::string& bytes) {
  const test::TemporaryFolder folder;
  test::write_bytes(folder.path_of("x"), bytes);
  const InputFile file(folder.path_of("x"));
  return sha256_of_file(file.descriptor());
}

// FIPS 180-2 (2002), appendix B: the messages "abc", the 448-bit message and a million times "a" (from memory).
TEST(Sha256, GivesThePublishedDigests) {
  EXPECT_EQ(digest_of("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(digest_of("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(digest_of(std::string(1000000, 'a')), "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

}  // namespace
}  // namespace windway
