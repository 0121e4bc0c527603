// BIF files: the format's rules, its quirks, and what must be refused. The behaviours are those that public bug reports
// about readers of this format ask for; the numbers beside them are worked by hand.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/io/bif.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <clocale>
#include <cmath>

#include "faultodds/io/text_file.hpp"
#include "io/networks.hpp"

namespace faultodds {
namespace {

using testing::first_state_probability;

std::string problem_of(const std::string& text) {
  return testing::message_of([&] { return read_bif(text, "x.bif"); });
}
bool contains(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

const FullTable& table_of(const FaultModel& model, const std::string& name) {
  return std::get<FullTable>(model.variable(model.index_of(name)).distribution);
}

const std::string two_parents =
    "network n { }\n"
    "variable P { type discrete [ 2 ] { lo, hi }; }\n"
    "variable S { type discrete [ 2 ] { yes, no }; }\n"
    "variable C { type discrete [ 2 ] { first, second }; }\n"
    "probability ( P ) { table 0.75, 0.25; }\n"
    "probability ( S ) { table 0.4, 0.6; }\n";

TEST(Bif, FindsRowsByTheirLabelsInAllOrders) {
  std::array<std::string, 4> rows = {"(hi, no) 0.6, 0.4;\n", "(hi, yes) 0.7, 0.3;\n", "(lo, no) 0.1, 0.9;\n",
                                     "(lo, yes) 0.2, 0.8;\n"};
  std::size_t orders = 0;
  do {
    const FaultModel model =
        read_bif(two_parents + "probability ( C | P, S ) {\n" + rows[0] + rows[1] + rows[2] + rows[3] + "}");
    EXPECT_EQ(table_of(model, "C").rows.values(), (std::vector<double>{0.2, 0.8, 0.1, 0.9, 0.7, 0.3, 0.6, 0.4}));
    // 0.25*0.6*0.6 + 0.75*0.4*0.2 + 0.75*0.6*0.1 + 0.25*0.4*0.7 = 0.265; by position it would be 0.385.
    EXPECT_NEAR(first_state_probability(model, 2), 0.265, 1e-15);
    ++orders;
  } while (std::next_permutation(rows.begin(), rows.end()));
  EXPECT_EQ(orders, 24U);
}

TEST(Bif, RefusesRepeatedRowsWithBothLines) {
  const std::string message = problem_of(two_parents +
                                         "probability ( C | P, S ) {\n(lo, yes) 0.2, 0.8;\n(lo, no) 0.1, 0.9;\n(hi, "
                                         "yes) 0.7, 0.3;\n(lo, yes) 0.2, 0.8;\n(hi, no) 0.6, 0.4;\n}");
  EXPECT_TRUE(
      contains(message, "x.bif: line 11, column 1: the row for P=lo, S=yes of \"C\" is given twice (before in line 8)"))
      << message;
}

TEST(Bif, NamesEveryMissingRow) {
  const std::array<std::string, 4> rows = {"(lo, yes) 0.2, 0.8;", "(lo, no) 0.1, 0.9;", "(hi, yes) 0.7, 0.3;",
                                           "(hi, no) 0.6, 0.4;"};
  const std::array<std::string, 4> names = {"P=lo, S=yes", "P=lo, S=no", "P=hi, S=yes", "P=hi, S=no"};
  for (std::size_t left_out = 1; left_out < 16; ++left_out) {
    std::string text = two_parents + "probability ( C | P, S ) {";
    for (std::size_t r = 0; r < 4; ++r) text += (left_out >> r & 1U) != 0 ? "" : rows[r];
    const std::string message = problem_of(text + "}");
    if (left_out == 15) {
      EXPECT_TRUE(contains(message, "holds no numbers")) << message;
      continue;
    }
    for (std::size_t r = 0; r < 4; ++r) {
      EXPECT_EQ(contains(message, "\"C\" has no row for " + names[r]), (left_out >> r & 1U) != 0) << message;
    }
  }
}

TEST(Bif, DefaultFillsOnlyTheRowsLeftOut) {
  const FaultModel model = read_bif(two_parents + "probability ( C | P, S ) { default 0.5, 0.5; (hi, no) 0.6, 0.4; }");
  EXPECT_EQ(table_of(model, "C").rows.values(), (std::vector<double>{0.5, 0.5, 0.5, 0.5, 0.5, 0.5, 0.6, 0.4}));
  EXPECT_TRUE(contains(problem_of(two_parents + "probability ( C | P, S ) { default 0.5, 0.5; default 0.1, 0.9; }"),
                       "a second default"));
  EXPECT_TRUE(contains(problem_of(two_parents + "probability ( C | P, S ) { default 0.5; (hi, no) 0.6, 0.4; }"),
                       "1 number in the default"));
}

TEST(Bif, ListsAllFaultsWithTheirLines) {
  const std::string message = problem_of(
      "network n { }\nvariable A { type discrete [ 2 ] { on, off }; }\nvariable C { type discrete [ 2 ] { x, y }; }\n"
      "probability ( A ) { table 0.5, 0.4; }\nprobability ( C | A ) {\n  (onn) 0.1, 0.9;\n  (off) 0.1, 0.2, 0.7;\n  "
      "(off, on) 0.1 0.9;\n  (on) a, 0.9;\n  on 0.1 0.9;\n}\n"
      "probability ( D ) { table 1; }\n");
  EXPECT_TRUE(contains(message, "line 4, column 21: the prior of \"A\" sums to 0.9")) << message;
  EXPECT_TRUE(contains(message, "line 6, column 4: \"A\" has no state \"onn\"; did you mean \"on\"")) << message;
  EXPECT_TRUE(contains(message, "line 7, column 3: 3 numbers in a row of \"C\"")) << message;
  EXPECT_TRUE(contains(message, "line 8, column 3: 2 labels come before a row")) << message;
  EXPECT_TRUE(contains(message, "line 9, column 8: \"a\" is not a number")) << message;
  EXPECT_TRUE(contains(message, "line 10, column 3: \"on\" is not expected here")) << message;
  EXPECT_TRUE(contains(message, "line 12, column 15: no variable is named \"D\"")) << message;
}

TEST(Bif, FlatTablesRunWithTheirOwnStatesSlowest) {
  const std::string start =
      "variable A { type discrete [ 2 ] { a0, a1 }; } variable B { type discrete [ 2 ] { b0, b1 }; } variable T { type "
      "discrete [ 2 ] { t, f }; }\n"
      "probability ( \"A\" ) { table 0.9 0.1; } probability ( \"B\" ) { table 0.5 0.5; }\n";
  const FaultModel model =
      read_bif(start + "probability ( \"T\" \"A\" \"B\" ) { table 0.4 0.6 0.3 0.7 0.6 0.4 0.7 0.3; }");
  // Both readings have rows that sum to one; the right one gives 0.45*0.4 + 0.45*0.6 + 0.05*0.3 + 0.05*0.7 = 0.5.
  EXPECT_NEAR(first_state_probability(model, 2), 0.5, 1e-15);
  for (const bool normalise : {false, true}) {
    const std::string message = testing::message_of([&] {
      return read_bif(start + "probability ( T | A ) { table 0.2 0.8 0.7 0.3; }", "", RowScaling{normalise});
    });
    EXPECT_TRUE(contains(message, "but would with its own states fastest")) << message;
  }
  EXPECT_TRUE(contains(problem_of(start + "probability ( T | A ) { table 0.2 0.8 0.7; }"), "call for 4"));
}

TEST(Bif, MeetsRowsThatMissOne) {
  const auto prior = [](const std::string& row, const std::string& states) {
    return "variable A { type discrete " + states + "; } probability ( A ) { table " + row + "; }";
  };
  const std::string three = "[ 3 ] { a, b, c }";
  const std::string two = "[ 2 ] { a, b }";
  const FaultModel thirds = read_bif(prior("0.3333, 0.3333, 0.3333", three));
  EXPECT_DOUBLE_EQ(table_of(thirds, "A").rows(0, 1), 1.0 / 3.0);
  EXPECT_EQ(thirds.scaled_rows().size(), 1U);
  EXPECT_NO_THROW(static_cast<void>(read_bif(prior("0.04, 0.04, 0.82, 0.10", "[ 4 ] { a, b, c, d }"))));
  EXPECT_THROW(static_cast<void>(read_bif(prior("0.5, 0.4", two))), ModelError);
  EXPECT_DOUBLE_EQ(table_of(read_bif(prior("0.5, 0.4", two), "", RowScaling{true}), "A").rows(0, 0), 5.0 / 9.0);
  for (const std::string row :
       {"-0.5, 1.5", "nan, 1", "0, 0", "inf, 0", "1e400, 0", "1e-400, 1", "0,5, 0,5", "0.5.1, 0.5"}) {
    for (const bool normalise : {false, true}) {
      EXPECT_THROW(static_cast<void>(read_bif(prior(row, two), "", RowScaling{normalise})), ModelError) << row;
    }
  }
}

TEST(Bif, ReadsCommentsPropertiesQuotesAndOptionalSigns) {
  const FaultModel model = read_bif(R"bif(network "Tank-Net" { //2 vars
 property "note = {a, b} // not a comment" ;
}
variable "valve-1" { type discrete[2] { "open" "shut" }; property "pos = (3, 4)" ; property see http://a.invalid/x; /* ; */ }
variable Level { /* three ** stars */ type discrete [ 2 ] { high, low }; }
probability ( valve-1 ) { table 0.25 0.75 ; property who = "me; too" // end
 ; }
probability ( "Level" | "valve-1" ) { ("open") 0.9, 0.1; (shut) .2 .8; }
)bif");
  ASSERT_EQ(model.size(), 2U);
  EXPECT_EQ(model.header().name, "Tank-Net");
  EXPECT_EQ(model.header().description, "note = {a, b} // not a comment");
  EXPECT_EQ(model.variable(0).name, "valve-1");
  EXPECT_EQ(model.variable(0).properties,
            (std::vector<std::string>{"pos = (3, 4)", "see http://a.invalid/x", "who = \"me; too\""}));
  // 0.25*0.9 + 0.75*0.2
  EXPECT_NEAR(first_state_probability(model, 1), 0.375, 1e-15);
}

TEST(Bif, KeepsAwkwardNamesApart) {
  const std::string text =
      "variable \"1st level\" { type discrete [ 2 ] { \"(1,5]\", \"(5,9]\" }; } probability ( \"1st level\" ) { table "
      "0.3, 0.7; }\n"
      "variable v { type discrete [ 2 ] { \"a b\", a_b }; } probability ( v | \"1st level\" ) { (\"(1,5]\") 0.1, 0.9; "
      "(\"(5,9]\") 0.2, 0.8; }";
  const FaultModel model = read_bif(text);
  EXPECT_EQ(model.state_count(0), 2U);
  EXPECT_EQ(model.variable(0).states[0].name, "(1,5]");
  EXPECT_EQ(read_bif(write_bif(model)), model);
  // The same name without quotes is refused, never cut in two.
  EXPECT_THROW(static_cast<void>(read_bif(
                   "variable x { type discrete [ 2 ] { (1,5], (5,9] }; } probability ( x ) { table 0.3, 0.7; }")),
               ModelError);
}

TEST(Bif, ReadsTheSameUnderAnyLineEndAndLocale) {
  const std::string lines = two_parents +
                            "probability ( C | P, S ) {\n(hi, no) 0.6, 0.4;\n(lo, yes) 0.2, 0.8;\n(lo, no) 0.1, "
                            "0.9;\n(hi, yes) 0.7, 0.3;\n}\n";
  const FaultModel model = read_bif(lines);
  std::string with_returns;
  for (const char c : lines) with_returns += c == '\n' ? std::string("\r\n") : std::string(1, c);
  EXPECT_EQ(read_bif(with_returns), model);
  EXPECT_EQ(read_bif("\xEF\xBB\xBF" + lines), model);
  const std::string before = std::setlocale(LC_NUMERIC, nullptr);
  for (const char* comma : {"de_DE.UTF-8", "de_DE.utf8", "fr_FR.UTF-8"}) {
    if (std::setlocale(LC_NUMERIC, comma) == nullptr) continue;
    EXPECT_EQ(read_bif(lines), model);
    EXPECT_EQ(read_bif(write_bif(model)), model);
    break;
  }
  std::setlocale(LC_NUMERIC, before.c_str());
  EXPECT_NO_THROW(static_cast<void>(
      read_bif("variable A { type discrete [ 1 ] { h\xC3\xA9i\xC3\x9F }; } probability ( A ) { table 1; }")));
  EXPECT_TRUE(contains(problem_of("\nvariable A { type discrete [ 1 ] { h\xE9i\xDF }; }"),
                       "x.bif: line 2, byte offset 37: the byte 0xE9 is not UTF-8"));
}

TEST(Bif, RefusesInconsistentDeclarations) {
  const std::string a = "variable A { type discrete [ 2 ] { y, n }; }\n";
  const std::string table = "probability ( A ) { table 0.9, 0.1; }\n";
  const std::array<std::pair<std::string, std::string>, 15> cases = {{
      {"variable A { type discrete [ 3 ] { y, n }; }\n" + table, "declares 3 states and lists 2"},
      {"variable A { type discrete [ 2 ] { y, y }; }\n" + table, "two states named \"y\""},
      {a + a + table, "line 2, column 1: the variable \"A\" is declared twice (before in line 1)"},
      {a + table + "probability ( A ) { table 0.2, 0.8; }",
       "line 3, column 15: a second probability block of \"A\" (the first is in line 2)"},
      {a + "probability ( A | A ) { (y) 0.9, 0.1; (n) 0.9, 0.1; }", "is its own parent"},
      {a + "variable B { type discrete [ 2 ] { y, n }; } probability ( B | A, A ) { default 0.1 0.9; }" + table,
       "the parent \"A\" is given twice"},
      {a + table + "probability ( Z ) { table 1; }", "no variable is named \"Z\""},
      {a, "\"A\" has no probability block"},
      {a + "variable B { type discrete [ 1 ] { b }; } probability ( A | B ) { (b) 0.1 0.9; } probability ( B | A ) { "
           "default 1; }",
       "A -> B -> A"},
      {"variable A { } " + table, "has no type"},
      {"variable A { type continuous; } " + table, "right would be discrete"},
      {"variable A { type discrete [ 0 ] { }; } " + table, "declares 0 states"},
      {"network x { } network y { } " + a + table, "a second network block"},
      {"", "declares no variable"},
      {a + "probability ( A ) { table 0.9, 0.1; table 0.9, 0.1; }", "a second table"},
  }};
  for (const auto& [text, part] : cases)
    EXPECT_TRUE(contains(problem_of(text), part)) << text << "\n" << problem_of(text);
}

TEST(Bif, GoesOnBehindABlockThatCannotBeRead) {
  const std::string message = problem_of(
      "variable A { type discrete [ 2 ] { y n }\nvariable B { type discrete 2 { y n }; }\nvariable C { type discrete [ "
      "1 ] { c }; }\nprobability ( C { table 1; }\nprobability ( C ) { table 0.5; }\n");
  EXPECT_TRUE(contains(message, "line 2, column 1")) << message;
  EXPECT_TRUE(contains(message, "line 2, column 28")) << message;
  EXPECT_TRUE(contains(message, "line 4, column 17")) << message;
  EXPECT_TRUE(contains(message, "line 5, column 21: the prior of \"C\" sums to 0.5")) << message;
}

TEST(Bif, ReadsBlocksInAnyOrder) {
  const FaultModel model = read_bif(
      "probability ( B | A ) { property late; (y) 0.1 0.9; (n) 0.2 0.8; } variable B { type discrete [ 2 ] { x z }; "
      "}\nprobability ( A ) { table 0.9 0.1; }\nvariable A { type discrete [ 2 ] { y n }; }");
  EXPECT_EQ(model.variable(0).properties, std::vector<std::string>{"late"});
  EXPECT_EQ(table_of(model, "B").rows.values(), (std::vector<double>{0.1, 0.9, 0.2, 0.8}));
}

std::string many_parents(std::size_t parents, std::size_t states) {
  std::string text;
  std::string given;
  for (std::size_t p = 0; p < parents; ++p) {
    const std::string name = "p" + std::to_string(p);
    text += "variable " + name + " { type discrete [ " + std::to_string(states) + " ] { a" +
            (states == 2 ? ", b" : "") + " }; }\n";
    text += "probability ( " + name + " ) { table " + (states == 2 ? "0.5, 0.5" : "1") + "; }\n";
    given += (p == 0 ? " | " : ", ") + name;
  }
  return text + "variable child { type discrete [ 2 ] { y, n }; }\nprobability ( child" + given +
         " ) { default 0.25, 0.75; }\n";
}

TEST(Bif, RefusesTablesThatDoNotFitBeforeMakingThem) {
  for (const std::size_t parents : {40U, 70U, 200U}) {
    try {
      static_cast<void>(read_bif(many_parents(parents, 2)));
      FAIL() << parents;
    } catch (const TooLarge& error) {
      EXPECT_DOUBLE_EQ(error.bytes(), std::ldexp(16.0, static_cast<int>(parents)));
      EXPECT_TRUE(contains(error.what(), "the table of \"child\""));
    }
  }
  EXPECT_EQ(table_of(read_bif(many_parents(35, 1)), "child").rows.values(), (std::vector<double>{0.25, 0.75}));
}

TEST(Bif, RoundTripsRandomNetworksBitForBit) {
  std::mt19937_64 random(1);
  for (int i = 0; i < 300; ++i) {
    const FaultModel model = testing::random_network(random);
    ASSERT_EQ(read_bif(write_bif(model)), model) << write_bif(model);
  }
}

TEST(Bif, WritesCompactTablesInFullAndRefusesPotentials) {
  ModelParts parts;
  Variable cause;
  cause.name = "cause";
  cause.states = {{"sound", ""}, {"faulty", ""}};
  cause.distribution = FullTable{{}, Table(2, {0.9, 0.1})};
  Variable effect;
  effect.name = "effect";
  effect.states = {{"absent", ""}, {"present", ""}};
  effect.distribution = NoisyMax{
      {0.99, 0.01}, {Link{.cause = 0, .effect = Table(2, {1.0, 0.0, 0.2, 0.8}), .only_when = {}, .source = ""}}};
  parts.variables = {cause, effect};
  const FaultModel read = read_bif(write_bif(FaultModel(parts)));
  // Noisy-OR: P(present | faulty) = 1 - 0.99*0.2 = 0.802 (Pearl 1988).
  EXPECT_NEAR(table_of(read, "effect").rows(1, 1), 0.802, 1e-15);
  parts.variables[1].distribution = Unweighted{};
  parts.potentials = {{{0, 1}, {1, 2, 3, 4}}};
  EXPECT_TRUE(contains(testing::message_of([&] { return write_bif(FaultModel(parts)); }), "write UAI"));
}

TEST(Bif, ReadsAMillionNumbersInOneLinearPass) {
  const auto seconds = [](std::size_t variables) {
    std::string text;
    for (std::size_t v = 0; v < variables; ++v) {
      text += "variable v" + std::to_string(v) + " { type discrete [ 10 ] { a, b, c, d, e, f, g, h, i, j }; }\n";
    }
    for (std::size_t v = 0; v < variables; ++v) {
      const std::string name = "v" + std::to_string(v);
      text += v < 2 ? "probability ( " + name + " ) { table 0.1 0.1 0.1 0.1 0.1 0.1 0.1 0.1 0.1 0.1; }\n"
                    : "probability ( " + name + " | v0, v1 ) {\n";
      for (char a = 'a'; v >= 2 && a <= 'j'; ++a) {
        for (char b = 'a'; b <= 'j'; ++b)
          text += std::string("  (") + a + ", " + b + ") 0.125, 0.125, 0.05, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1;\n";
      }
      if (v >= 2) text += "}\n";
    }
    double best = 1e9;
    for (int i = 0; i < 3; ++i) {
      const auto start = std::chrono::steady_clock::now();
      EXPECT_EQ(read_bif(text).size(), variables);
      best = std::min(best, std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count());
    }
    return best;
  };
  const double once = seconds(500);
  const double twice = seconds(1000);  // 10^6 numbers
  RecordProperty("milliseconds_for_a_million_numbers", std::to_string(1000.0 * twice));
  // Twice the numbers take about twice the time; a quadratic reader would take four times.
  EXPECT_LT(twice, 3.2 * once);
}

TEST(Bif, SurvivesDamage) {
  std::mt19937_64 random(7);
  for (int i = 0; i < 4000; ++i) {
    const std::string text = testing::damaged(random, write_bif(testing::random_network(random)));
    try {
      static_cast<void>(read_bif(text));
    } catch (const Error&) {
      continue;
    }
  }
}

}  // namespace
}  // namespace faultodds
