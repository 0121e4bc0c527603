// What the tests of model files share: networks made at random, folders that vanish, published networks.
// SPDX-License-Identifier: BSD-3-Clause
#pragma once

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "faultodds/model/fault_model.hpp"

namespace faultodds::testing {

/// A folder of its own that is removed at the end of a test.
class Folder {
 public:
  Folder() {
    std::random_device random;
    path_ = std::filesystem::temp_directory_path() /
            ("faultodds-test-" + std::to_string(random()) + std::to_string(random()));
    std::filesystem::create_directories(path_);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  Folder(Folder&&) = delete;
  Folder& operator=(Folder&&) = delete;
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  [[nodiscard]] const std::filesystem::path& path() const { return path_; }
  [[nodiscard]] std::size_t files() const {
    return static_cast<std::size_t>(
        std::distance(std::filesystem::directory_iterator(path_), std::filesystem::directory_iterator()));
  }

 private:
  std::filesystem::path path_;
};

/// Names that try every format: blanks, brackets, quotes, signs of BIF and XML, other alphabets, keywords.
inline const std::vector<std::string>& awkward_names() {
  static const std::vector<std::string> names = {"a b",
                                                 "a_b",
                                                 "(1,5]",
                                                 "{x}",
                                                 "h\xC3\xA9i\xC3\x9F",
                                                 "say \"no\"",
                                                 "back\\slash",
                                                 "C:\\x41\\new",
                                                 "1st level",
                                                 "a;b",
                                                 "a|b",
                                                 "a//b",
                                                 "a/*b*/",
                                                 "<5",
                                                 ">=7.5",
                                                 "&amp;",
                                                 "&#65;",
                                                 " lead",
                                                 "trail ",
                                                 "table",
                                                 "default",
                                                 "property",
                                                 "variable",
                                                 "a,b",
                                                 "it's",
                                                 "]]>",
                                                 "line\nend",
                                                 "tab\tstop",
                                                 "-",
                                                 "\xE6\xB1\xBD\xE8\xBB\x8A",
                                                 "0",
                                                 "1",
                                                 "+",
                                                 "/",
                                                 "network"};
  return names;
}

/// A row of doubles with all their digits, some of them zero, very small, or one alone.
inline std::vector<double> random_row(std::mt19937_64& random, std::size_t size) {
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  std::vector<double> row(size);
  double sum = 0.0;
  for (double& value : row) {
    const double kind = uniform(random);
    value = kind < 0.2 ? 0.0 : kind < 0.3 ? 1e-12 * uniform(random) : uniform(random);
    sum += value;
  }
  if (sum == 0.0) sum = row[random() % size] = 1.0;
  for (double& value : row) value /= sum;
  return row;
}

/// A network of full tables with awkward names. Without `names` they are the indices, as in UAI files.
inline FaultModel random_network(std::mt19937_64& random, bool names = true) {
  ModelParts parts;
  const std::size_t count = 1 + random() % 8;
  std::vector<std::string> pool = awkward_names();
  std::shuffle(pool.begin(), pool.end(), random);
  parts.header.name = names ? pool.back() : "";
  if (names) parts.header.description = "first note, with \"quotes\"\n second; note \n";
  for (std::size_t v = 0; v < count; ++v) {
    Variable variable;
    variable.name = names ? pool[v] : std::to_string(v);
    const std::size_t states = 1 + random() % 4;
    for (std::size_t s = 0; s < states; ++s)
      variable.states.push_back({names ? pool[(v + 3 * s + 1) % pool.size()] : std::to_string(s), {}});
    if (names && random() % 2 == 0) variable.properties = {"pos = (3, 4)", "{a; b} // no comment", ""};
    FullTable table;
    std::size_t rows = 1;
    for (std::size_t p = 0; p < v && table.parents.size() < 3; ++p) {
      if (random() % 2 == 0) continue;
      table.parents.insert(table.parents.begin() + static_cast<std::ptrdiff_t>(random() % (table.parents.size() + 1)),
                           p);
      rows *= parts.variables[p].states.size();
    }
    std::vector<double> values;
    for (std::size_t r = 0; r < rows; ++r) {
      const std::vector<double> row = random_row(random, states);
      values.insert(values.end(), row.begin(), row.end());
    }
    table.rows = Table(states, std::move(values));
    variable.distribution = std::move(table);
    parts.variables.push_back(std::move(variable));
  }
  return FaultModel(std::move(parts));
}

/// The folder of published networks that the environment variable FAULTODDS_NETWORKS names; empty if it does not.
inline std::filesystem::path published_networks() {
  const char* folder = std::getenv("FAULTODDS_NETWORKS");
  return folder == nullptr ? std::filesystem::path() : std::filesystem::path(folder);
}

/// The files of a kind below it, or in a folder uai beside it, by name.
inline std::vector<std::filesystem::path> published_files(const std::string& ending) {
  std::vector<std::filesystem::path> found;
  if (published_networks().empty()) return found;
  for (const auto& folder : {published_networks(), published_networks().parent_path() / "uai"}) {
    if (!std::filesystem::is_directory(folder)) continue;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
      if (entry.path().filename().string().ends_with(ending)) found.push_back(entry.path());
    }
  }
  std::sort(found.begin(), found.end());
  return found;
}

/// Texts that differ from `text` by a cut or a few bytes.
inline std::string damaged(std::mt19937_64& random, std::string text) {
  if (random() % 3 == 0) text.resize(random() % text.size());
  const std::size_t flips = random() % 6;
  static const std::string signs = "{}()[];|,\"\\<>&/*-.eE019 \n#";
  for (std::size_t i = 0; i < flips && !text.empty(); ++i) {
    char& c = text[random() % text.size()];
    c = random() % 2 == 0 ? signs[random() % signs.size()] : static_cast<char>(random());
  }
  return text;
}

/// The probability of the first state of a variable, by enumeration of all configurations.
inline double first_state_probability(const FaultModel& model, std::size_t wanted) {
  std::vector<StateIndex> states(model.size(), 0);
  double sum = 0.0;
  while (true) {
    double product = states[wanted] == 0 ? 1.0 : 0.0;
    for (std::size_t v = 0; v < model.size(); ++v) {
      const auto& table = std::get<FullTable>(model.variable(v).distribution);
      std::size_t row = 0;
      for (const std::size_t parent : table.parents) row = row * model.state_count(parent) + states[parent];
      product *= table.rows(row, states[v]);
    }
    sum += product;
    std::size_t v = 0;
    while (v < model.size() && ++states[v] == model.state_count(v)) states[v++] = 0;
    if (v == model.size()) return sum;
  }
}

/// The message of the ModelError that reading ends with; empty if there is none.
template <class Read>
std::string message_of(const Read& read) {
  try {
    static_cast<void>(read());
  } catch (const Error& error) {
    return error.what();
  }
  return {};
}

}  // namespace faultodds::testing
