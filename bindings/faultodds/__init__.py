"""Fault probabilities and the next test for its cost.

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

from faultodds._core import (
    Case,
    FaultModel,
    Solver,
    __version__,
    build_info,
    estimate_cost,
    explain,
    faults_in_question,
    leading_faults,
    lint,
    look_ahead,
    most_probable_explanations,
    rank_tests,
    read_model,
    time_limit,
    write_model,
)
from faultodds.batch import CaseAnswers, answer_cases
from faultodds.builder import ModelBuilder
from faultodds.errors import (
    ArgumentError,
    Error,
    ImpossibleFindings,
    ModelError,
    Problem,
    Stopped,
    TooLarge,
    UnknownName,
)
from faultodds.network_picture import network_svg
from faultodds.records import (
    Band,
    CostEstimate,
    Explanation,
    Explanations,
    Fault,
    FaultProbability,
    Finding,
    Header,
    JointPosterior,
    JointProbability,
    LeadingFaults,
    LeftOut,
    LookAhead,
    OutcomeForecast,
    Posteriors,
    Ranking,
    Reading,
    Records,
    Remark,
    ScaledRow,
    SecondTest,
    SolverOptions,
    State,
    StateProbability,
    TableRow,
    Term,
    TestForecast,
    TwoTests,
    Variable,
    Work,
)

__all__ = [
    "ArgumentError",
    "Band",
    "Case",
    "CaseAnswers",
    "CostEstimate",
    "Error",
    "Explanation",
    "Explanations",
    "Fault",
    "FaultModel",
    "FaultProbability",
    "Finding",
    "Header",
    "ImpossibleFindings",
    "JointPosterior",
    "JointProbability",
    "LeadingFaults",
    "LeftOut",
    "LookAhead",
    "ModelBuilder",
    "ModelError",
    "OutcomeForecast",
    "Posteriors",
    "Problem",
    "Ranking",
    "Reading",
    "Records",
    "Remark",
    "ScaledRow",
    "SecondTest",
    "Solver",
    "SolverOptions",
    "State",
    "StateProbability",
    "Stopped",
    "TableRow",
    "Term",
    "TestForecast",
    "TooLarge",
    "TwoTests",
    "UnknownName",
    "Variable",
    "Work",
    "__version__",
    "answer_cases",
    "build_info",
    "estimate_cost",
    "explain",
    "faults_in_question",
    "leading_faults",
    "lint",
    "look_ahead",
    "most_probable_explanations",
    "network_svg",
    "rank_tests",
    "read_model",
    "time_limit",
    "write_model",
]
