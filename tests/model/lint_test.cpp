// Remarks on models that are valid but may not say what their author means.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/model/lint.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "faultodds/io/model_json.hpp"
#include "faultodds/io/text_file.hpp"
#include "support/enumeration.hpp"
#include "support/random_model.hpp"

namespace {

using namespace faultodds;

/// Nothing to remark about: two components, a complaint, a test for each.
const std::string clean =
    R"({"format": "faultodds-model", "format_version": 1, "name": "m", "safety": "care", "invented_data": true,
  "tools": [{"name": "meter"}], "skills": [{"name": "mechanic"}], "cautions": [{"name": "hot"}], "access": [{"name": "cover"}],
  "context": [{"name": "weather", "states": ["dry", "wet"], "prior": 0.3}],
  "components": [{"name": "pump", "states": ["sound", "worn", "dead"], "prior": {"worn": 0.02, "dead": 0.01}},
                 {"name": "coil", "table": {"given": ["weather"], "rows": [{"when": {"weather": "dry"}, "p": 0.01}, {"when": {"weather": "wet"}, "p": 0.05}]}},
                 {"name": "other", "remainder": true, "prior": 0.01}],
  "hidden": [{"name": "no_spark", "states": ["no", "yes"], "any": ["coil"]}],
  "symptoms": [{"name": "stalls", "complaint": true, "source": "s", "noisy_or": {"leak": 0.01, "causes": [
    {"of": "pump", "strength": {"worn": 0.3, "dead": 0.9}}, {"of": "no_spark", "strength": 0.8}, {"of": "other", "strength": 0.5}]}}],
  "tests": [{"name": "pressure", "source": "s", "minutes": 5, "money": 0, "access": ["cover"], "tools": ["meter"], "skill": "mechanic", "cautions": ["hot"],
    "examines": {"component": "pump", "detects": {"worn": 0.5, "dead": 0.95}, "false_alarm": 0.02}}],
  "repairs": [{"name": "renew", "component": "pump", "minutes": 30, "money": 50}]})";

std::string changed(const std::string& from, const std::string& to) {
  const std::size_t at = clean.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  return at == std::string::npos ? clean : clean.substr(0, at) + to + clean.substr(at + from.size());
}

std::string listed(const std::vector<Remark>& remarks) {
  std::string text;
  for (const Remark& remark : remarks) text += remark.place + ": " + remark.found + "; " + remark.remedy + '\n';
  return text;
}

/// The model draws exactly one remark, of this kind.
void expect_remark(const std::string& text, Severity severity, const std::string& place, const std::string& words) {
  const std::vector<Remark> remarks = lint(read_model_json(text));
  ASSERT_EQ(remarks.size(), 1U) << listed(remarks);
  EXPECT_EQ(remarks[0].severity, severity) << listed(remarks);
  EXPECT_EQ(remarks[0].place, place);
  EXPECT_NE(remarks[0].found.find(words), std::string::npos) << remarks[0].found;
  EXPECT_FALSE(remarks[0].remedy.empty());
}

TEST(Lint, SaysNothingAboutACleanModel) {
  EXPECT_TRUE(lint(read_model_json(clean)).empty()) << listed(lint(read_model_json(clean)));
  const FaultModel tutorial = read_model_json(read_text_file(FAULTODDS_SOURCE_DIR "/models/tutorial.json"));
  EXPECT_TRUE(lint(tutorial).empty()) << listed(lint(tutorial));
  EXPECT_TRUE(lint(FaultModel(ModelParts{})).empty());
}

TEST(Lint, TheWholeModel) {
  expect_remark(changed(R"("safety": "care", )", ""), Severity::warning, "safety", "no safety text");
  expect_remark(changed(R"("remainder": true, )", ""), Severity::warning, "components", "not any listed fault");
  expect_remark(changed(R"("complaint": true, )", ""), Severity::warning, "symptoms", "complaint");
}

TEST(Lint, ScaledRows) {
  expect_remark(changed(R"("prior": {"worn": 0.02, "dead": 0.01})", R"("prior": [0.9701, 0.0199, 0.0101])"),
                Severity::note, "pump", "summed to 1.0001");
}

