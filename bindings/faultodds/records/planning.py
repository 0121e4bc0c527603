# SPDX-License-Identifier: BSD-3-Clause
"""Planning problems and policy trees.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar, Literal, TypeAlias

from faultodds.records.behaviour import ListedHypotheses, SeveralFaults, WholeTree
from faultodds.records.inference import Fault
from faultodds.records.report import FlowChartTexts
from faultodds.records.sequence import Records
from faultodds.records.work import EndCosts

FaultAssumption: TypeAlias = Literal["one_fault", "several_faults"]
"""How many of the components in question may be faulty at once: at most one, or any number."""


StepKind: TypeAlias = Literal["test", "repair", "hand_over", "live_with", "done", "ask_again"]
"""One of these.

done: in a policy tree: the verification said cured.

ask_again: in a policy tree folded for printing: what follows was left out.
"""


@dataclass(frozen=True)
class Hypothesis(SeveralFaults):
    """A set of faults: these, and no other of the components in question. None: all of them are sound.

    faults: in the order of the components in question. probability: given the findings and the assumption.
    """

    faults: tuple[Fault, ...]
    probability: float


@dataclass(frozen=True)
class Hypotheses(ListedHypotheses):
    """What may be the cause.

    components: in question. assumed: P(assumption | findings). list: most probable first; equal ones by their faults.
    left_out: probability of hypotheses beyond the list.
    """

    components: tuple[str, ...]
    assumption: FaultAssumption
    assumed: float
    list: Records[Hypothesis]
    left_out: float


@dataclass(frozen=True)
class SetUp:
    """Something that must be in place while a piece of work is done: an access job (cover off, on the lift), or a
    condition (engine hot, a second person at hand). It is paid when it is brought about, and then stays in place.

    needs: set-ups that must be in place while it is brought about. group: Set-ups of one group exclude each other:
    bringing about the one ends the other ("engine" for engine cold and engine hot). Such a set-up has no needs of its
    own. Empty for an access job, which stays open. in_place: at the start.
    """

    name: str
    cost: float = 0.0
    needs: tuple[str, ...] = ()
    group: str = ""
    in_place: bool = False


@dataclass(frozen=True)
class TestAction:
    """A test of the problem. Its outcome depends on the hypothesis alone, so that two tests err independently.

    cost: without set-ups. table: P(outcome | hypothesis), a row for each hypothesis, outcomes running fastest. A
    further row for the vehicle that is cured already may follow; it must if the check after a repair can wrongly say
    that the complaint is still there. set_ups: that it needs, at most one of a group.
    """

    __test__: ClassVar[bool] = False  # not a test case, whatever pytest makes of the name

    name: str
    cost: float
    outcomes: tuple[str, ...]
    table: tuple[tuple[float, ...], ...]
    set_ups: tuple[str, ...] = ()


@dataclass(frozen=True)
class Verification:
    """The check that follows each repair, such as a road test. By default: seen at once, at no cost, never wrong.

    false_cured: P(says cured | not cured); 1 if nothing is checked. false_still_there: P(says still there | cured).
    """

    cost: float = 0.0
    false_cured: float = 0.0
    false_still_there: float = 0.0


@dataclass(frozen=True)
class RepairAction:
    """A repair of the problem, with its verification. If that says cured, the case ends; otherwise it goes on, with the
    chance that the repair was done badly in the weights. It is not done twice.

    cost: without set-ups and verification. success: P(the repair does its work | hypothesis), one for each hypothesis;
    0 if it mends nothing of it. set_ups: that it needs, at most one of a group. becomes: What each hypothesis becomes
    when the repair does its work: `cured`, or the hypothesis that remains if it mends one fault of several. Empty:
    always cured.
    """

    name: str
    cost: float
    success: tuple[float, ...]
    set_ups: tuple[str, ...] = ()
    becomes: Mapping[str, str] = field(default_factory=dict, hash=False)
    verification: Verification = field(default_factory=Verification)


@dataclass(frozen=True)
class TroubleshootingProblem:
    """One vehicle with a complaint that exactly one hypothesis accounts for: a fault, a set of faults, or "none of the
    listed faults". All costs in one currency.

    hypotheses: names. weights: one for each hypothesis, in any scale; zero is allowed. ends: Hand-over or living with
    it must be given. A comeback must be if a verification can wrongly say cured. repair_elsewhere: What the repair by
    those who take over costs on top of their fee, one for each hypothesis; a vehicle that is cured already needs none.
    Empty: the fee is all that it costs.
    """

    hypotheses: tuple[str, ...]
    weights: tuple[float, ...]
    set_ups: tuple[SetUp, ...] = ()
    tests: tuple[TestAction, ...] = ()
    repairs: tuple[RepairAction, ...] = ()
    ends: EndCosts = field(default_factory=EndCosts)
    repair_elsewhere: tuple[float, ...] = ()


@dataclass(frozen=True)
class Step:
    """Something to do next.

    name: of the test or repair; 0 for the others.
    """

    kind: StepKind
    name: str = ""


@dataclass(frozen=True)
class Situation:
    """How far a case has come.

    belief: Probability of each hypothesis, and as the last entry that the vehicle is cured already. Sums to one.
    in_place: by set-up.
    """

    belief: tuple[float, ...]
    tests_done: tuple[str, ...] = ()
    repairs_done: tuple[str, ...] = ()
    in_place: tuple[str, ...] = ()


@dataclass(frozen=True)
class StepResult:
    """What a step can lead to.

    outcome: of the test; of a repair "cured", which ends the case, or "still_there". situation: meaningless if the
    probability is 0.
    """

    outcome: str
    probability: float
    situation: Situation


@dataclass(frozen=True)
class CaseProblem:
    """A planning problem, and what its numbers mean in the model.

    hypotheses: Those of the problem, in its order. Two may follow that the list of hypotheses_of does not hold: sets
    that remain when one fault of several is repaired (of probability 0), and, last, everything left out as one, if
    `rest_is_last`. hand_over: of the model; None: the fee was given, or there is none. texts: of the flow chart of a
    policy tree for it.
    """

    problem: TroubleshootingProblem
    hypotheses: Hypotheses
    rest_is_last: bool
    hand_over: str | None
    texts: FlowChartTexts = field(repr=False)


@dataclass(frozen=True)
class PolicyBranch:
    """What a step can come to, and the node that follows.

    outcome: of the test; for a repair 0: "cured", 1: "still there". probability: given the node above; those of a node
    sum to one.
    """

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
    """One step of a policy tree.

    name: of the test or repair; 0 for the others. label: for people. set_ups: brought about first, in this order.
    step_cost: of the step itself, as `step_cost`; of `ask_again`, what was left out. expected_cost: from here to the
    end of the case, this step included. lower_bound: no policy costs less from here. probability: of arriving here.
    branches: by outcome, those that can come; empty if the case ends. leading: most probable first, before the step;
    equal ones by their index. probability_cured: that the vehicle is cured already, before the step.
    """

    kind: StepKind
    name: str
    label: str
    set_ups: tuple[str, ...] = ()
    step_cost: float = 0.0
    expected_cost: float = 0.0
    lower_bound: float = 0.0
    probability: float = 0.0
    branches: tuple[PolicyBranch, ...] = field(default=(), metadata={"column": "outcome: node"})
    leading: tuple[LeadingHypothesis, ...] = field(default=(), metadata={"column": "hypothesis: probability"})
    probability_cured: float = 0.0

    @property
    def step(self) -> Step:
        """The step by itself."""
        return Step(self.kind, self.name)


@dataclass(frozen=True)
class PolicyTree(WholeTree):
    """Node 0 is the start. A node's branches lead to nodes of higher index.

    problem: that it was made for. texts: of its flow chart; None: the names of the problem.
    """

    nodes: Records[PolicyNode] = field(repr=False)
    problem: TroubleshootingProblem = field(repr=False)
    texts: FlowChartTexts | None = field(default=None, repr=False)


@dataclass(frozen=True)
class OptimalPolicyTree:
    """The best policy tree found, and how good it is known to be.

    policy_tree: the best one found; its expected cost is the upper bound. lower_bound: no policy tree costs less.
    optimal: the bounds meet within the tolerance. stopped: ended by the stop of the call.
    """

    policy_tree: PolicyTree
    lower_bound: float
    upper_bound: float
    optimal: bool
    steps: int
    stopped: bool


@dataclass(frozen=True)
class PricedStep:
    """A step and what it costs to take it now.

    name: of the test or repair; 0 for the others. label: for people. step_cost: of the step itself. expected_cost: to
    the end of the case: the step, then the best as far as looked ahead. saves: Value of the step in money: expected
    cost of doing without tests, minus `expected_cost`. Negative if it does not pay. gain_bits: of a test about the
    hypothesis.
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
        """The step by itself."""
        return Step(self.kind, self.name)


class PricedSteps(Records[PricedStep]):
    """Steps side by side, the one with the least expected cost first."""

    __slots__ = ()


@dataclass(frozen=True)
class Weighing:
    """Steps side by side, and which of them to propose.

    steps: by expected cost. proposed: a place among them.
    """

    steps: PricedSteps
    proposed: PricedStep


@dataclass(frozen=True)
class RepairOrder:
    """A sequence of repairs that is followed until a verification says cured, and what it costs.

    end: hand-over or living with it, after the last repair. probability_left: of coming to that end. lower_bound: no
    sequence costs less; the same as the expected cost if the sequence is the best. best: proved to be the best
    sequence. steps: of the search: sets or sequences looked at. stopped: ended by the stop of the call: the best
    sequence found until then.
    """

    repairs: tuple[str, ...]
    end: Step
    probability_left: float
    expected_cost: float
    lower_bound: float
    best: bool
    steps: int
    stopped: bool
