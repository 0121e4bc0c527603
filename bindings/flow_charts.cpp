// PolicyTrees as flow charts.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/report/flow_chart.hpp"
#include "planning.hpp"

namespace faultodds::python {

namespace {

py::object step_texts_record(const FlowStepTexts& texts) {
  return record_type("FlowStepTexts")(texts.label, py::tuple(py::cast(texts.cautions)), texts.procedure, texts.check,
                                      as_tuple(texts.outcomes));
}

py::tuple step_texts_records(const std::vector<FlowStepTexts>& all) {
  py::tuple made(all.size());
  for (std::size_t i = 0; i < all.size(); ++i) made[i] = step_texts_record(all[i]);
  return made;
}

FlowStepTexts step_texts_from(py::handle record) {
  FlowStepTexts texts{.label = name_of(record.attr("label"), "label"),
                      .cautions = {},
                      .procedure = name_of(record.attr("procedure"), "procedure"),
                      .check = name_of(record.attr("check"), "check"),
                      .outcomes = names_of(record.attr("outcomes"), "outcomes")};
  for (const py::handle caution : record.attr("cautions")) texts.cautions.push_back(count_of(caution, "cautions"));
  return texts;
}

std::vector<FlowStepTexts> all_step_texts_from(py::handle records) {
  std::vector<FlowStepTexts> all;
  for (const py::handle record : records) all.push_back(step_texts_from(record));
  return all;
}

struct Chart {
  PolicyTree policy_tree;
  FlowChartTexts texts;
};

Chart chart_of(py::handle policy_tree) {
  if (!py::isinstance(policy_tree, record_type("PolicyTree"))) throw py::type_error("policy tree: give a PolicyTree");
  const TroubleshootingProblem problem = problem_from(policy_tree.attr("problem")).problem;
  const py::object texts = policy_tree.attr("texts");
  return {policy_tree_from(problem, policy_tree), texts.is_none() ? flow_chart_texts(problem) : texts_from(texts)};
}

template <class Write>
auto written(py::handle policy_tree, const Write& write) {
  const Chart chart = chart_of(policy_tree);
  const py::gil_scoped_release unlocked;
  return write(chart.policy_tree, chart.texts);
}

}  // namespace

FlowChartTexts texts_from(py::handle record) {
  FlowChartTexts texts;
  texts.title = name_of(record.attr("title"), "title");
  texts.safety = name_of(record.attr("safety"), "safety");
  texts.currency = name_of(record.attr("currency"), "currency");
  texts.invented = record.attr("invented").cast<bool>();
  for (const py::handle caution : record.attr("cautions")) {
    texts.cautions.push_back({name_of(caution.attr("label"), "label"), name_of(caution.attr("text"), "text")});
  }
  texts.tests = all_step_texts_from(record.attr("tests"));
  texts.repairs = all_step_texts_from(record.attr("repairs"));
  texts.set_ups = all_step_texts_from(record.attr("set_ups"));
  texts.hypotheses = names_of(record.attr("hypotheses"), "hypotheses");
  texts.hand_over = step_texts_from(record.attr("hand_over"));
  texts.live_with = step_texts_from(record.attr("live_with"));
  texts.notes = names_of(record.attr("notes"), "notes");
  return texts;
}

py::object texts_record(const FlowChartTexts& texts) {
  const py::object caution_kind = record_type("FlowCaution");
  py::list cautions;
  for (const FlowCaution& caution : texts.cautions) cautions.append(caution_kind(caution.label, caution.text));
  return record_type("FlowChartTexts")(
      texts.title, texts.safety, texts.currency, texts.invented, py::tuple(cautions), step_texts_records(texts.tests),
      step_texts_records(texts.repairs), step_texts_records(texts.set_ups), as_tuple(texts.hypotheses),
      step_texts_record(texts.hand_over), step_texts_record(texts.live_with), as_tuple(texts.notes));
}

void bind_flow_charts(py::module_& module) {
  module.def(
      "write_flow_chart_svg",
      [](py::handle policy_tree) { return as_tuple(written(policy_tree, &write_flow_chart_svg)); },
      py::arg("policy_tree"),
      R"(A4 pages in black and white, one SVG document each. Cautions stand before what is done.

Raises ArgumentError if the texts do not fit the policy_tree, or a step fits no page.)");
  module.def(
      "write_flow_chart_html", [](py::handle policy_tree) { return written(policy_tree, &write_flow_chart_html); },
      py::arg("policy_tree"), "The same pages in one HTML document without outside resources. Raises ArgumentError.");
  module.def(
      "write_flow_chart_dot", [](py::handle policy_tree) { return written(policy_tree, &write_flow_chart_dot); },
      py::arg("policy_tree"), "The chart in the DOT language. Raises ArgumentError.");
  module.def(
      "write_flow_chart_markdown",
      [](py::handle policy_tree) { return written(policy_tree, &write_flow_chart_markdown); }, py::arg("policy_tree"),
      "The chart as a nested numbered list in Markdown. Raises ArgumentError.");
  module.def(
      "write_flow_chart_json", [](py::handle policy_tree) { return written(policy_tree, &write_flow_chart_json); },
      py::arg("policy_tree"), "The chart as JSON for programs: nodes by position, with texts and numbers.");
}

}  // namespace faultodds::python