TEST(Lint, PreconditionsOfTests) {
  const std::string examines = R"("examines": {"component": "pump", "detects": {"worn")";
  const auto with_precondition = [&](const std::string& gates) {
    return changed(examines, "\"only_when\": " + gates + ", " + examines);
  };
  EXPECT_TRUE(lint(read_model_json(with_precondition(R"({"weather": "wet"})"))).empty());
  expect_remark(with_precondition(R"({"weather": ["dry", "wet"]})"), Severity::note, "pressure",
                "any state of \"weather\"");
  std::string never = with_precondition(R"({"weather": "snow"})");
  never.replace(never.find(R"(["dry", "wet"], "prior": 0.3)"), 28, R"(["dry", "wet", "snow"], "prior": {"wet": 0.3})");
  const std::vector<Remark> remarks = lint(
      read_model_json(never.replace(never.find(R"({"weather": "wet"}, "p")"), 18, R"({"weather": ["wet", "snow"]})")));
  ASSERT_EQ(remarks.size(), 2U) << listed(remarks);  // the state itself is remarked on, too
  EXPECT_EQ(remarks[1].severity, Severity::warning);
  EXPECT_NE(remarks[1].found.find("its precondition is a state of \"weather\" that has probability zero"),
            std::string::npos);
}

TEST(Lint, AContextThatIsOnlyAPreconditionIsOfUse) {
  const std::string used =
      R"("table": {"given": ["weather"], "rows": [{"when": {"weather": "dry"}, "p": 0.01}, {"when": {"weather": "wet"}, "p": 0.05}]})";
  std::string text = changed(used, R"("prior": 0.01)");
  expect_remark(text, Severity::warning, "weather", "no table depends on this context");
  const std::string examines = R"("examines": {"component": "pump", "detects": {"worn")";
  text.insert(text.find(examines), R"("only_when": {"weather": "dry"}, )");
  EXPECT_TRUE(lint(read_model_json(text)).empty()) << listed(lint(read_model_json(text)));
}

TEST(Lint, StatesThatNeverHappen) {
  expect_remark(changed(R"({"worn": 0.02, "dead": 0.01})", R"({"worn": 0.02})"), Severity::note, "pump",
                "\"dead\" has probability zero");
  expect_remark(
      changed(
          R"("states": ["no", "yes"], "any": ["coil"])",
          R"("states": ["no", "yes", "never"], "noisy_max": {"causes": [{"of": "coil", "effect": {"faulty": {"yes": 1}}}]})"),
      Severity::note, "no_spark", "\"never\" has probability zero");
  const std::vector<Remark> remarks =
      lint(read_model_json(changed(R"({"worn": 0.5, "dead": 0.95}, "false_alarm": 0.02)", R"(1, "false_alarm": 1)")));
  EXPECT_NE(listed(remarks).find("pressure: the state \"good\" has probability zero"), std::string::npos)
      << listed(remarks);
}

TEST(Lint, ContextsThatMakeNoDifference) {
  std::string text = changed(R"("states": ["dry", "wet"], "prior": 0.3)",
                             R"("states": ["dry", "damp", "wet"], "prior": {"damp": 0.1, "wet": 0.2})");
  const std::string wet = R"({"weather": "wet"})";
  text.replace(text.find(wet), wet.size(), R"({"weather": ["damp", "wet"]})");
  expect_remark(text, Severity::note, "weather", "no table makes a difference between \"damp\" and \"wet\"");
  expect_remark(changed(R"({"name": "weather", )",
                        R"({"name": "owner", "states": ["one", "many"], "prior": 0.5}, {"name": "weather", )"),
                Severity::warning, "owner", "no table depends on this context");
}

TEST(Lint, TestsThatTellNothing) {
  expect_remark(changed(R"("detects": {"worn": 0.5, "dead": 0.95}, "false_alarm": 0.02)",
                        R"("detects": 0.02, "false_alarm": 0.02)"),
                Severity::warning, "pressure", "tells nothing");
  expect_remark(
      changed(R"("examines": {"component": "pump", "detects": {"worn": 0.5, "dead": 0.95}, "false_alarm": 0.02})",
              R"("prior": 0.1)"),
      Severity::warning, "pressure", "tells nothing");
}

