# SPDX-License-Identifier: BSD-3-Clause
"""The planning problem of a case, policy trees, repairs in order, and the case after a repair."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, ClassVar, Literal, TypeAlias

from faultodds.records.decisions import Fault
from faultodds.records.sequence import Records

if TYPE_CHECKING:
    import pandas as pd

    from faultodds._core import Case

StepKind: TypeAlias = Literal["test", "repair", "hand_over", "live_with", "done", "ask_again"]
FaultAssumption: TypeAlias = Literal["one_fault", "several_faults"]


@dataclass(frozen=True)
class SetUp:
    """An access job or a condition of the vehicle: paid when it is brought about, and then in place.

    needs: set-ups that must be in place before, by name. Set-ups of one `group` exclude each other.
    """

    name: str
    cost: float = 0.0
    needs: tuple[str, ...] = ()
    group: str = ""
    in_place: bool = False


@dataclass(frozen=True)
class TestAction:
    """A test of a planning problem. table: P(outcome | hypothesis), a row for each hypothesis.

    A further row for the vehicle that is cured already may follow; it must where the check after a repair can wrongly
    say that the complaint is still there. The cost is without set-ups.
    """

    __test__: ClassVar[bool] = False  # not a test case, whatever pytest makes of the name

    name: str
    cost: float
    outcomes: tuple[str, ...]
    table: tuple[tuple[float, ...], ...]
    set_ups: tuple[str, ...] = ()


@dataclass(frozen=True)
class Verification:
    """The check that follows a repair, with P(says cured | not cured) and P(says still there | cured)."""

    cost: float = 0.0
    false_cured: float = 0.0
    false_still_there: float = 0.0


@dataclass(frozen=True)
class RepairAction:
    """A repair of a planning problem, at a cost without set-ups and verification.

    success: P(the repair does its work | hypothesis), one for each hypothesis. becomes: the hypothesis that remains
    where the repair mends one fault of several, by name; those not named are cured.
    """

    name: str
    cost: float
    success: tuple[float, ...]
    becomes: Mapping[str, str] = field(default_factory=dict, hash=False)
    set_ups: tuple[str, ...] = ()
    verification: Verification = field(default_factory=Verification)


@dataclass(frozen=True)
class TroubleshootingProblem:
    """One vehicle with a complaint that exactly one hypothesis accounts for; all costs in one currency.

    weights: of the hypotheses, in any scale. hand_over: fee that ends the case in any state. repair_elsewhere: what the
    repair by those who take over costs on top of it, one for each hypothesis; empty: the fee is all. live_with: cost of
    leaving the complaint as it is. comeback: cost in the end of a vehicle that left as cured and was not. A name is
    unique among hypotheses, among set-ups, among tests and among repairs.
    """

    hypotheses: tuple[str, ...]
    weights: tuple[float, ...]
    tests: tuple[TestAction, ...] = ()
    repairs: tuple[RepairAction, ...] = ()
    set_ups: tuple[SetUp, ...] = ()
    hand_over: float | None = None
    live_with: float | None = None
    comeback: float | None = None
    repair_elsewhere: tuple[float, ...] = ()


@dataclass(frozen=True)
class FlowCaution:
    """A caution of a flow chart: its label for the step, the whole of it for the first page."""

    label: str
    text: str


@dataclass(frozen=True)
class FlowStepTexts:
    """What a flow chart says of a step.

    cautions: positions in FlowChartTexts.cautions. outcomes: labels of those of a test.
    """

    label: str
    cautions: tuple[int, ...] = ()
    procedure: str = ""
    check: str = ""
    outcomes: tuple[str, ...] = ()


@dataclass(frozen=True)
class FlowChartTexts:
    """The texts of a flow chart, in the order of tests, repairs, set-ups and hypotheses of the problem.

    notes: paragraphs for the head, such as what is taken for granted.
    """

    title: str
    safety: str
    currency: str
    invented: bool
    cautions: tuple[FlowCaution, ...]
    tests: tuple[FlowStepTexts, ...]
    repairs: tuple[FlowStepTexts, ...]
    set_ups: tuple[FlowStepTexts, ...]
    hypotheses: tuple[str, ...]
    hand_over: FlowStepTexts
    live_with: FlowStepTexts
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class Hypothesis:
    """A set of faults, and no other of the components in question; none: all of them are sound."""

    faults: tuple[Fault, ...]
    probability: float

    def _row(self) -> dict[str, Any]:
        faults = " and ".join(f"{fault.label}: {fault.state_label}" for fault in self.faults)
        return {"faults": faults or "none", "probability": self.probability}


@dataclass(frozen=True)
class Hypotheses:
    """What may be the cause, most probable first.

    assumed: P(assumption | findings). left_out: probability of hypotheses beyond the list.
    """

    components: tuple[str, ...]
    assumption: FaultAssumption
    assumed: float
    list: Records[Hypothesis]
    left_out: float

    def to_frame(self) -> pd.DataFrame:
        """The hypotheses as a pandas data frame, one a row. Raises ImportError where pandas is missing."""
        return self.list.to_frame()


@dataclass(frozen=True)
class CaseProblem:
    """The planning problem of a case, and what its numbers stand for.

    Tests and repairs of the problem carry the names of the model. Hypotheses are those of the problem, in its order;
    among them may be some that hypotheses_of does not list: sets that remain when one fault of several is repaired,
    and, last, everything left out as one, where `rest_is_last`. hand_over: name in the model; None where the fee was
    given or there is none.
    """

    problem: TroubleshootingProblem
    hypotheses: Hypotheses
    rest_is_last: bool
    hand_over: str | None
    texts: FlowChartTexts = field(repr=False)


@dataclass(frozen=True)
class Step:
    """Something to do next. name: of the test or repair; empty for what ends the case."""

    kind: StepKind
    name: str = ""


@dataclass(frozen=True)
class Situation:
    """Where a case stands. belief: probability of each hypothesis and, last, that the vehicle is cured already."""

    belief: tuple[float, ...]
    tests_done: tuple[str, ...] = ()
    repairs_done: tuple[str, ...] = ()
    in_place: tuple[str, ...] = ()


@dataclass(frozen=True)
class StepResult:
    """What a step can lead to. outcome: of the test; of a repair "cured", which ends the case, or "still_there"."""

    outcome: str
    probability: float
    situation: Situation


@dataclass(frozen=True)
class PricedStep:
    """A step and what it costs to take it now.

    expected_cost: to the end of the case: the step, then the best as far as looked ahead. saves: expected cost of doing
    without tests, minus `expected_cost`; negative where the step does not pay. gain_bits: of a test.
    """

    kind: StepKind
    name: str
    label: str
    step_cost: float
    expected_cost: float
    saves: float
    gain_bits: float

    @property
    def step(self) -> Step:
        """The step itself."""
        return Step(self.kind, self.name)


class PricedSteps(Records[PricedStep]):
    """Steps side by side, the one with the least expected cost first."""

    __slots__ = ()


@dataclass(frozen=True)
class Weighing:
    """Steps side by side, and which of them to propose."""

    steps: PricedSteps
    proposed: PricedStep


@dataclass(frozen=True)
class RepairOrder:
    """A sequence of repairs, followed until a verification says cured; `end` is what comes after the last one.

    lower_bound: no sequence costs less. best: proved to be the best sequence. steps: of the search. stopped: a time
    limit or a flag ended the search.
    """

    repairs: tuple[str, ...]
    end: Step
    probability_left: float
    expected_cost: float
    lower_bound: float
    best: bool
    steps: int
    stopped: bool = False


@dataclass(frozen=True)
class PolicyBranch:
    """What a step can come to, with its probability given the step, and the position of the node that follows."""

    outcome: str
    probability: float
    node: int


@dataclass(frozen=True)
class LeadingHypothesis:
    """A hypothesis and its probability before a step."""

    hypothesis: str
    probability: float


@dataclass(frozen=True)
class PolicyNode:
    """One step of a policy tree. set_ups: brought about first, in this order.

    expected_cost: from here to the end of the case, this step included; lower_bound: no policy costs less from here.
    probability: of arriving here. probability_cured: that the vehicle is cured already, before the step.
    """

    kind: StepKind
    name: str
    label: str
    set_ups: tuple[str, ...] = ()
    step_cost: float = 0.0
    expected_cost: float = 0.0
    lower_bound: float = 0.0
    probability: float = 0.0
    branches: tuple[PolicyBranch, ...] = ()
    leading: tuple[LeadingHypothesis, ...] = ()
    probability_cured: float = 0.0

    @property
    def step(self) -> Step:
        """The step itself."""
        return Step(self.kind, self.name)

    def _row(self) -> dict[str, Any]:
        return {
            "kind": self.kind,
            "name": self.name,
            "label": self.label,
            "set_ups": ", ".join(self.set_ups),
            "step_cost": self.step_cost,
            "expected_cost": self.expected_cost,
            "lower_bound": self.lower_bound,
            "probability": self.probability,
            "branches": {branch.outcome: branch.node for branch in self.branches},
            "leading": {one.hypothesis: one.probability for one in self.leading},
            "probability_cured": self.probability_cured,
        }


@dataclass(frozen=True)
class PolicyTree:
    """A decision tree from here to the end of the case. Node 0 is the start; branches lead to nodes further on.

    Notebooks show it as a flow chart, with what is seldom reached left out. texts: None for the names of the problem.
    """

    nodes: Records[PolicyNode] = field(repr=False)
    problem: TroubleshootingProblem = field(repr=False)
    texts: FlowChartTexts | None = field(default=None, repr=False)

    def expected_cost(self) -> float:
        """Expected cost at the start; 0 for a policy tree without nodes."""
        return self.nodes[0].expected_cost if self.nodes else 0.0

    def __len__(self) -> int:
        """Return the number of nodes."""
        return len(self.nodes)

    def to_frame(self) -> pd.DataFrame:
        """The nodes as a pandas data frame, one a row, by position. Raises ImportError where pandas is missing."""
        return self.nodes.to_frame()

    def _repr_svg_(self) -> str:
        from faultodds import flow_chart

        return flow_chart.first_page(self)

    def _repr_html_(self) -> str:
        from faultodds import flow_chart

        return flow_chart.pages_html(self)


@dataclass(frozen=True)
class SearchProgress:
    """How far a search for the best policy tree has come."""

    steps: int
    lower_bound: float
    upper_bound: float


@dataclass(frozen=True)
class Progress:
    """How far long work has come: `done` of `total` things named by `of`; total is None where it is not known.

    lower_bound and upper_bound: of the expected cost, where a search closes in on it; None elsewhere.
    """

    of: str
    done: int
    total: int | None
    lower_bound: float | None
    upper_bound: float | None


@dataclass(frozen=True)
class OptimalPolicyTree:
    """The best policy tree found; no policy tree costs less than `lower_bound`. optimal: the bounds meet.

    stopped: a time limit, a flag or `keep_going` ended the search.
    """

    policy_tree: PolicyTree
    lower_bound: float
    upper_bound: float
    optimal: bool
    steps: int
    stopped: bool = False

    def _repr_svg_(self) -> str:
        return self.policy_tree._repr_svg_()

    def _repr_html_(self) -> str:
        return self.policy_tree._repr_html_()


@dataclass(frozen=True)
class Repaired:
    """A case after one repair or several, with a model of its own in which the repair is written.

    check: variable whose outcomes "cured" and "still_there" say whether the complaint is gone: enter it as a finding.
    complaint: what the check is about, {variable: states}; any of these. past: variables that tell of the time before
    the last repair. repairs: done so far.
    """

    current: Case
    check: str
    complaint: Mapping[str, tuple[str, ...]] = field(hash=False)
    past: tuple[str, ...]
    repairs: tuple[str, ...]
