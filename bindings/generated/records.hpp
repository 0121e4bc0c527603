// Written by bindings/generate.py from include/faultodds and bindings/generator: not to be changed by hand.
// SPDX-License-Identifier: BSD-3-Clause
// Records, enumerations and options, to Python and from it.
#pragma once

#include "faultodds/decision/evidence/counted_once.hpp"
#include "faultodds/decision/evidence/evidence.hpp"
#include "faultodds/decision/evidence/evidence_of_test.hpp"
#include "faultodds/decision/planning/case_problem.hpp"
#include "faultodds/decision/planning/hypotheses.hpp"
#include "faultodds/decision/planning/optimal_policy.hpp"
#include "faultodds/decision/planning/policies.hpp"
#include "faultodds/decision/planning/policy_tree.hpp"
#include "faultodds/decision/planning/repair_order.hpp"
#include "faultodds/decision/planning/troubleshooting.hpp"
#include "faultodds/decision/ranking/look_ahead.hpp"
#include "faultodds/decision/ranking/rank_tests.hpp"
#include "faultodds/decision/ranking/test_batch.hpp"
#include "faultodds/decision/work/cost.hpp"
#include "faultodds/decision/work/end_costs.hpp"
#include "faultodds/decision/work/means.hpp"
#include "faultodds/inference/batch.hpp"
#include "faultodds/inference/conditioning.hpp"
#include "faultodds/inference/explanations.hpp"
#include "faultodds/inference/junction_tree/tree_shape.hpp"
#include "faultodds/inference/reading.hpp"
#include "faultodds/inference/sampling.hpp"
#include "faultodds/inference/solver.hpp"
#include "faultodds/job/advice.hpp"
#include "faultodds/job/entry.hpp"
#include "faultodds/job/job.hpp"
#include "faultodds/job/job_step.hpp"
#include "faultodds/job/ledger.hpp"
#include "faultodds/job/report_data.hpp"
#include "faultodds/model/errors.hpp"
#include "faultodds/model/fault_model.hpp"
#include "faultodds/model/lint.hpp"
#include "faultodds/model/stop.hpp"
#include "faultodds/model/unit.hpp"
#include "faultodds/model/variable.hpp"
#include "faultodds/model/work.hpp"
#include "faultodds/report/flow_chart_texts.hpp"
#include "faultodds/report/job_report.hpp"
#include "names.hpp"