TEST(Lint, CostsSourcesAndCautions) {
  expect_remark(changed(R"("minutes": 5, "money": 0, )", ""), Severity::warning, "pressure",
                "neither minutes nor money");
  expect_remark(changed(R"("minutes": 5, )", ""), Severity::warning, "pressure", "no minutes");
  expect_remark(changed(R"("money": 0, )", ""), Severity::note, "pressure", "no money");
  expect_remark(changed(R"("source": "s", "minutes")", R"("minutes")"), Severity::note, "pressure",
                "where its numbers come from");
  expect_remark(changed(R"("minutes": 30, "money": 50)", R"("minutes": 30, "access": ["cover"])"), Severity::note,
                "renew", "no caution");
  expect_remark(changed(R"("minutes": 30, "money": 50)", R"("success": 1)"), Severity::warning, "renew",
                "neither minutes nor money");
  expect_remark(changed(R"("minutes": 30, "money": 50)", R"("minutes": 30, "success": 0)"), Severity::warning, "renew",
                "success is 0");
}

TEST(Lint, UnitsOfReadings) {
  const auto with_reading = [](const std::string& members) {
    return changed(R"("name": "pressure", )", R"("name": "pressure", "reading": {)" + members + "}, ");
  };
  EXPECT_TRUE(lint(read_model_json(with_reading(R"("unit": "kPa")"))).empty());
  EXPECT_TRUE(lint(read_model_json(with_reading(R"("unit": "K", "difference": true)"))).empty());
  expect_remark(with_reading(R"("unit": "l/100km")"), Severity::note, "pressure", "\"l/100km\"");
  expect_remark(with_reading(R"("unit": "K")"), Severity::warning, "pressure", "absolute zero");
}

TEST(Lint, TermsNobodyUses) {
  expect_remark(changed(R"([{"name": "meter"}])", R"([{"name": "meter"}, {"name": "hammer"}])"), Severity::note,
                "hammer", "uses this tool");
  expect_remark(changed(R"([{"name": "hot"}])", R"([{"name": "hot"}, {"name": "cold"}])"), Severity::note, "cold",
                "uses this caution");
  expect_remark(changed(R"([{"name": "cover"}])", R"([{"name": "cover"}, {"name": "lift"}])"), Severity::note, "lift",
                "uses this access");
  expect_remark(changed(R"([{"name": "mechanic"}])", R"([{"name": "rider"}, {"name": "mechanic"}])"), Severity::note,
                "rider", "uses this skill");
}

TEST(Lint, ComponentsNothingCanReach) {
  expect_remark(changed(R"({"name": "other", )", R"({"name": "lamp", "prior": 0.1}, {"name": "other", )"),
                Severity::warning, "lamp", "no symptom and no test can be reached");
  expect_remark(
      changed(R"({"name": "other", )", R"({"name": "lamp", "states": ["sound"], "prior": [1]}, {"name": "other", )"),
      Severity::warning, "lamp", "no fault state");
}

TEST(Lint, FaultsThatLookSound) {
  const std::vector<Remark> remarks =
      lint(read_model_json(changed(R"("strength": {"worn": 0.3, "dead": 0.9})", R"("strength": {"dead": 0.9})")));
  EXPECT_TRUE(remarks.empty()) << "the test still shows a worn pump\n" << listed(remarks);
  std::string text = changed(R"("strength": {"worn": 0.3, "dead": 0.9})", R"("strength": {"dead": 0.9})");
  const std::string from = R"("worn": 0.5)";
  text.replace(text.find(from), from.size(), R"("worn": 0.02)");
  expect_remark(text, Severity::warning, "pump", "pump=worn looks like a sound pump");
}

