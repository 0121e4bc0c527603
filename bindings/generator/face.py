# SPDX-License-Identifier: BSD-3-Clause
"""The face of the package beside what is generated."""

DOC = """Fault probabilities and the next test for its cost.

A fault model (components and their faults, symptoms, tests with outcomes, priors, costs) and the findings so far give
how probable each fault is, and which test tells most for its cost:

    import faultodds

    model = faultodds.read_model("models/tutorial.json")
    case = faultodds.Case(faultodds.Solver(model))
    case.add_finding("dark", "present")
    case.posterior("battery")                 # {state: probability}
    faultodds.rank_tests(case).tests[0]       # the best next test for its cost

The names are those of the C++ headers. Variables and states are given by their names, as text. Numbers of a model are
only as good as their source, and advice defers to the maker's service information, local codes and licensed practice.
"""

CLASSES = ("Case", "FaultModel", "Job", "Solver")
"""Classes of the compiled part, bound by hand."""

ELSEWHERE = {
    "batch": ["CaseAnswers", "answer_cases"],
    "builder": ["ModelBuilder"],
    "errors": [
        "ArgumentError",
        "Error",
        "ImpossibleFindings",
        "ModelError",
        "Problem",
        "Stopped",
        "TooLarge",
        "UnknownName",
    ],
    "flow_chart": ["write_flow_chart"],
    "network_picture": ["network_svg"],
}
"""Modules of the package that are written by hand, with what they give to its face."""
