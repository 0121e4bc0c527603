// XMLBIF files: the order of tables, what XML allows inside them, and what must be refused.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/io/xmlbif.hpp"

#include <gtest/gtest.h>

#include <array>

#include "faultodds/io/bif.hpp"
#include "io/networks.hpp"

namespace faultodds {
namespace {

using testing::first_state_probability;

bool contains(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }
std::string problem_of(const std::string& text) {
  return testing::message_of([&] { return read_xmlbif(text, "x.xml"); });
}
std::string network(const std::string& inside) {
  return "<?xml version=\"1.0\"?>\n<!DOCTYPE BIF [ <!ELEMENT BIF ( NETWORK )*> ]>\n<BIF "
         "VERSION=\"0.3\"><NETWORK><NAME>n</NAME>\n" +
         inside + "</NETWORK></BIF>\n";
}
const std::string power =
    "<VARIABLE TYPE=\"nature\"><NAME>POWER</NAME><OUTCOME>on</OUTCOME><OUTCOME>off</OUTCOME><PROPERTY>pos = (3, "
    "4)</PROPERTY></VARIABLE>\n";
const std::string x =
    "<VARIABLE TYPE=\"nature\"><NAME> X\n</NAME><OUTCOME>a</OUTCOME><OUTCOME>b</OUTCOME></VARIABLE>\n";
const std::string power_table = "<DEFINITION><FOR>POWER</FOR><TABLE>0.8 0.2</TABLE></DEFINITION>\n";

TEST(Xmlbif, GivenVariablesRunSlowestAndTheirOwnFastest) {
  const FaultModel model = read_xmlbif(
      network(power + x + power_table +
              "<DEFINITION><FOR>X</FOR><GIVEN>POWER</GIVEN><TABLE> 0.7 0.3 <!-- on --> 0.1 0.9 </TABLE></DEFINITION>"));
  // 0.8*0.7 + 0.2*0.1
  EXPECT_NEAR(first_state_probability(model, 1), 0.58, 1e-15);
  // The same network in BIF, whose flat tables run the other way.
  EXPECT_EQ(read_bif("network n { } variable POWER { type discrete [ 2 ] { on, off }; property \"pos = (3, 4)\"; } "
                     "variable X { type discrete [ 2 ] { a, b }; }"
                     "probability ( POWER ) { table 0.8 0.2; } probability ( X | POWER ) { table 0.7 0.1 0.3 0.9; }"),
            model);
}

TEST(Xmlbif, ExpandsAndFetchesNothing) {
  std::string bomb =
      "<?xml version=\"1.0\"?><!DOCTYPE BIF [ <!ENTITY a \"aaaaaaaaaa\"> <!ENTITY b \"&a;&a;&a;&a;&a;&a;\"> <!ENTITY f "
      "SYSTEM \"file:///etc/hostname\"> ]>\n<BIF><NETWORK>";
  for (const std::string entity : {"&b;", "&f;", "&#0;", "&#xD800;", "&#99999999999;", "&", "&amp", "&unknown;"}) {
    const std::string message =
        problem_of(bomb + "<VARIABLE><NAME>v</NAME><OUTCOME>" + entity +
                   "</OUTCOME></VARIABLE><DEFINITION><FOR>v</FOR><TABLE>1</TABLE></DEFINITION></NETWORK></BIF>");
    EXPECT_TRUE(contains(message, "line 2, column 48: the reference \"&")) << message;
  }
  const FaultModel model = read_xmlbif(bomb +
                                       "<VARIABLE><NAME>&lt;&#233;&#xE9;&amp;b;</NAME><OUTCOME><![CDATA[ &b; "
                                       "]]></OUTCOME></VARIABLE><DEFINITION><FOR>&lt;\xC3\xA9&#233;&amp;b;</"
                                       "FOR><TABLE>1</TABLE></DEFINITION></NETWORK></BIF>");
  EXPECT_EQ(model.variable(0).name, "<\xC3\xA9\xC3\xA9&b;");
  EXPECT_EQ(model.variable(0).states[0].name, " &b; ");
}

TEST(Xmlbif, KeepsProperties) {
  const FaultModel model = read_xmlbif(
      network("<PROPERTY>first</PROPERTY><PROPERTY>second</PROPERTY>" + power +
              "<DEFINITION><FOR>POWER</FOR><PROPERTY>of the table</PROPERTY><TABLE>0.8 0.2</TABLE></DEFINITION>"));
  EXPECT_EQ(model.header().name, "n");
  EXPECT_EQ(model.header().description, "first\nsecond");
  EXPECT_EQ(model.variable(0).properties, (std::vector<std::string>{"pos = (3, 4)", "of the table"}));
}

TEST(Xmlbif, RefusesWhatIsWrongWithItsPlace) {
  const std::string x_table =
      "<DEFINITION><FOR>X</FOR><GIVEN>POWER</GIVEN><TABLE>0.7 0.3 0.1 0.9</TABLE></DEFINITION>\n";
  const std::array<std::pair<std::string, std::string>, 17> cases = {{
      {power + power + power_table, "line 5, column 2: the variable \"POWER\" is declared twice (before in line 4)"},
      {power + power_table + power_table, "a second definition of \"POWER\" (the first is in line 5)"},
      {power + x + power_table, "the variable \"X\" has no definition"},
      {power + x + x_table + "<DEFINITION><FOR>POWER</FOR><GIVEN>X</GIVEN><TABLE>0.7 0.3 0.1 0.9</TABLE></DEFINITION>",
       "POWER -> X -> POWER"},
      {power + "<DEFINITION><FOR>POWER</FOR><GIVEN>POWER</GIVEN><TABLE>1 0 0 1</TABLE></DEFINITION>", "its own parent"},
      {power + x + power_table +
           "<DEFINITION><FOR>X</FOR><GIVEN>POWER</GIVEN><GIVEN>POWER</GIVEN><TABLE>1</TABLE></DEFINITION>",
       "is given twice"},
      {power + "<DEFINITION><FOR>POWRE</FOR><TABLE>1 0</TABLE></DEFINITION>",
       "no variable is named \"POWRE\"; did you mean \"POWER\"?"},
      {power + "<DEFINITION><FOR>POWER</FOR><TABLE>0.8 0.1 0.1</TABLE></DEFINITION>",
       "3 numbers in the table of \"POWER\"; 2 states and 1 configuration of its parents call for 2"},
      {power + "<DEFINITION><FOR>POWER</FOR><TABLE>0.8 0.1</TABLE></DEFINITION>", "the prior of \"POWER\" sums to 0.9"},
      {power + "<DEFINITION><FOR>POWER</FOR><TABLE>0.8 0,2</TABLE></DEFINITION>",
       "line 5, column 40: \"0,2\" is not a number"},
      {power + "<DEFINITION><FOR>POWER</FOR></DEFINITION>", "has no <TABLE>"},
      {power + "<DEFINITION><TABLE>1 0</TABLE></DEFINITION>", "has no <FOR>"},
      {"<VARIABLE TYPE=\"decision\"><NAME>d</NAME><OUTCOME>a</OUTCOME></VARIABLE>", "\"decision\""},
      {"<VARIABLE><NAME>d</NAME><OUTCOME>a</OUTCOME><OUTCOME>a</OUTCOME></VARIABLE>", "a second outcome named \"a\""},
      {"<VARIABLE><NAME>d</NAME></VARIABLE>", "has no outcomes"},
      {"<UTILITY/>" + power + power_table, "<UTILITY> is in <NETWORK>"},
      {"", "the network has no variable"},
  }};
  for (const auto& [inside, part] : cases)
    EXPECT_TRUE(contains(problem_of(network(inside)), part)) << inside << '\n' << problem_of(network(inside));
  EXPECT_TRUE(contains(problem_of("<BIF><NETWORK></BIF>"), "this is not XML"));
  EXPECT_TRUE(contains(problem_of("<HTML/>"), "XMLBIF starts with <BIF>"));
  EXPECT_TRUE(contains(problem_of("<BIF/>"), "there is no <NETWORK>"));
  EXPECT_TRUE(contains(
      problem_of("<?xml version=\"1.0\" encoding=\"latin1\"?><BIF><NETWORK><NAME>\xC3\xA9</NAME></NETWORK></BIF>"),
      "LATIN1"));
}

TEST(Xmlbif, RefusesTablesThatDoNotFitBeforeMakingThem) {
  std::string inside;
  std::string given;
  for (int p = 0; p < 70; ++p) {
    const std::string name = "p" + std::to_string(p);
    inside += "<VARIABLE><NAME>" + name +
              "</NAME><OUTCOME>a</OUTCOME><OUTCOME>b</OUTCOME></VARIABLE><DEFINITION><FOR>" + name +
              "</FOR><TABLE>0.5 0.5</TABLE></DEFINITION>\n";
    given += "<GIVEN>" + name + "</GIVEN>";
  }
  EXPECT_THROW(static_cast<void>(read_xmlbif(network(inside + power + "<DEFINITION><FOR>POWER</FOR>" + given +
                                                     "<TABLE>0.5</TABLE></DEFINITION>"))),
               TooLarge);
}

TEST(Xmlbif, RoundTripsRandomNetworksBitForBit) {
  std::mt19937_64 random(2);
  for (int i = 0; i < 300; ++i) {
    const FaultModel model = testing::random_network(random);
    ASSERT_EQ(read_xmlbif(write_xmlbif(model)), model) << write_xmlbif(model);
  }
}

TEST(Xmlbif, RefusesToWriteWhatXmlCannotHold) {
  ModelParts parts;
  Variable variable;
  variable.name = "bell\x07";
  variable.states = {{"a", ""}};
  variable.distribution = FullTable{{}, Table(1, std::vector<double>{1.0})};
  parts.variables = {variable};
  EXPECT_THROW(static_cast<void>(write_xmlbif(FaultModel(parts))), ModelError);
}

TEST(Xmlbif, SurvivesDamage) {
  std::mt19937_64 random(8);
  for (int i = 0; i < 4000; ++i) {
    const std::string text = testing::damaged(random, write_xmlbif(testing::random_network(random)));
    try {
      static_cast<void>(read_xmlbif(text));
    } catch (const Error&) {
      continue;
    }
  }
}

}  // namespace
}  // namespace faultodds