TEST(Lint, AmbiguityGroupsOfOneComponentAndOfTwo) {
  std::string text = changed(R"("strength": {"worn": 0.3, "dead": 0.9})", R"("strength": 0.9)");
  const std::string from = R"("detects": {"worn": 0.5, "dead": 0.95})";
  text.replace(text.find(from), from.size(), R"("detects": 0.95)");
  expect_remark(text, Severity::note, "pump", "pump=worn, pump=dead");

  // A wire that kills the spark as the coil does: both act through "no_spark" only.
  const std::string wire = changed(R"({"name": "other", )", R"({"name": "wire", "prior": 0.02}, {"name": "other", )");
  std::string both = wire;
  const std::string any = R"("any": ["coil"])";
  both.replace(both.find(any), any.size(), R"("any": ["coil", "wire"])");
  expect_remark(both, Severity::warning, "coil", "coil=faulty, wire=faulty");
}

/// The distribution of all symptoms and tests together, given one fault and all other components sound and the contexts
/// and hidden variables summed out: the definition, by enumeration.
std::vector<double> observations_given(const FaultModel& model, FaultState fault) {
  std::vector<double> result;
  std::vector<std::size_t> sizes, observed;
  for (std::size_t v = 0; v < model.size(); ++v) {
    sizes.push_back(model.state_count(v));
    if (model.variable(v).role() == Role::symptom || model.variable(v).role() == Role::test) observed.push_back(v);
  }
  std::size_t cells = 1;
  for (const std::size_t v : observed) cells *= sizes[v];
  result.assign(cells, 0.0);
  std::size_t joint = 1;
  for (const std::size_t size : sizes) joint *= size;
  support::States states(model.size(), 0);
  for (std::size_t n = 0; n < joint; ++n) {
    std::size_t rest = n;
    for (std::size_t v = model.size(); v-- > 0;) {
      states[v] = rest % sizes[v];
      rest /= sizes[v];
    }
    double probability = 1.0;
    for (std::size_t v = 0; v < model.size() && probability > 0.0; ++v) {
      if (model.variable(v).role() == Role::component) {
        probability *= states[v] == (v == fault.component ? fault.state : StateIndex{}) ? 1.0 : 0.0;
      } else {
        probability *=
            std::visit(support::ConditionalProbability{model, states, states[v]}, model.variable(v).distribution);
      }
    }
    std::size_t cell = 0;
    for (const std::size_t v : observed) cell = cell * sizes[v] + states[v];
    result[cell] += probability;
  }
  return result;
}

TEST(Lint, AmbiguityGroupsAreTrueOnes) {
  // Rows from a small stock, so that equal ones are frequent.
  support::Dice dice(31);
  support::RandomModelOptions options;
  options.max_variables = 7;
  options.max_joint_states = 500;
  std::size_t groups = 0;
  std::size_t undetectable = 0;
  for (std::size_t round = 0; round < support::rounds(400); ++round) {
    ModelParts parts = support::RandomModel(dice, options).take();
    for (Variable& variable : parts.variables) {
      if (auto* table = std::get_if<FullTable>(&variable.distribution)) {
        for (std::size_t r = 0; r < table->rows.rows(); ++r) {
          std::ranges::fill(table->rows.row(r), 0.0);
          table->rows(r, dice.below(2) % table->rows.columns()) = 1.0;
        }
      }
    }
    const FaultModel model(parts);
    const AmbiguityGroups found = ambiguity_groups(model);
    const auto same = [](const std::vector<double>& a, const std::vector<double>& b) {
      return std::ranges::equal(a, b, [](double x, double y) { return std::abs(x - y) < 1e-12; });
    };
    for (const auto& group : found.alike) {
      ++groups;
      const auto look = observations_given(model, group[0]);
      for (const FaultState fault : group) EXPECT_TRUE(same(look, observations_given(model, fault)));
    }
    for (const FaultState fault : found.undetectable) {
      ++undetectable;
      EXPECT_TRUE(same(observations_given(model, {fault.component, 0}), observations_given(model, fault)));
    }
  }
  EXPECT_GT(groups, 20U);
  EXPECT_GT(undetectable, 20U);
}

}  // namespace
