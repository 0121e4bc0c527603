// PolicyTrees as flow charts.
// SPDX-License-Identifier: BSD-3-Clause
#include "faultodds/report/flow_chart.hpp"
#include "planning.hpp"

namespace faultodds::python {

namespace {

struct Chart {
  PolicyTree policy_tree;
  FlowChartTexts texts;
};

Chart chart_of(py::handle policy_tree) {
  require_kind(policy_tree, "PolicyTree", "policy_tree");
  const TroubleshootingProblem problem = problem_from(policy_tree.attr("problem")).problem;
  const py::object texts = policy_tree.attr("texts");
  return {policy_tree_from(problem, policy_tree),
          texts.is_none() ? flow_chart_texts(problem) : taken<FlowChartTexts>(Names(), texts, "texts")};
}

template <class Write>
auto written(py::handle policy_tree, const Write& write) {
  const Chart chart = chart_of(policy_tree);
  const py::gil_scoped_release unlocked;
  return write(chart.policy_tree, chart.texts);
}

}  // namespace

void bind_flow_charts(py::module_& module) {
  module.def("_write_flow_chart_svg",
             [](py::handle policy_tree) { return as_tuple(written(policy_tree, &write_flow_chart_svg)); });
  module.def("_write_flow_chart_html",
             [](py::handle policy_tree) { return written(policy_tree, &write_flow_chart_html); });
  module.def("_write_flow_chart_dot",
             [](py::handle policy_tree) { return written(policy_tree, &write_flow_chart_dot); });
  module.def("_write_flow_chart_markdown",
             [](py::handle policy_tree) { return written(policy_tree, &write_flow_chart_markdown); });
  module.def("_write_flow_chart_json",
             [](py::handle policy_tree) { return written(policy_tree, &write_flow_chart_json); });
}

}  // namespace faultodds::python
