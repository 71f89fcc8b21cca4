// SPDX-License-Identifier: GPL-3.0-or-later
#include "manifest/serial_pattern.hpp"

#include <gtest/gtest.h>

#include "error.hpp"

namespace windway {
namespace {

NameReading reading(const std::string& pattern, const std::string& path) {
  return subject_of(serial_pattern(pattern), path);
}

TEST(SerialPattern, ReadsTheNameWithoutFolderAndLastEnding) {
  const NameReading read = reading("{serial}_{stage}_{retake}", "bench_1/HW-0412.b_voiced_02.wav");
  ASSERT_TRUE(read.subject);
  EXPECT_EQ(read.subject->serial, "HW-0412.b");
  EXPECT_EQ(read.subject->stage, "voiced");
  EXPECT_EQ(read.subject->retake, 2);
  EXPECT_EQ(read.why_not, "");
  EXPECT_EQ(read.subject->lot, std::nullopt);
  EXPECT_EQ(read.subject->recorded_at, std::nullopt);
}

TEST(SerialPattern, HasAFieldForAllThatANameMaySay) {
  const NameReading read =
      reading("lot {lot} {material} h{head} {operator}, {stage} #{serial}", "lot 7 pear h3 Ilse, raw #HW-1.flac");
  ASSERT_TRUE(read.subject);
  EXPECT_EQ(read.subject->lot, "7");
  EXPECT_EQ(read.subject->material, "pear");
  EXPECT_EQ(read.subject->head, "3");
  EXPECT_EQ(read.subject->operator_name, "Ilse");
  EXPECT_EQ(read.subject->stage, "raw");
  EXPECT_EQ(read.subject->serial, "HW-1");
}

TEST(SerialPattern, DigitsOfARetakeCanSettleWhatElseWereAmbiguous) {
  const NameReading read = reading("{serial}-{retake}", "HW-0412-final-3.wav");
  ASSERT_TRUE(read.subject);
  EXPECT_EQ(read.subject->serial, "HW-0412-final");
  EXPECT_EQ(read.subject->retake, 3);
}

TEST(SerialPattern, NeverGuessesWhichOfTwoReadingsIsMeant) {
  const NameReading read = reading("{serial}_{stage}", "HW_0412_raw.wav");
  EXPECT_FALSE(read.subject);
  EXPECT_EQ(read.why_not,
            "its name fits the pattern '{serial}_{stage}' in more than one way: serial HW, stage 0412_raw; or serial "
            "HW_0412, stage raw");
}

TEST(SerialPattern, SaysOfANameThatItDoesNotFit) {
  for (const char* name : {"HW-0412.wav", "_raw_1.wav", "HW__1.wav", "HW_raw_.wav", "HW_raw_2b.wav", "HW_raw_.2", "",
                           "HW_raw_12345678901.wav", "bench_raw_1/HW.wav", ".wav"}) {
    const NameReading read = reading("{serial}_{stage}_{retake}", name);
    EXPECT_FALSE(read.subject) << name;
    EXPECT_EQ(read.why_not, "its name does not fit the pattern '{serial}_{stage}_{retake}'") << name;
  }
}

TEST(SerialPattern, WordsBeforeAndAfterMustStandInTheName) {
  EXPECT_EQ(reading("whistle {serial} done", "whistle 7 done.wav").subject->serial, "7");
  EXPECT_FALSE(reading("whistle {serial} done", "whistle 7 done.2.wav").subject);
  EXPECT_FALSE(reading("whistle {serial} done", "a whistle 7 done.wav").subject);
}

TEST(SerialPattern, FieldsMayHoldLettersOfAnyLanguage) {
  EXPECT_EQ(reading("{serial}\xC2\xB7{stage}", "Gr\xC3\xBC\xC2\xB7roh.wav").subject->serial, "Gr\xC3\xBC");
  EXPECT_EQ(reading("{serial}", "B\xFC.wav").why_not, "its name is not UTF-8 text");
}

TEST(SerialPattern, TellsWithoutDelayThatALongNameDoesNotFit) {
  const NameReading read =
      reading("{serial}a{stage}a{lot}a{material}a{head}a{operator}b", std::string(254, 'a') + ".wav");
  EXPECT_EQ(read.why_not, "its name does not fit the pattern '{serial}a{stage}a{lot}a{material}a{head}a{operator}b'");
  EXPECT_FALSE(reading("{serial}", std::string(1000000, 'a')).subject);
}

std::string mistake_of(const std::string& pattern) {
  try {
    serial_pattern(pattern);
  } catch (const Error& error) {
    EXPECT_EQ(error.kind(), ErrorKind::usage);
    return error.what();
  }
  return "none";
}

TEST(SerialPatternMistake, IsToldWithItsRemedy) {
  const std::string example = "; as in '{serial}_{stage}_{retake}'";
  EXPECT_EQ(mistake_of(""), "the pattern '' has no {serial}" + example);
  EXPECT_EQ(mistake_of("{stage}_{retake}"), "the pattern '{stage}_{retake}' has no {serial}" + example);
  EXPECT_EQ(mistake_of("{serail}"),
            "the pattern '{serail}' has an unknown field {serail}; did you mean {serial}?" + example);
  EXPECT_EQ(mistake_of("{serial}_{colour}"),
            "the pattern '{serial}_{colour}' has an unknown field {colour}; known are serial, stage, lot, "
            "material, head, operator and retake" +
                example);
  EXPECT_EQ(mistake_of("{serial}_{serial}"), "the pattern '{serial}_{serial}' has {serial} twice" + example);
  EXPECT_EQ(
      mistake_of("{serial}{stage}"),
      "the pattern '{serial}{stage}' has nothing between {serial} and {stage}; put a character between them" + example);
  EXPECT_EQ(mistake_of("{serial}_{stage"), "the pattern '{serial}_{stage' has a { without its }" + example);
  EXPECT_EQ(mistake_of("{serial_{stage}"), "the pattern '{serial_{stage}' has a { without its }" + example);
  EXPECT_EQ(mistake_of("{serial}_stage}"), "the pattern '{serial}_stage}' has a } without its {" + example);
  EXPECT_EQ(mistake_of("{lot}/{serial}"),
            "the pattern '{lot}/{serial}' has a /, but names are read without their folder" + example);
  EXPECT_EQ(mistake_of("{serial}.WAV"),
            "the pattern '{serial}.WAV' has the ending .WAV, but names are read without it" + example);
  EXPECT_EQ(mistake_of("{serial}\xFC"), "the pattern of names is not UTF-8 text");
}

}  // namespace
}  // namespace windway
