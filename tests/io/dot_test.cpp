// DOT pictures: what they show, and that no name can break them.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/io/dot.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "io/networks.hpp"

namespace faultodds {
namespace {

bool contains(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

Variable variable(const std::string& name, const RoleFacts& what, Distribution distribution) {
  Variable made;
  made.name = name;
  made.what = what;
  made.states = {{"no", ""}, {"yes", ""}};
  made.distribution = std::move(distribution);
  return made;
}

TEST(Dot, TheShapeSaysTheRole) {
  ModelParts parts;
  const FullTable prior{{}, Table(2, {0.9, 0.1})};
  const Table effect(2, {1.0, 0.0, 0.2, 0.8});
  parts.variables = {
      variable("weather", Context{}, prior),
      variable("cell", Component{}, prior),
      variable("supply", Hidden{},
               NoisyMax{{1.0, 0.0}, {Link{.cause = 1, .effect = effect, .only_when = {Gate{0, {1}}}, .source = ""}}}),
      variable("dark", Symptom{},
               NoisyMax{{1.0, 0.0}, {Link{.cause = 2, .effect = effect, .only_when = {}, .source = ""}}}),
      variable("meter", faultodds::Test{}, Examination{.component = 1, .detection = {0.9}, .false_alarm = 0.1}),
      variable("other", Unclassified{}, prior)};
  parts.variables[1].component().system = "battery";
  parts.variables[3].symptom().complaint = true;
  parts.header.title = "Torch";
  parts.header.invented = true;
  const std::string text = write_dot(FaultModel(parts));
  EXPECT_TRUE(contains(text, "rankdir=LR"));
  EXPECT_TRUE(contains(text, "label=\"Torch\\nInvented data\""));
  EXPECT_TRUE(contains(text, "v0 [label=\"weather\", shape=tab]"));
  EXPECT_TRUE(contains(text, "label=\"battery\";\n    style=dotted;\n    v1 [label=\"cell\", shape=box];\n  }"));
  EXPECT_TRUE(contains(text, "v2 [label=\"supply\", shape=ellipse, style=dashed]"));
  EXPECT_TRUE(contains(text, "v3 [label=\"dark\", shape=hexagon, peripheries=2]"));
  EXPECT_TRUE(contains(text, "v4 [label=\"meter\", shape=house]"));
  EXPECT_TRUE(contains(text, "v5 [label=\"other\", shape=ellipse]"));
  EXPECT_TRUE(contains(text, "v1 -> v2;"));
  EXPECT_TRUE(contains(text, "v0 -> v2 [style=dashed];"));
}

TEST(Dot, PotentialsAreDots) {
  ModelParts parts;
  parts.variables = {variable("a", Unclassified{}, Unweighted{}), variable("b", Unclassified{}, Unweighted{})};
  parts.potentials = {{{0, 1}, {1, 2, 3, 4}}};
  EXPECT_TRUE(
      contains(write_dot(FaultModel(parts)), "f0 [shape=point];\n  v0 -> f0 [dir=none];\n  v1 -> f0 [dir=none];"));
}

TEST(Dot, NamesCannotBreakIt) {
  std::mt19937_64 random(11);
  for (int i = 0; i < 50; ++i) {
    const std::string text = write_dot(testing::random_network(random));
    // Outside of quotes only the words of the language are left, with as many brackets closed as opened.
    std::string outside;
    bool quoted = false;
    for (std::size_t k = 0; k < text.size(); ++k) {
      if (quoted && text[k] == '\\') {
        ++k;
      } else if (text[k] == '"') {
        quoted = !quoted;
      } else if (!quoted) {
        outside += text[k];
      }
    }
    EXPECT_FALSE(quoted);
    EXPECT_EQ(std::count(outside.begin(), outside.end(), '{'), 1);
    EXPECT_EQ(std::count(outside.begin(), outside.end(), '}'), 1);
    EXPECT_EQ(std::count(outside.begin(), outside.end(), '['), std::count(outside.begin(), outside.end(), ']'));
    EXPECT_EQ(outside.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_ \n{}[]=,;->."),
              std::string::npos)
        << outside;
  }
}

}  // namespace
}  // namespace faultodds
