// SPDX-License-Identifier: GPL-3.0-or-later
#include "recording/telephone.hpp"

#include <gtest/gtest.h>

#include <vector>

namespace windway {
namespace {

using std::string_view_literals::operator""sv;

std::string container_name(std::string_view bytes) {
  const std::vector<unsigned char> head(bytes.begin(), bytes.end());
  return std::string(container_of(head).value_or(Container{"none", ""}).name);
}

TEST(ContainerOf, KnowsWhatTelephonesRecordIntoByItsFirstBytes) {
  EXPECT_EQ(container_name("\0\0\0\x20"
                           "ftypM4A \0\0\0\0"sv),
            "MPEG-4 or QuickTime (.m4a, .mp4, .mov, .3gp)");
  EXPECT_EQ(container_name("\0\0\0\x18"
                           "ftyp3gp4"sv),
            "MPEG-4 or QuickTime (.m4a, .mp4, .mov, .3gp)");
  EXPECT_EQ(container_name("\x1a\x45\xdf\xa3\x9f"sv), "WebM or Matroska (.webm, .mkv)");
  EXPECT_EQ(container_name("\xff\xf1\x50\x80"sv), "raw AAC (.aac)");
  EXPECT_EQ(container_name("\xff\xf9\x50\x80"sv), "raw AAC (.aac)");
  EXPECT_EQ(container_name("ID3\4\0\0\0\0\0\2..\xff\xf1\x50\x80"sv), "raw AAC (.aac)");
  EXPECT_EQ(container_name("#!AMR\n"sv), "AMR speech (.amr)");
  EXPECT_EQ(container_name("\x30\x26\xb2\x75\x8e\x66\xcf\x11\xa6\xd9"sv), "Windows Media (.wma, .asf)");
  EXPECT_EQ(container_name("RIFF\0\0\0\0AVI LIST"sv), "AVI video");
}

TEST(ContainerOf, LeavesToLibsndfileWhatItReads) {
  EXPECT_EQ(container_name("RIFF\0\0\0\0WAVEfmt "sv), "none");
  EXPECT_EQ(container_name("fLaC\0\0\0\x22"sv), "none");
  EXPECT_EQ(container_name("OggS\0\2"sv), "none");
  EXPECT_EQ(container_name("\xff\xfb\x90\x64"sv), "none");                     // MPEG layer III
  EXPECT_EQ(container_name("ID3\4\0\0\0\0\0\2..\xff\xfb\x90\x64"sv), "none");  // with a tag before it
  EXPECT_EQ(container_name("ID3\4\0\0\x7f\x7f\x7f\x7f"sv), "none");            // a tag longer than the file
  EXPECT_EQ(container_name(""sv), "none");
  EXPECT_EQ(container_name("\0\0\0\x20"
                           "fty"sv),
            "none");
}

TEST(ConversionCommand, CarriesTheUsersOwnFileNameQuotedForTheShell) {
  EXPECT_EQ(conversion_command("New take.m4a"), "ffmpeg -i 'New take.m4a' take.flac");
  EXPECT_EQ(conversion_command("/home/a b/x.m4a"), "ffmpeg -i '/home/a b/x.m4a' take.flac");
  EXPECT_EQ(conversion_command("Anna's $(D).m4a"), R"(ffmpeg -i 'Anna'\''s $(D).m4a' take.flac)");
}

TEST(ConversionCommand, NeitherOverwritesTheTakeNorLetsAColonPassForAProtocol) {
  EXPECT_EQ(conversion_command("a/take.flac"), "ffmpeg -i 'a/take.flac' take2.flac");
  EXPECT_EQ(conversion_command("take 10:30.m4a"), "ffmpeg -i './take 10:30.m4a' take.flac");
  EXPECT_EQ(conversion_command("./10:30.m4a"), "ffmpeg -i './10:30.m4a' take.flac");
}

}  // namespace
}  // namespace windway
