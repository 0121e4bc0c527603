// The rules of the tree that no compiler checks: which room may include which, and what public headers may not hold.
// Source: the section "Rooms" of DEVELOPERS.md.
// SPDX-License-Identifier: BSD-3-Clause
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

const fs::path source_dir = FAULTODDS_SOURCE_DIR;
const fs::path include_dir = source_dir / "include";

struct Line {
  std::string file;  // relative to the source directory
  std::size_t number = 0;
  std::string text;
};

std::vector<fs::path> sources_below(const fs::path& folder) {
  std::vector<fs::path> files;
  for (const fs::directory_entry& entry : fs::recursive_directory_iterator(folder)) {
    const fs::path extension = entry.path().extension();
    if (extension == ".hpp" || extension == ".ipp" || extension == ".cpp") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

std::vector<Line> lines_below(const fs::path& folder) {
  std::vector<Line> lines;
  for (const fs::path& file : sources_below(folder)) {
    std::ifstream stream(file);
    std::size_t number = 0;
    for (std::string text; std::getline(stream, text);) {
      lines.push_back({fs::relative(file, source_dir).generic_string(), ++number, text});
    }
  }
  return lines;
}

std::string room_of(const std::string& header) {
  static const std::regex pattern("(?:include/)?faultodds/([a-z]+)/.*");
  std::smatch match;
  return std::regex_match(header, match, pattern) ? match[1].str() : "";
}

// The file named by an #include line, or nothing.
std::string included(const std::string& text) {
  static const std::regex pattern("\\s*#\\s*include\\s*[<\"]([^>\"]+)[>\"].*");
  std::smatch match;
  return std::regex_match(text, match, pattern) ? match[1].str() : "";
}

TEST(Tree, RoomsIncludeOnlyWhatTheArrowsAllow) {
  const std::map<std::string, std::set<std::string>> allowed = {
      {"model", {"model"}},
      {"inference", {"model", "inference"}},
      {"decision", {"model", "inference", "decision"}},
      {"fleet", {"model", "inference", "decision", "job", "fleet"}},
      {"io", {"model", "job", "io"}},
      {"job", {"model", "inference", "decision", "job"}},
      {"report", {"model", "inference", "decision", "job", "io", "report"}},
      {"learning", {"model", "inference", "decision", "job", "learning"}},
  };
  std::size_t arrows = 0;
  for (const Line& line : lines_below(include_dir)) {
    const std::string to = room_of(included(line.text));
    const std::string from = room_of(line.file);
    if (to.empty() || from.empty()) continue;
    ++arrows;
    ASSERT_TRUE(allowed.contains(from)) << line.file << ": no room is called " << from;
    EXPECT_TRUE(allowed.at(from).contains(to)) << line.file << ':' << line.number << ": " << from << " includes " << to;
  }
  EXPECT_GT(arrows, 10U) << "the check found hardly an include: it looks in the wrong place";
}

TEST(Tree, FileFormatsStayInIoAndOptionsInTheProgram) {
  std::set<std::string> seen;
  for (const Line& line : lines_below(include_dir)) {
    const std::string header = included(line.text);
    const bool of_formats = header.starts_with("nlohmann/") || header == "pugixml.hpp" || header == "zlib.h";
    if (of_formats) seen.insert(header);
    EXPECT_TRUE(!of_formats || room_of(line.file) == "io") << line.file << ':' << line.number << ": " << header;
    EXPECT_FALSE(header.starts_with("CLI/")) << line.file << ':' << line.number << ": " << header;
  }
  EXPECT_FALSE(seen.empty())
      << "no header of io/ includes a library for file formats: the check looks in the wrong place";
}

TEST(Tree, PublicHeadersDefineNoMacroAndHaveOneMeaning) {
  // A body may ask which system it is compiled on; nothing else.
  const std::regex directive("\\s*#\\s*(define|undef|if|ifdef|ifndef|elif).*");
  const std::regex of_the_system(R"(#if defined\(__\w+__\)( \|\| defined\(__\w+__\))*)");
  for (const Line& line : lines_below(include_dir)) {
    const bool asks_system = line.file.ends_with(".ipp") && std::regex_match(line.text, of_the_system);
    EXPECT_TRUE(asks_system || !std::regex_match(line.text, directive))
        << line.file << ':' << line.number << ": " << line.text;
  }
}

TEST(Tree, EveryHeaderSaysWhatItIsAndIsReadOnce) {
  for (const fs::path& file : sources_below(include_dir)) {
    std::ifstream stream(file);
    std::string text;
    std::getline(stream, text);
    EXPECT_TRUE(text.starts_with("// ")) << file << ": the first line should say what the file holds";
    while (text != "#pragma once" && std::getline(stream, text)) {
    }
    EXPECT_TRUE(text == "#pragma once" || file.extension() == ".ipp") << file;
  }
}

// Whether the file is code, in a language that has comments.
bool is_source(const fs::path& file) {
  static const std::set<std::string> extensions = {".hpp", ".ipp", ".cpp", ".py", ".pyi", ".sh", ".cmake", ".in"};
  static const std::set<std::string> names = {"CMakeLists.txt", "run", "try"};
  return extensions.contains(file.extension().string()) || names.contains(file.filename().string());
}

bool opens_with_licence(const fs::path& file) {
  static const std::regex line("(//|#) SPDX-License-Identifier: BSD-3-Clause");
  std::ifstream stream(file);
  for (std::string text; std::getline(stream, text) && (text.starts_with("//") || text.starts_with("#"));) {
    if (std::regex_match(text, line)) return true;
  }
  return false;
}

// Source: the SPDX specification 2.3, annex E, "Using SPDX short identifiers in source files".
TEST(Tree, EverySourceFileNamesItsLicence) {
  std::vector<fs::path> files = {source_dir / "CMakeLists.txt"};
  for (const char* room : {".ci", "include", "src", "bindings", "tests", "benchmarks"}) {
    for (const fs::directory_entry& entry : fs::recursive_directory_iterator(source_dir / room)) {
      if (entry.is_regular_file() && is_source(entry.path())) files.push_back(entry.path());
    }
  }
  for (const fs::path& file : files) EXPECT_TRUE(opens_with_licence(file)) << file;
  EXPECT_GT(files.size(), 400U) << "the check found few files: it looks in the wrong place";
}

TEST(Tree, UmbrellaHeaderBringsAllButIoAndReport) {
  std::map<std::string, std::vector<std::string>> includes;
  for (const Line& line : lines_below(include_dir)) {
    const std::string header = included(line.text);
    if (header.starts_with("faultodds/")) includes[line.file].push_back("include/" + header);
  }
  std::set<std::string> reached;
  std::vector<std::string> waiting = {"include/faultodds/faultodds.hpp"};
  while (!waiting.empty()) {
    const std::string header = waiting.back();
    waiting.pop_back();
    if (!reached.insert(header).second) continue;
    for (const std::string& next : includes[header]) waiting.push_back(next);
  }
  for (const fs::path& file : sources_below(include_dir)) {
    const std::string header = fs::relative(file, source_dir).generic_string();
    const std::string room = room_of(header);
    EXPECT_EQ(reached.contains(header), room != "io" && room != "report") << header;
  }
}

TEST(Tree, RoomsHaveNoCircleOfHeaders) {
  std::map<std::string, std::vector<std::string>> includes;
  for (const Line& line : lines_below(include_dir)) {
    const std::string to = included(line.text);
    const bool body = line.file.ends_with(".ipp") || to.ends_with(".ipp");
    if (to.starts_with("faultodds/") && !body) includes["include/" + to];
    if (to.starts_with("faultodds/") && !body) includes[line.file].push_back("include/" + to);
  }
  // Headers without includes left are taken away until nothing is left, or only circles.
  for (bool taken = true; taken;) {
    taken = false;
    for (auto header = includes.begin(); header != includes.end();) {
      const auto& names = header->second;
      const bool free =
          std::none_of(names.begin(), names.end(), [&](const auto& name) { return includes.contains(name); });
      header = free ? (taken = true, includes.erase(header)) : std::next(header);
    }
  }
  for (const auto& [header, names] : includes)
    ADD_FAILURE() << header << " is part of, or depends on, a circle of includes";
}

}  // namespace
