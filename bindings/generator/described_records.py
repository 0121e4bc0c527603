# SPDX-License-Identifier: BSD-3-Clause
"""Records and options: what their declarations in C++ do not say, and which of them Python does without.

A record that is not named here is made with the rules of types alone: numbers, text, enumerations, other records,
optional ones, indices of the model, and lists of them. Another whole number needs a rule, for it may be a count or the
place of something; so does the index of a state, for it is that of some variable.
"""

from __future__ import annotations

from generator.rules import (
    Count,
    Described,
    Extra,
    Hidden,
    Inline,
    Marked,
    Named,
    Options,
    Own,
    Rule,
    State,
    Table,
    Variable,
)

FAULT: dict[str, Rule] = {"component": Variable("label"), "state": State("component", "state_label")}
SET_UPS = Named("set_up")

PROCEDURE = Extra("procedure", "str", "how the test is done, in one line", "procedure_of(in, one.{test})")
CAUTIONS = Extra(
    "cautions",
    "tuple[Term, ...]",
    "of the test, the opening work and the conditions: show them before the step",
    "cautions_of(in, one.{test}, one.opens, one.brings)",
)


def about_test(test: str) -> tuple[Extra, ...]:
    """What is shown before a test that the member `test` names."""
    return tuple(Extra(one.name, one.type, one.doc, one.give.replace("{test}", test)) for one in (PROCEDURE, CAUTIONS))


CURRENCY = Extra("currency", "str", "of all costs", "in.model().header().currency")
SAFETY = Extra("safety", "str", "shown before any advice", "in.model().header().safety")

TEST_COLUMNS = {"procedure": "", "cautions": "label"}

