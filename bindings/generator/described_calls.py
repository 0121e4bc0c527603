# SPDX-License-Identifier: BSD-3-Clause
"""Functions: what their declarations in C++ do not say, and what Python does without.

A function that is named here without more is bound by what follows from its declaration.
"""

from __future__ import annotations

from generator.rules import Called, Count, Named, Table

PROBLEM = "TroubleshootingProblem | CaseProblem"
SITUATION = ("Situation | None", "None")
STEP = ("Step", "")
NUMBER = "SupportsFloat | SupportsIndex"
FINDINGS = ("Iterable[Finding]", "()")

FUNCTIONS: dict[str, Called] = {
    # model and files
    "lint": Called(gives=Table()),
    "ambiguity_groups": Called(),
    "read_model": Called(
        by_hand=True,
        signature={"path": ("str | PathLike[str]", ""), "*": ("", ""), "normalise": ("bool", "False")},
        doc="""Reads a fault model or a plain network; the file's ending says which format.

        .json, .bif, .xml or .xmlbif, .uai, each also with .gz behind it. normalise: scale rows of any positive sum
        instead of refusing those that miss one. Raises ModelError listing every problem with its place, and OSError
        if the file cannot be opened; ArgumentError for other endings.""",
    ),
    "write_model": Called(
        by_hand=True,
        signature={"model": ("FaultModel", ""), "path": ("str | PathLike[str]", "")},
        doc="""Writes a model; the file's ending says the format (those of read_model, and .dot for a picture).

        Returns what the format cannot hold of it, a sentence each; nothing for .json. For .uai the names go into a
        file beside it. Raises ModelError if the file cannot be written or the format cannot hold the model at all;
        TooLarge; ArgumentError for other endings.""",
    ),
    "convert": Called(),
    "convert_difference": Called(),
    "units": Called(gives=Table()),
    "find_unit": Called(),
    "unit_of": Called(),
    "units_of": Called(),
    # inference
    "estimate_cost": Called(overload=1),
    "parse_reading": Called(),
    "parse_readings": Called(),
    "combine_readings": Called(),
    "finding_from_reading": Called(),
    "finding_from_readings": Called(
        by_hand=True,
        signature={
            "model": ("FaultModel", ""),
            "variable": ("str", ""),
            "readings": ("str | Iterable[Measured | str]", ""),
            "*": ("", ""),
            "errors": ("RepeatedErrors", '"as_in_model"'),
        },
        doc='+readings: Measured records or texts such as "43 psi", or one text "43 psi; 44 psi".',
    ),
    "explain": Called(
        by_hand=True,
        signature={
            "case": ("Case", ""),
            "variables": ("Iterable[str] | None", "None"),
            "count": ("SupportsIndex", "5"),
            "options": ("ExplainOptions", ""),
        },
    ),
    "most_probable_explanations": Called(
        by_hand=True, signature={"case": ("Case", ""), "count": ("SupportsIndex", "1")}
    ),
    "posteriors_by_conditioning": Called(
        by_hand=True,
        signature={"solver": ("Solver", ""), "findings": FINDINGS, "options": ("ConditioningOptions", "")},
    ),
    "sample_posteriors": Called(
        by_hand=True,
        signature={"model": ("FaultModel", ""), "findings": FINDINGS, "options": ("SamplingOptions", "")},
    ),
    # ranking
    "rank_tests": Called(),
    "look_ahead": Called(),
    "best_batch": Called(),
    "faults_in_question": Called(),
    "known_faults": Called(),
    "has_revealed": Called(),
    "is_ruled_out": Called(),
    "unmet_preconditions": Called(),
    "leading_faults": Called(
        by_hand=True,
        signature={
            "case": ("Case", ""),
            "components": ("Iterable[str] | None", "None"),
            "most": ("SupportsIndex | None", "None"),
        },
        returns="LeadingFaults",
        doc="+components: None: the faults in question. most: None: all.",
    ),
    # evidence
    "weigh_evidence": Called(
        by_hand=True,
        signature={
            "case": ("Case", ""),
            "variable": ("str", ""),
            "states": ("str | Iterable[str] | None", "None"),
        },
        doc="+The claim is that `variable` is in one of `states`: a name or several; None: all but the first, so of a "
        "component that it is not sound.",
    ),
    "conflict": Called(by_hand=True),
    "finding_in_words": Called(),
    "counted_twice": Called(),
    "decibans": Called(),
    "overlap": Called(),
    "contrast": Called(),
    # planning
    "hypotheses_of": Called(),
    "allows_one_fault": Called(),
    "problem_of": Called(by_hand=True),
    "start_of": Called(),
    "possible_steps": Called(signature={"problem": (PROBLEM, ""), "situation": SITUATION}, by_hand=True),
    "step_cost": Called(
        signature={"problem": (PROBLEM, ""), "situation": ("Situation | None", ""), "step": STEP}, by_hand=True
    ),
    "results_of": Called(
        signature={"problem": (PROBLEM, ""), "situation": ("Situation | None", ""), "step": STEP},
        by_hand=True,
        doc="+Outcomes that cannot come are left out.",
    ),
    "cheapest_end": Called(signature={"problem": (PROBLEM, ""), "situation": SITUATION}, by_hand=True),
    "price_steps": Called(
        signature={"problem": (PROBLEM, ""), "situation": SITUATION, "depth": ("SupportsIndex", "2")},
        by_hand=True,
        returns="PricedSteps",
    ),
    "weigh_steps": Called(
        signature={"problem": (PROBLEM, ""), "situation": SITUATION, "depth": ("SupportsIndex", "2")},
        by_hand=True,
    ),
    "perfect_information_cost": Called(),
    "cost_lower_bound": Called(),
    "p_over_c_is_best": Called(),
    "p_over_c_order": Called(
        overload=1, signature={"problem": (PROBLEM, ""), "situation": SITUATION}, by_hand=True, doc=""
    ),
    "best_repair_order": Called(),
    "priced_repair_order": Called(arguments={"repairs": Named("repair")}),
    "follow": Called(
        by_hand=True,
        signature={
            "problem": (PROBLEM, ""),
            "policy": ("Callable[[Situation], Step]", ""),
            "options": ("PolicyTreeOptions", ""),
        },
        doc="+What the policy raises ends the work.",
    ),
    "greedy_policy_tree": Called(by_hand=True, doc="=greedy_policy"),
    "look_ahead_policy_tree": Called(by_hand=True, doc="=look_ahead_policy"),
    "fixed_order_policy_tree": Called(by_hand=True, doc="=fixed_order_policy"),
    "optimal_policy_tree": Called(
        by_hand=True,
        signature={
            "problem": (PROBLEM, ""),
            "options": ("SearchOptions", ""),
            "seconds": (f"{NUMBER} | None", "None"),
            "keep_going": ("Callable[[Progress], bool] | None", "None"),
        },
        doc="+seconds: the search ends after so many, too. keep_going: called with a Progress after each step; "
        "the search ends when what it returns is not true.",
    ),
    "expected_cost": Called(by_hand=True),
    "folded": Called(by_hand=True),
    "after_repair": Called(
        by_hand=True,
        signature={"before": ("Case | Repaired", ""), "repair": ("str", "")},
        doc="+before: a Case, or the Repaired of an earlier repair with what was found since in its case.",
    ),
    # job
    "advise": Called(),
    "has_complaint": Called(),
    "open_facts": Called(),
    "open_complaints": Called(),
    "opening_questions": Called(),
    "in_cents": Called(gives=Count()),
    "states_in_words": Called(),
    "check_in_words": Called(),
    "confirmed_by_in_words": Called(),
    # report
    "sums_of": Called(),
    "write_report_markdown": Called(),
    "write_report_html": Called(),
    "write_report_json": Called(),
    "write_flow_chart_svg": Called(by_hand=True, signature={"policy_tree": ("PolicyTree", "")}),
    "write_flow_chart_html": Called(by_hand=True, signature={"policy_tree": ("PolicyTree", "")}),
    "write_flow_chart_dot": Called(by_hand=True, signature={"policy_tree": ("PolicyTree", "")}),
    "write_flow_chart_markdown": Called(by_hand=True, signature={"policy_tree": ("PolicyTree", "")}),
    "write_flow_chart_json": Called(by_hand=True, signature={"policy_tree": ("PolicyTree", "")}),
}