namespace faultodds::python {

[[nodiscard]] py::object to_python(const Names& in, ErrorCode value);
void read(const Names& in, py::handle value, const char* argument, ErrorCode& into);
[[nodiscard]] py::object to_python(const Names& in, Role value);
void read(const Names& in, py::handle value, const char* argument, Role& into);
[[nodiscard]] py::object to_python(const Names& in, GainKind value);
void read(const Names& in, py::handle value, const char* argument, GainKind& into);
[[nodiscard]] py::object to_python(const Names& in, RankBy value);
void read(const Names& in, py::handle value, const char* argument, RankBy& into);
[[nodiscard]] py::object to_python(const Names& in, FaultAssumption value);
void read(const Names& in, py::handle value, const char* argument, FaultAssumption& into);
[[nodiscard]] py::object to_python(const Names& in, StepKind value);
void read(const Names& in, py::handle value, const char* argument, StepKind& into);
[[nodiscard]] py::object to_python(const Names& in, BatchEnd value);
void read(const Names& in, py::handle value, const char* argument, BatchEnd& into);
[[nodiscard]] py::object to_python(const Names& in, RepeatedErrors value);
void read(const Names& in, py::handle value, const char* argument, RepeatedErrors& into);
[[nodiscard]] py::object to_python(const Names& in, NoStepReason value);
void read(const Names& in, py::handle value, const char* argument, NoStepReason& into);
[[nodiscard]] py::object to_python(const Names& in, CheckResult value);
void read(const Names& in, py::handle value, const char* argument, CheckResult& into);
[[nodiscard]] py::object to_python(const Names& in, JobEnd value);
void read(const Names& in, py::handle value, const char* argument, JobEnd& into);
[[nodiscard]] py::object to_python(const Names& in, ConfirmedBy value);
void read(const Names& in, py::handle value, const char* argument, ConfirmedBy& into);
[[nodiscard]] py::object to_python(const Names& in, ReportStepKind value);
void read(const Names& in, py::handle value, const char* argument, ReportStepKind& into);
[[nodiscard]] py::object to_python(const Names& in, Severity value);
void read(const Names& in, py::handle value, const char* argument, Severity& into);

[[nodiscard]] py::object to_python(const Names& in, const ContextCost& one);
[[nodiscard]] py::object to_python(const Names& in, const Work& one);
[[nodiscard]] py::object to_python(const Names& in, const Access& one);
[[nodiscard]] py::object to_python(const Names& in, const Condition& one);
[[nodiscard]] py::object to_python(const Names& in, const RepairElsewhere& one);
[[nodiscard]] py::object to_python(const Names& in, const HandOver& one);
[[nodiscard]] py::object to_python(const Names& in, const RepairCheck& one);
[[nodiscard]] py::object to_python(const Names& in, const Comeback& one);
[[nodiscard]] py::object to_python(const Names& in, const LiveWith& one);
[[nodiscard]] py::object to_python(const Names& in, const State& one);
[[nodiscard]] py::object to_python(const Names& in, const Band& one);
[[nodiscard]] py::object to_python(const Names& in, const GaugeError& one);
[[nodiscard]] py::object to_python(const Names& in, const NormalSpread& one);
[[nodiscard]] py::object to_python(const Names& in, const LognormalSpread& one);
[[nodiscard]] py::object to_python(const Names& in, const UniformSpread& one);
[[nodiscard]] py::object to_python(const Names& in, const Spread& one);
[[nodiscard]] py::object to_python(const Names& in, const Reading& one);
[[nodiscard]] py::object to_python(const Names& in, const Unclassified& one);
[[nodiscard]] py::object to_python(const Names& in, const Context& one);
[[nodiscard]] py::object to_python(const Names& in, const Component& one);
[[nodiscard]] py::object to_python(const Names& in, const Hidden& one);
[[nodiscard]] py::object to_python(const Names& in, const Symptom& one);
[[nodiscard]] py::object to_python(const Names& in, const Test& one);
[[nodiscard]] py::object to_python(const Names& in, const Variable& one);
[[nodiscard]] py::object to_python(const Names& in, const Term& one);
[[nodiscard]] py::object to_python(const Names& in, const Easing& one);
[[nodiscard]] py::object to_python(const Names& in, const Repair& one);
[[nodiscard]] py::object to_python(const Names& in, const Header& one);
[[nodiscard]] py::object to_python(const Names& in, const ScaledRow& one);
[[nodiscard]] py::object to_python(const Names& in, const CountedTwice& one);
[[nodiscard]] py::object to_python(const Names& in, const Progress& one);
[[nodiscard]] py::object to_python(const Names& in, const CostEstimate& one);
[[nodiscard]] py::object to_python(const Names& in, const SolverOptions& one);
[[nodiscard]] py::object to_python(const Names& in, const Claim& one);
[[nodiscard]] py::object to_python(const Names& in, const FindingWeight& one);
[[nodiscard]] py::object to_python(const Names& in, const Evidence& one, const py::object& text);
[[nodiscard]] py::object to_python(const Names& in, const RareCause& one);
[[nodiscard]] py::object to_python(const Names& in, const Conflict& one, const py::object& findings,
                                   const py::object& text);
[[nodiscard]] py::object to_python(const Names& in, const InPlace& one);
void read(const Names& in, py::handle record, const char* argument, InPlace& into);
[[nodiscard]] inline const char* record_name(const InPlace*) { return "InPlace"; }
[[nodiscard]] py::object to_python(const Names& in, const Means& one);
void read(const Names& in, py::handle record, const char* argument, Means& into);
[[nodiscard]] inline const char* record_name(const Means*) { return "Means"; }
[[nodiscard]] py::object to_python(const Names& in, const FaultProbability& one);
void read(const Names& in, py::handle record, const char* argument, FaultProbability& into);
[[nodiscard]] inline const char* record_name(const FaultProbability*) { return "FaultProbability"; }
[[nodiscard]] py::object to_python(const Names& in, const OutcomeForecast& one);
[[nodiscard]] py::object to_python(const Names& in, const TestForecast& one);
[[nodiscard]] py::object to_python(const Names& in, const LeftOut& one);
[[nodiscard]] py::object to_python(const Names& in, const Ranking& one);
[[nodiscard]] py::object to_python(const Names& in, const OutcomesUnder& one);
[[nodiscard]] py::object to_python(const Names& in, const FaultPair& one);
[[nodiscard]] py::object to_python(const Names& in, const TestContrast& one);
[[nodiscard]] py::object to_python(const Names& in, const Fault& one);
[[nodiscard]] py::object to_python(const Names& in, const Hypothesis& one);
[[nodiscard]] py::object to_python(const Names& in, const Hypotheses& one);
[[nodiscard]] py::object to_python(const Names& in, const EndCosts& one);
void read(const Names& in, py::handle record, const char* argument, EndCosts& into);
[[nodiscard]] inline const char* record_name(const EndCosts*) { return "EndCosts"; }
[[nodiscard]] py::object to_python(const Names& in, const SetUp& one);
void read(const Names& in, py::handle record, const char* argument, SetUp& into);
[[nodiscard]] inline const char* record_name(const SetUp*) { return "SetUp"; }
[[nodiscard]] py::object to_python(const Names& in, const TestAction& one);
void read(const Names& in, py::handle record, const char* argument, TestAction& into);
[[nodiscard]] inline const char* record_name(const TestAction*) { return "TestAction"; }
[[nodiscard]] py::object to_python(const Names& in, const Verification& one);
void read(const Names& in, py::handle record, const char* argument, Verification& into);
[[nodiscard]] inline const char* record_name(const Verification*) { return "Verification"; }
[[nodiscard]] py::object to_python(const Names& in, const RepairAction& one);
void read(const Names& in, py::handle record, const char* argument, RepairAction& into);
[[nodiscard]] inline const char* record_name(const RepairAction*) { return "RepairAction"; }
[[nodiscard]] py::object to_python(const Names& in, const TroubleshootingProblem& one);
void read(const Names& in, py::handle record, const char* argument, TroubleshootingProblem& into);
[[nodiscard]] inline const char* record_name(const TroubleshootingProblem*) { return "TroubleshootingProblem"; }
[[nodiscard]] py::object to_python(const Names& in, const Step& one);
void read(const Names& in, py::handle record, const char* argument, Step& into);
[[nodiscard]] inline const char* record_name(const Step*) { return "Step"; }
[[nodiscard]] py::object to_python(const Names& in, const Situation& one);
void read(const Names& in, py::handle record, const char* argument, Situation& into);
[[nodiscard]] inline const char* record_name(const Situation*) { return "Situation"; }
[[nodiscard]] py::object to_python(const Names& in, const StepResult& one, const py::object& outcome);
[[nodiscard]] py::object to_python(const Names& in, const CaseProblem& one, const py::object& texts);
[[nodiscard]] py::object to_python(const Names& in, const PolicyBranch& one);
void read(const Names& in, py::handle record, const char* argument, PolicyBranch& into);
[[nodiscard]] inline const char* record_name(const PolicyBranch*) { return "PolicyBranch"; }
[[nodiscard]] py::object to_python(const Names& in, const LeadingHypothesis& one);
void read(const Names& in, py::handle record, const char* argument, LeadingHypothesis& into);
[[nodiscard]] inline const char* record_name(const LeadingHypothesis*) { return "LeadingHypothesis"; }
[[nodiscard]] py::object to_python(const Names& in, const PolicyNode& one);
void read(const Names& in, py::handle record, const char* argument, PolicyNode& into);
[[nodiscard]] inline const char* record_name(const PolicyNode*) { return "PolicyNode"; }
[[nodiscard]] py::object to_python(const Names& in, const PolicyTree& one, const py::object& problem,
                                   const py::object& texts);
void read(const Names& in, py::handle record, const char* argument, PolicyTree& into);
[[nodiscard]] inline const char* record_name(const PolicyTree*) { return "PolicyTree"; }
[[nodiscard]] py::object to_python(const Names& in, const OptimalPolicyTree& one, const py::object& policy_tree);
[[nodiscard]] py::object to_python(const Names& in, const PricedStep& one);
[[nodiscard]] py::object to_python(const Names& in, const Weighing& one);
[[nodiscard]] py::object to_python(const Names& in, const RepairOrder& one);
[[nodiscard]] py::object to_python(const Names& in, const SecondTest& one);
[[nodiscard]] py::object to_python(const Names& in, const TwoTests& one);
[[nodiscard]] py::object to_python(const Names& in, const LookAhead& one);
[[nodiscard]] py::object to_python(const Names& in, const BatchedTest& one);
[[nodiscard]] py::object to_python(const Names& in, const TestBatch& one);
[[nodiscard]] py::object to_python(const Names& in, const ConditionedPosteriors& one, const py::object& posteriors);
[[nodiscard]] py::object to_python(const Names& in, const Measured& one);
void read(const Names& in, py::handle record, const char* argument, Measured& into);
[[nodiscard]] inline const char* record_name(const Measured*) { return "Measured"; }
[[nodiscard]] py::object to_python(const Names& in, const CombinedReading& one);
[[nodiscard]] py::object to_python(const Names& in, const Unit& one);
[[nodiscard]] py::object to_python(const Names& in, const Estimate& one);
[[nodiscard]] py::object to_python(const Names& in, const AskStep& one);
void read(const Names& in, py::handle record, const char* argument, AskStep& into);
[[nodiscard]] inline const char* record_name(const AskStep*) { return "AskStep"; }
[[nodiscard]] py::object to_python(const Names& in, const TestStep& one);
void read(const Names& in, py::handle record, const char* argument, TestStep& into);
[[nodiscard]] inline const char* record_name(const TestStep*) { return "TestStep"; }
[[nodiscard]] py::object to_python(const Names& in, const RepairStep& one);
void read(const Names& in, py::handle record, const char* argument, RepairStep& into);
[[nodiscard]] inline const char* record_name(const RepairStep*) { return "RepairStep"; }
[[nodiscard]] py::object to_python(const Names& in, const HandOverStep& one);
void read(const Names& in, py::handle record, const char* argument, HandOverStep& into);
[[nodiscard]] inline const char* record_name(const HandOverStep*) { return "HandOverStep"; }
[[nodiscard]] py::object to_python(const Names& in, const LiveWithStep& one);
void read(const Names& in, py::handle record, const char* argument, LiveWithStep& into);
[[nodiscard]] inline const char* record_name(const LiveWithStep*) { return "LiveWithStep"; }
[[nodiscard]] py::object to_python(const Names& in, const NoStep& one);
[[nodiscard]] py::object to_python(const Names& in, const AdvisedOutcome& one);
[[nodiscard]] py::object to_python(const Names& in, const StepPrice& one);
[[nodiscard]] py::object to_python(const Names& in, const AdvisedStep& one);
[[nodiscard]] py::object to_python(const Names& in, const JobProgress& one);
void read(const Names& in, py::handle record, const char* argument, JobProgress& into);
[[nodiscard]] inline const char* record_name(const JobProgress*) { return "JobProgress"; }
[[nodiscard]] py::object to_python(const Names& in, const AdvisedFault& one);
[[nodiscard]] py::object to_python(const Names& in, const AdvisedQuestion& one);
[[nodiscard]] py::object to_python(const Names& in, const AdvisedLeftOut& one);
[[nodiscard]] py::object to_python(const Names& in, const SpecialistBrief& one);
[[nodiscard]] py::object to_python(const Names& in, const Advice& one);
[[nodiscard]] py::object to_python(const Names& in, const Charge& one);
[[nodiscard]] py::object to_python(const Names& in, const FindingEntry& one);
[[nodiscard]] py::object to_python(const Names& in, const ReadingEntry& one);
[[nodiscard]] py::object to_python(const Names& in, const RevealedEntry& one);
[[nodiscard]] py::object to_python(const Names& in, const DeclinedEntry& one);
[[nodiscard]] py::object to_python(const Names& in, const CheckMade& one);
[[nodiscard]] py::object to_python(const Names& in, const RepairEntry& one);
[[nodiscard]] py::object to_python(const Names& in, const PartEntry& one);
[[nodiscard]] py::object to_python(const Names& in, const InPlaceEntry& one);
[[nodiscard]] py::object to_python(const Names& in, const HandOverEntry& one);
[[nodiscard]] py::object to_python(const Names& in, const ConfirmedFault& one);
void read(const Names& in, py::handle record, const char* argument, ConfirmedFault& into);
[[nodiscard]] inline const char* record_name(const ConfirmedFault*) { return "ConfirmedFault"; }
[[nodiscard]] py::object to_python(const Names& in, const EndEntry& one);
[[nodiscard]] py::object to_python(const Names& in, const Entry& one);
[[nodiscard]] py::object to_python(const Names& in, const LedgerLine& one);
[[nodiscard]] py::object to_python(const Names& in, const JobLimits& one);
void read(const Names& in, py::handle record, const char* argument, JobLimits& into);
[[nodiscard]] inline const char* record_name(const JobLimits*) { return "JobLimits"; }
[[nodiscard]] py::object to_python(const Names& in, const Ledger& one);
[[nodiscard]] py::object to_python(const Names& in, const JobFact& one);
void read(const Names& in, py::handle record, const char* argument, JobFact& into);
[[nodiscard]] inline const char* record_name(const JobFact*) { return "JobFact"; }
[[nodiscard]] py::object to_python(const Names& in, const JobOptions& one);
void read(const Names& in, py::handle record, const char* argument, JobOptions& into);
[[nodiscard]] inline const char* record_name(const JobOptions*) { return "JobOptions"; }
[[nodiscard]] py::object to_python(const Names& in, const ReportCaution& one);
void read(const Names& in, py::handle record, const char* argument, ReportCaution& into);
[[nodiscard]] inline const char* record_name(const ReportCaution*) { return "ReportCaution"; }
[[nodiscard]] py::object to_python(const Names& in, const ReportStep& one);
void read(const Names& in, py::handle record, const char* argument, ReportStep& into);
[[nodiscard]] inline const char* record_name(const ReportStep*) { return "ReportStep"; }
[[nodiscard]] py::object to_python(const Names& in, const ReportFault& one);
void read(const Names& in, py::handle record, const char* argument, ReportFault& into);
[[nodiscard]] inline const char* record_name(const ReportFault*) { return "ReportFault"; }
[[nodiscard]] py::object to_python(const Names& in, const ReportOpenTest& one);
void read(const Names& in, py::handle record, const char* argument, ReportOpenTest& into);
[[nodiscard]] inline const char* record_name(const ReportOpenTest*) { return "ReportOpenTest"; }
[[nodiscard]] py::object to_python(const Names& in, const ReportHandOver& one);
void read(const Names& in, py::handle record, const char* argument, ReportHandOver& into);
[[nodiscard]] inline const char* record_name(const ReportHandOver*) { return "ReportHandOver"; }
[[nodiscard]] py::object to_python(const Names& in, const JobReport& one);
void read(const Names& in, py::handle record, const char* argument, JobReport& into);
[[nodiscard]] inline const char* record_name(const JobReport*) { return "JobReport"; }
[[nodiscard]] py::object to_python(const Names& in, const ReportFaults& one);
[[nodiscard]] py::object to_python(const Names& in, const Remark& one);
[[nodiscard]] py::object to_python(const Names& in, const FaultState& one);
[[nodiscard]] py::object to_python(const Names& in, const AmbiguityGroups& one);
[[nodiscard]] py::object to_python(const Names& in, const FlowCaution& one);
void read(const Names& in, py::handle record, const char* argument, FlowCaution& into);
[[nodiscard]] inline const char* record_name(const FlowCaution*) { return "FlowCaution"; }
[[nodiscard]] py::object to_python(const Names& in, const FlowStepTexts& one);
void read(const Names& in, py::handle record, const char* argument, FlowStepTexts& into);
[[nodiscard]] inline const char* record_name(const FlowStepTexts*) { return "FlowStepTexts"; }
[[nodiscard]] py::object to_python(const Names& in, const FlowChartTexts& one);
void read(const Names& in, py::handle record, const char* argument, FlowChartTexts& into);
[[nodiscard]] inline const char* record_name(const FlowChartTexts*) { return "FlowChartTexts"; }
[[nodiscard]] py::object to_python(const Names& in, const ReportSums& one);

void read_options(const Names& in, const py::dict& given, RowScaling& into);
void read_options(const Names& in, const py::dict& given, SolverOptions& into);
void read_options(const Names& in, const py::dict& given, RankOptions& into);
void read_options(const Names& in, const py::dict& given, LookAheadOptions& into);
void read_options(const Names& in, const py::dict& given, TestBatchOptions& into);
void read_options(const Names& in, const py::dict& given, ExplainOptions& into);
void read_options(const Names& in, const py::dict& given, ConditioningOptions& into);
void read_options(const Names& in, const py::dict& given, SamplingOptions& into);
void read_options(const Names& in, const py::dict& given, BatchOptions& into);
void read_options(const Names& in, const py::dict& given, HypothesesOptions& into);
void read_options(const Names& in, const py::dict& given, CaseProblemOptions& into);
void read_options(const Names& in, const py::dict& given, AdviceRules& into);
void read_options(const Names& in, const py::dict& given, AdviceOptions& into);
void read_options(const Names& in, const py::dict& given, PolicyTreeOptions& into);
void read_options(const Names& in, const py::dict& given, FixedOrder& into);
void read_options(const Names& in, const py::dict& given, SearchOptions& into);
void read_options(const Names& in, const py::dict& given, RepairOrderOptions& into);

/// The defaults of options in C++, as {options: {name: value}}.
[[nodiscard]] py::dict option_defaults();

}  // namespace faultodds::python

#include "values.hpp"  // templates over all of these