RECORDS: dict[str, Described] = {
    # model
    "Variable": Described(
        fields={
            "distribution": Hidden("a table may be large: FaultModel.written_out gives it"),
        },
        extra=(Extra("parents", "tuple[str, ...]", "variables it depends on", "parents_of(in)", after="states"),),
        base="OfOneRole",
    ),
    "Band": Described({"outcome": State()}),
    "Spread": Described({"outcome": State()}),
    "Easing": Described({"from": State(), "to": State()}),
    "Repair": Described({"mends": State("component")}, about="component"),
    "ScaledRow": Described({"row": Count()}),
    "FaultState": Described({"component": Variable("label"), "state": State("component", "state_label")}),
    "Unit": Described(base="UnitFactor"),
    "Progress": Described(
        {
            "done": Count(),
            "total": Own("int | None", "one.total == 0 ? std::nullopt : std::optional(one.total)"),
            "lower_bound": Own("float | None", "nothing_for_nan(one.lower_bound)"),
            "upper_bound": Own("float | None", "nothing_for_nan(one.upper_bound)"),
        }
    ),
    # inference
    "CostEstimate": Described({"cliques": Count(), "width": Count()}),
    "Measured": Described(takes=True, required=("value",)),
    "Fault": Described(FAULT),
    "ConditionedPosteriors": Described(
        {
            "cases": Count(),
            "of_variable": Hidden("`posteriors` holds these numbers with their names"),
        },
        extra=(Extra("posteriors", "Posteriors", "P(state | findings) of all variables"),),
        quiet=("posteriors",),
    ),
    # ranking
    "FaultProbability": Described(
        FAULT, takes=True, required=("component", "label", "state", "state_label", "probability")
    ),
    "OutcomeForecast": Described({"state": State("", "label"), "leading": Table("LeadingFaults")}, quiet=("leading",)),
    "TestForecast": Described(
        {"test": Variable("label"), "outcomes": Table()},
        about="test",
        extra=about_test("test"),
        quiet=("procedure", "cautions", "outcomes"),
        columns={"outcomes": "state: probability", **TEST_COLUMNS},
    ),
    "LeftOut": Described(
        {"test": Variable("label"), "gain_bits": Own("float | None", "nothing_for_nan(one.gain_bits)")}
    ),
    "Ranking": Described(
        {
            "leading": Table("LeadingFaults"),
            "tests": Table(),
            "left_out": Table(),
        },
        extra=(CURRENCY, SAFETY),
        base="RankedTests",
    ),
    "SecondTest": Described(
        {"state": State("", "state_label"), "test": Variable("label")},
        extra=about_test("test"),
        quiet=("procedure", "cautions"),
    ),
    "TwoTests": Described(
        {"first": Variable("label"), "second": Table()},
        about="first",
        extra=about_test("first"),
        quiet=("procedure", "cautions", "second"),
        columns={"second": "state: test", **TEST_COLUMNS},
    ),
    "LookAhead": Described({"tests": Table()}, extra=(CURRENCY, SAFETY), base="RankedTests"),
    "BatchedTest": Described(
        {"test": Variable("label")},
        extra=(
            Extra("procedure", "str", PROCEDURE.doc, "procedure_of(in, one.test)"),
            Extra("cautions", "tuple[Term, ...]", CAUTIONS.doc, "cautions_of(in, one.test, in.opens(), in.brings())"),
        ),
        quiet=("procedure", "cautions"),
        columns=TEST_COLUMNS,
    ),
    "TestBatch": Described(
        {
            "chosen": Own("Records[BatchedTest]", "table_of(in.opening(one.opens, one.brings), one.chosen)"),
            "left_out": Table(),
        },
        extra=(CURRENCY, SAFETY),
        quiet=("left_out",),
    ),
    # evidence
    "Claim": Described({"states": State("variable")}),
    "FindingWeight": Described({"variable": Variable("label")}),
    "Evidence": Described(
        {"claim": Inline(), "findings": Table()},
        extra=(Extra("text", "str", "the same in words"),),
        base="FindingsInFrame",
    ),
    "RareCause": Described(
        {"component": Hidden("in `fault`, with labels"), "state": Hidden("in `fault`, with labels")},
        extra=(Extra("fault", "Fault", "the fault", "to_python(in, Fault{one.component, one.state})", after="-"),),
    ),
    "Conflict": Described(
        {"with_rest_bits": Hidden("`findings` holds them beside what they are about")},
        extra=(
            Extra("findings", "Records[ConflictOfFinding]", "each with all the others", after="bits"),
            Extra("text", "str", "the same in words"),
        ),
        base="FindingsInFrame",
    ),
    "TestContrast": Described({"faults": Table(), "pairs": Table()}),
    "FaultPair": Described({"first": Count(), "second": Count()}),
    # work
    "Means": Described({"stated_after": Count()}, takes=True, any_list=True),
    "EndCosts": Described(takes=True),
    # planning
    "SetUp": Described({"needs": SET_UPS}, takes=True, required=("name",)),
    "TestAction": Described(
        {
            "set_ups": SET_UPS,
            "table": Own("tuple[tuple[float, ...], ...]", "outcome_rows(one)", "read_outcome_rows(record, into)"),
        },
        takes=True,
        required=("name", "cost", "outcomes", "table"),
    ),
    "Verification": Described(takes=True),
    "RepairAction": Described(
        {
            "set_ups": SET_UPS,
            "becomes": Own(
                "Mapping[str, str]", "what_becomes(in, one)", "read_what_becomes(in, record, into)", "", "{}"
            ),
        },
        takes=True,
        required=("name", "cost", "success"),
    ),
    "TroubleshootingProblem": Described(takes=True, required=("hypotheses", "weights")),
    "Step": Described(
        {"index": Own("str", "step_name(in.problem(), one)", "read_step_index(in, record, into)", "name", '""')},
        takes=True,
        required=("kind",),
    ),
    "Situation": Described(
        {"tests_done": Marked("test"), "repairs_done": Marked("repair"), "in_place": Marked("set_up")},
        takes=True,
        required=("belief",),
    ),
    "StepResult": Described(
        extra=(
            Extra(
                "outcome", "str", 'of the test; of a repair "cured", which ends the case, or "still_there"', after="-"
            ),
        ),
    ),
    "PricedStep": Described(
        {"step": Inline()},
        extra=(Extra("label", "str", "for people", "in.label(one.step)", after="step"),),
    ),
    "Weighing": Described(
        {
            "steps": Table("PricedSteps"),
            "proposed": Own("PricedStep", "to_python(in, one.steps.at(one.proposed))"),
        }
    ),
    "RepairOrder": Described({"repairs": Named("repair"), "steps": Count()}),
    "PolicyBranch": Described(
        {
            "outcome": Own("str", "in.outcome(one.outcome)", "read_outcome(in, record, into)"),
            "node": Count(),
        },
        takes=True,
        required=("outcome", "probability", "node"),
    ),
    "LeadingHypothesis": Described(
        {"hypothesis": Named("hypothesis")}, takes=True, required=("hypothesis", "probability")
    ),
    "PolicyNode": Described(
        {
            "step": Inline(),
            "set_ups": SET_UPS,
            "branches": Own(
                "tuple[PolicyBranch, ...]",
                "to_python(in.at(one.step), one.branches)",
                'read(in.at(into.step), record.attr("branches"), "branches", into.branches)',
                "",
                "()",
            ),
        },
        extra=(Extra("label", "str", "for people", "in.label(one.step)", after="step"),),
        takes=True,
        required=("kind", "name", "label"),
        columns={"branches": "outcome: node", "leading": "hypothesis: probability"},
    ),
    "PolicyTree": Described(
        {"nodes": Table()},
        extra=(
            Extra("problem", "TroubleshootingProblem", "that it was made for"),
            Extra("texts", "FlowChartTexts | None", "of its flow chart; None: the names of the problem"),
        ),
        takes=True,
        required=("nodes", "problem"),
        quiet=("nodes", "problem", "texts"),
        base="WholeTree",
    ),
    "OptimalPolicyTree": Described(
        {"policy_tree": Own("PolicyTree", "policy_tree"), "steps": Count()},
        extra=(),
    ),
    "Hypothesis": Described(base="SeveralFaults"),
    "Hypotheses": Described({"list": Table()}, base="ListedHypotheses"),
    "CaseProblem": Described(
        {
            "tests": Hidden("the tests of the problem carry the names of their variables"),
            "repairs": Hidden("the repairs of the problem carry the names of the model's"),
        },
        extra=(Extra("texts", "FlowChartTexts", "of the flow chart of a policy tree for it"),),
        quiet=("texts",),
    ),
    # job
    "JobFact": Described(takes=True, required=("label", "value")),
    "JobLimits": Described(takes=True),
    "JobOptions": Described({"advice": Hidden("advise takes what leads; Job.advice goes by the usual")}, takes=True),
    "InPlace": Described(takes=True, any_list=True),
    "Entry": Described(
        extra=(
            Extra(
                "kind",
                "str",
                "finding, reading, revealed, declined, repair, part, in_place, hand_over or end",
                "to_python(in, kind_of(one))",
                after="-",
            ),
            Extra("label", "str", "of what it is about", "entry_label(in.model(), one)"),
            Extra("text", "str", "what it says, in words", "entry_in_words(in.model(), one)"),
        ),
    ),
    "ConfirmedFault": Described({"state": State("component")}, takes=True, required=("component", "state")),
    "Charge": Described(base="MoneyAndLabour"),
    "LedgerLine": Described({"entry": Count(), "money": Count(), "labour": Count()}, base="MoneyAndLabour"),
    "Ledger": Described({"lines": Table(), "money": Count(), "labour": Count()}, base="WholeLedger"),
    "ReportCaution": Described(takes=True),
    "ReportSums": Described({"step_costs": Count(), "money": Count(), "labour": Count(), "cost": Count()}),
    "ReportStep": Described(takes=True),
    "ReportFault": Described(takes=True),
    "ReportOpenTest": Described(takes=True),
    "ReportHandOver": Described(takes=True),
    "JobReport": Described(takes=True),
    "AskStep": Described(takes=True, required=("variables",)),
    "TestStep": Described(takes=True, required=("test",)),
    "RepairStep": Described(takes=True, required=("repair",)),
    "HandOverStep": Described(takes=True),
    "LiveWithStep": Described(takes=True),
    "NoStep": Described(),
    "AdvisedOutcome": Described({"state": Hidden("`name` is its name")}),
    "AdvisedStep": Described({"outcomes": Table()}, quiet=("procedure", "description")),
    "Advice": Described(
        {
            "alternatives": Table(),
            "cheaper": Count(),
            "questions": Table(),
            "leading": Table(),
            "known": Table(),
            "left_out": Table(),
        },
        quiet=("ranking",),
    ),
    "JobProgress": Described(takes=True, any_list=True),
    # report
    "FlowCaution": Described(takes=True, required=("label", "text")),
    "FlowStepTexts": Described({"cautions": Count()}, takes=True, required=("label",)),
    "FlowChartTexts": Described(
        takes=True,
        required=(
            "title",
            "safety",
            "currency",
            "invented",
            "cautions",
            "tests",
            "repairs",
            "set_ups",
            "hypotheses",
            "hand_over",
            "live_with",
        ),
    ),
}

