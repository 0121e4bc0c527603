"""Results as plain records.

One rule serves all results: a result is a sequence of frozen records, one record is one row, `to_frame()` gives the
same rows as a pandas data frame (pandas is only needed, and only imported, there), and notebooks show it as a table or
as bars. Variables and states appear by their names; labels, for people, stand beside them.
"""

from faultodds.records.decisions import (
    Explanation,
    Explanations,
    Fault,
    FaultProbability,
    GainKind,
    LeadingFaults,
    LeftOut,
    LookAhead,
    OutcomeForecast,
    RankBy,
    Ranking,
    SecondTest,
    TestForecast,
    TwoTests,
)
from faultodds.records.model import (
    Band,
    CostEstimate,
    Header,
    Reading,
    Remark,
    Role,
    ScaledRow,
    Severity,
    SolverOptions,
    State,
    TableRow,
    Term,
    Variable,
    Work,
)
from faultodds.records.posteriors import (
    Finding,
    JointPosterior,
    JointProbability,
    Posteriors,
    StateProbability,
)
from faultodds.records.sequence import (
    Records,
)

__all__ = [
    "Band",
    "CostEstimate",
    "Explanation",
    "Explanations",
    "Fault",
    "FaultProbability",
    "Finding",
    "GainKind",
    "Header",
    "JointPosterior",
    "JointProbability",
    "LeadingFaults",
    "LeftOut",
    "LookAhead",
    "OutcomeForecast",
    "Posteriors",
    "RankBy",
    "Ranking",
    "Reading",
    "Records",
    "Remark",
    "Role",
    "ScaledRow",
    "SecondTest",
    "Severity",
    "SolverOptions",
    "State",
    "StateProbability",
    "TableRow",
    "Term",
    "TestForecast",
    "TwoTests",
    "Variable",
    "Work",
]
