// Text files: what is read is what was written, and a failure loses nothing.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/io/text_file.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <random>

#include "faultodds/io/text_places.hpp"
#include "io/networks.hpp"

namespace faultodds {
namespace {

using testing::Folder;

void write_bytes(const std::filesystem::path& path, const std::string& bytes) {
  std::ofstream(path, std::ios::binary) << bytes;
}
std::string bytes_of(const std::filesystem::path& path) {
  std::ifstream stream(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(stream), {}};
}
bool contains(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

TEST(TextFile, ReadsWhatWasWrittenPlainAndPacked) {
  const Folder folder;
  std::mt19937_64 random(3);
  for (const std::size_t size : {0U, 1U, 65535U, 65536U, 65537U, 3000000U}) {
    std::string text(size, 'x');
    for (char& c : text) c = static_cast<char>('a' + random() % 26);
    for (const char* name : {"a.txt", "a.txt.gz"}) {
      write_text_file(folder.path() / name, text);
      EXPECT_EQ(read_text_file(folder.path() / name), text);
    }
  }
  EXPECT_EQ(folder.files(), 2U);  // nothing left beside them
}

TEST(TextFile, KnowsGzipByItsFirstBytes) {
  const Folder folder;
  write_text_file(folder.path() / "a.gz", "packed");
  EXPECT_TRUE(bytes_of(folder.path() / "a.gz").starts_with("\x1F\x8B"));
  std::filesystem::rename(folder.path() / "a.gz", folder.path() / "a.txt");
  EXPECT_EQ(read_text_file(folder.path() / "a.txt"), "packed");
  // Members one behind the other are one text (RFC 1952, section 2.2).
  write_text_file(folder.path() / "b.gz", " twice");
  write_bytes(folder.path() / "c.gz", bytes_of(folder.path() / "a.txt") + bytes_of(folder.path() / "b.gz"));
  EXPECT_EQ(read_text_file(folder.path() / "c.gz"), "packed twice");
}

TEST(TextFile, EqualTextsMakeEqualPackedFiles) {
  const Folder folder;
  write_text_file(folder.path() / "a.gz", "the same");
  write_text_file(folder.path() / "b.gz", "the same");
  EXPECT_EQ(bytes_of(folder.path() / "a.gz"), bytes_of(folder.path() / "b.gz"));
}

TEST(TextFile, RefusesDamagedPackedFiles) {
  const Folder folder;
  write_text_file(folder.path() / "a.gz", std::string(1000, 'a') + "bcd");
  const std::string whole = bytes_of(folder.path() / "a.gz");
  for (std::size_t cut = 2; cut < whole.size(); ++cut) {
    write_bytes(folder.path() / "cut.gz", whole.substr(0, cut));
    EXPECT_THROW(static_cast<void>(read_text_file(folder.path() / "cut.gz")), ModelError) << cut;
  }
  std::string flipped = whole;
  flipped[whole.size() - 6] ^= 1;  // the check sum
  write_bytes(folder.path() / "flipped.gz", flipped);
  EXPECT_THROW(static_cast<void>(read_text_file(folder.path() / "flipped.gz")), ModelError);
  write_bytes(folder.path() / "more.gz", whole + "rubbish");
  EXPECT_THROW(static_cast<void>(read_text_file(folder.path() / "more.gz")), ModelError);
}

TEST(TextFile, BoundsItsSizeAlsoAfterUnpacking) {
  const Folder folder;
  write_text_file(folder.path() / "a.gz", std::string(5000000, ' '));
  EXPECT_LT(std::filesystem::file_size(folder.path() / "a.gz"), 10000U);
  EXPECT_THROW(static_cast<void>(read_text_file(folder.path() / "a.gz", 4999999)), TooLarge);
  EXPECT_EQ(read_text_file(folder.path() / "a.gz", 5000000).size(), 5000000U);
  write_text_file(folder.path() / "a.txt", "12345");
  EXPECT_THROW(static_cast<void>(read_text_file(folder.path() / "a.txt", 4)), TooLarge);
  EXPECT_EQ(read_text_file(folder.path() / "a.txt", 5), "12345");
}

TEST(TextFile, StripsTheByteOrderMarkAndWritesNone) {
  const Folder folder;
  write_bytes(folder.path() / "a",
              "\xEF\xBB\xBF"
              "h\xC3\xA9");
  EXPECT_EQ(read_text_file(folder.path() / "a"), "h\xC3\xA9");
  write_text_file(folder.path() / "b", "h\xC3\xA9\n");
  EXPECT_EQ(bytes_of(folder.path() / "b"), "h\xC3\xA9\n");
}

TEST(TextFile, NamesTheFirstByteThatIsNotUtf8) {
  const Folder folder;
  write_bytes(folder.path() / "a", "one\ntwo\nh\xE9i\n");
  const std::string message = testing::message_of([&] { return read_text_file(folder.path() / "a"); });
  EXPECT_TRUE(contains(message, "a: line 3, byte offset 9: the byte 0xE9 is not UTF-8; save the file as UTF-8"))
      << message;
  EXPECT_THROW(write_text_file(folder.path() / "b", "\xFF"), ModelError);
  EXPECT_FALSE(std::filesystem::exists(folder.path() / "b"));
}

TEST(TextFile, TellsUtf8FromEverythingElse) {
  // RFC 3629, section 4: the well-formed byte sequences, by a decoder written from the table of code points.
  const auto reference = [](const std::string& bytes) {
    std::size_t i = 0;
    while (i < bytes.size()) {
      const auto first = static_cast<unsigned char>(bytes[i]);
      const std::size_t length = first < 0x80        ? 1
                                 : first >> 5U == 6  ? 2
                                 : first >> 4U == 14 ? 3
                                 : first >> 3U == 30 ? 4
                                                     : 0;
      if (length == 0 || i + length > bytes.size()) return false;
      unsigned long point = length == 1 ? first : first & (0x7FU >> length);
      for (std::size_t k = 1; k < length; ++k) {
        const auto next = static_cast<unsigned char>(bytes[i + k]);
        if (next >> 6U != 2) return false;
        point = point << 6U | (next & 63U);
      }
      const unsigned long least[] = {0, 0, 0x80, 0x800, 0x10000};
      if (point < least[length] || point > 0x10FFFF || (point >= 0xD800 && point <= 0xDFFF)) return false;
      i += length;
    }
    return true;
  };
  std::mt19937_64 random(5);
  const std::vector<int> bytes = {0x00, 0x41, 0x7F, 0x80, 0x8F, 0x90, 0x9F, 0xA0, 0xBF, 0xC0, 0xC1,
                                  0xC2, 0xDF, 0xE0, 0xE1, 0xED, 0xEF, 0xF0, 0xF1, 0xF4, 0xF5, 0xFF};
  std::size_t valid = 0;
  for (int i = 0; i < 200000; ++i) {
    std::string text;
    for (std::size_t k = 0; k < 1 + static_cast<std::size_t>(i % 12); ++k)
      text += static_cast<char>(bytes[random() % bytes.size()]);
    const bool right = reference(text);
    valid += right ? 1 : 0;
    const bool accepted = testing::message_of([&] { return checked_utf8(text); }).empty();
    ASSERT_EQ(accepted, right) << i;
  }
  EXPECT_GT(valid, 1000U);
}

TEST(TextFile, AFailedWriteLeavesWhatWasThere) {
  const Folder folder;
  write_text_file(folder.path() / "a", "before");
  EXPECT_THROW(write_text_file(folder.path() / "none" / "a", "x"), ModelError);
  EXPECT_THROW(write_text_file(folder.path(), "x"), ModelError);
  EXPECT_THROW(write_text_file(folder.path() / "a", "\xC3"), ModelError);
  EXPECT_EQ(read_text_file(folder.path() / "a"), "before");
  EXPECT_EQ(folder.files(), 1U);
  if (std::filesystem::exists("/dev/full")) {
    EXPECT_THROW(write_text_file("/dev/full", "x"), ModelError);
  }
}

TEST(TextFile, KeepsPermissionsAndLinks) {
  const Folder folder;
  namespace fs = std::filesystem;
  write_text_file(folder.path() / "a", "1");
  fs::permissions(folder.path() / "a", fs::perms::owner_read | fs::perms::owner_write);
  fs::create_symlink("a", folder.path() / "link");
  write_text_file(folder.path() / "link", "2");
  EXPECT_TRUE(fs::is_symlink(folder.path() / "link"));
  EXPECT_EQ(read_text_file(folder.path() / "a"), "2");
  EXPECT_EQ(fs::status(folder.path() / "a").permissions(), fs::perms::owner_read | fs::perms::owner_write);
}

TEST(TextFile, SaysWhyAFileCannotBeRead) {
  const Folder folder;
  EXPECT_TRUE(contains(testing::message_of([&] { return read_text_file(folder.path() / "none.json"); }),
                       "none.json: it cannot be opened: No such file"));
  EXPECT_TRUE(contains(testing::message_of([&] { return read_text_file(folder.path()); }), "it is a directory"));
}

TEST(TextPlaces, CountsLinesAndCharacters) {
  TextPlaces places("a\nh\xC3\xA9 x\n\nend");
  EXPECT_EQ(places.at(0), "line 1, column 1");
  EXPECT_EQ(places.at(2), "line 2, column 1");
  EXPECT_EQ(places.at(6), "line 2, column 4");
  EXPECT_EQ(places.at(8), "line 3, column 1");
  EXPECT_EQ(places.at(12), "line 4, column 4");
}

TEST(Numbers, ReadBackToTheSameBits) {
  std::mt19937_64 random(9);
  for (int i = 0; i < 100000; ++i) {
    const double value =
        std::ldexp(std::uniform_real_distribution<double>(0.0, 1.0)(random), -static_cast<int>(random() % 1000));
    std::string text;
    append_number(text, value);
    double read = -1.0;
    ASSERT_EQ(read_number(text, read), NumberFault::none);
    ASSERT_EQ(read, value);
  }
}

TEST(Numbers, KnowWhatIsNone) {
  double value = 0.0;
  for (const char* fine : {".2", "5.", "+0.5", "1e-3", "1E3", "0"})
    EXPECT_EQ(read_number(fine, value), NumberFault::none) << fine;
  for (const char* wrong : {"", "+", "-", "0,5", "1e", "0x10", "++1", "+-1", "1 "})
    EXPECT_EQ(read_number(wrong, value), NumberFault::not_a_number) << wrong;
  for (const char* far : {"1e400", "-1e400", "1e-400"})
    EXPECT_EQ(read_number(far, value), NumberFault::out_of_range) << far;
  EXPECT_EQ(read_number("-0", value), NumberFault::none);
  EXPECT_FALSE(std::signbit(value));
}

}  // namespace
}  // namespace faultodds