OPTIONS: dict[str, Options] = {
    "RowScaling": Options(),
    "SolverOptions": Options(
        {
            "order_tries": Count(),
            "order_seed": Count(),
            "max_conditioned_cases": Count(),
        }
    ),
    "RankOptions": Options({"leading": Count()}),
    "LookAheadOptions": Options({"candidates": Count()}, without={"ranking.effects": "", "ranking.leading": ""}),
    "TestBatchOptions": Options(
        {"max_tests": Count(), "max_outcomes": Count()},
        without={"ranking.effects": "", "ranking.leading": "", "ranking.gain": "", "ranking.joint_only": ""},
    ),
    "ExplainOptions": Options({"max_propagations": Count()}),
    "ConditioningOptions": Options({"max_cases": Count()}),
    "SamplingOptions": Options({"samples": Count(), "seed": Count()}),
    "BatchOptions": Options({"threads": Count()}),
    "HypothesesOptions": Options({"most": Count()}),
    "CaseProblemOptions": Options(
        {"max_tests": Count()},
        renamed={"hypotheses.most": "max_hypotheses"},
    ),
    "AdviceRules": Options({"max_questions": Count()}),
    "AdviceOptions": Options(),
    "PolicyTreeOptions": Options({"max_nodes": Count(), "leading": Count()}),
    "FixedOrder": Options({"tests": Named("test")}, by_place=("tests",)),
    "SearchOptions": Options(
        {
            "max_steps": Count(),
            "max_situations": Count(),
        },
        without={"tree.min_probability": "the tree found is written down whole"},
    ),
    "RepairOrderOptions": Options({"max_in_sets": Count(), "max_steps": Count()}),
}

AS_RECORDS = {"SolverOptions"}
"""Options that Python has as a record, too."""

SEQUENCES = {
    "LeadingFaults": ("FaultProbability", "Fault probabilities, most probable first."),
    "PricedSteps": ("PricedStep", "Steps side by side, the one with the least expected cost first."),
}
"""Sequences with a name of their own, for what is shown of them."""
