# SPDX-License-Identifier: BSD-3-Clause
"""Planning problems and policy trees: functions.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import SupportsFloat, SupportsIndex

from faultodds import _core
from faultodds._core import Case
from faultodds.records import (
    CaseProblem,
    EndCosts,
    FaultAssumption,
    Hypotheses,
    Means,
    OptimalPolicyTree,
    PolicyTree,
    PricedSteps,
    Progress,
    Repaired,
    RepairOrder,
    Situation,
    Step,
    StepResult,
    TroubleshootingProblem,
    Weighing,
)


def hypotheses_of(
    case: Case, *, components: Iterable[str] = (), assumption: FaultAssumption = "one_fault", most: SupportsIndex = 64
) -> Hypotheses:
    """The most probable hypotheses of a case, all findings counted and everything else summed out.

    Exact. Raises ArgumentError if a component is named twice or does not exist, `most` is 0, or the findings are
    impossible with one fault; Stopped by `stop`, and if several faults are too many to be told apart (ExplainOptions).

    components: in question; empty: faults_in_question and known_faults. most: hypotheses in the list.
    """
    return _core._hypotheses_of(case, {"components": components, "assumption": assumption, "most": most})


def allows_one_fault(case: Case, components: Iterable[str] = ()) -> bool:
    """Whether one fault at most among the components in question can account for the findings, so that hypotheses_of
    finds hypotheses under FaultAssumption::one_fault. Raises ArgumentError for the components as hypotheses_of
    does; Stopped.
    """
    return _core._allows_one_fault(case, components)


def problem_of(
    case: Case,
    *,
    components: Iterable[str] = (),
    assumption: FaultAssumption = "one_fault",
    max_hypotheses: SupportsIndex = 64,
    tests: Iterable[str] = (),
    means: Means | None = None,
    max_tests: SupportsIndex = 24,
    repairs_done: Iterable[str] = (),
    ends: EndCosts | None = None,
) -> CaseProblem:
    """The problem of a case.

    P(outcome | hypothesis) is exact for each test; that tests err independently given the hypothesis is an
    approximation if they share a context that is not known or a hidden variable. What was left out of the hypotheses is
    one more, which no repair mends and on which each test has its average outcome. Partial repairs count as no cure.
    Costs are money with minutes at the labour rate; waiting costs nothing. What a specialist's repair costs follows
    from the cheapest repair of each fault, whatever is open, by whatever tools and skill. Raises what hypotheses_of and
    rank_tests throw, and ArgumentError if neither the model nor the options name a fee for handing over or a cost of
    living with it.

    components: in question; empty: faults_in_question and known_faults. max_hypotheses: hypotheses in the list. tests:
    to plan with; empty: every one not done. means: for repairs as for tests. max_tests: those that tell most for their
    cost. repairs_done: by index; not done again.
    """
    return _core._problem_of(
        case,
        {
            "components": components,
            "assumption": assumption,
            "max_hypotheses": max_hypotheses,
            "tests": tests,
            "means": means,
            "max_tests": max_tests,
            "repairs_done": repairs_done,
            "ends": ends,
        },
    )


def start_of(problem: TroubleshootingProblem | CaseProblem) -> Situation:
    """The situation at the start: normalised weights, nothing done. Validates the problem."""
    return _core._start_of(problem)


def possible_steps(
    problem: TroubleshootingProblem | CaseProblem, situation: Situation | None = None
) -> tuple[Step, ...]:
    """All steps that make sense: tests not done whose outcome is open and tells something about the hypothesis, repairs
    not done that may do some work, hand-over and living with it. In this order, each in the order of the problem.
    """
    return _core._possible_steps(problem, situation)


def step_cost(problem: TroubleshootingProblem | CaseProblem, situation: Situation | None, step: Step) -> float:
    """Cost of a step itself: with set-ups, a repair with its verification; hand-over with the repair that is expected
    there; living with it costs nothing if the vehicle is cured already; `done` costs a comeback with the probability
    that it is not cured.
    """
    return _core._step_cost(problem, situation, step)


def results_of(
    problem: TroubleshootingProblem | CaseProblem, situation: Situation | None, step: Step
) -> tuple[StepResult, ...]:
    """One result for each outcome of a test; for a repair, 0: "cured", which ends the case, and 1: "still there".
    Nothing after the steps that end the case. By Bayes' rule; a repair first turns hypotheses into what it makes
    of them.

    Outcomes that cannot come are left out.
    """
    return _core._results_of(problem, situation, step)


def cheapest_end(problem: TroubleshootingProblem | CaseProblem, situation: Situation | None = None) -> Step:
    """The cheaper of hand-over and living with it; hand-over if they cost the same."""
    return _core._cheapest_end(problem, situation)


def price_steps(
    problem: TroubleshootingProblem | CaseProblem, situation: Situation | None = None, depth: SupportsIndex = 2
) -> PricedSteps:
    """All possible steps side by side, by expected cost; of equal ones (to 1e-9) the ends first, then repairs, then
    tests, of these the one that tells more for its cost. Each is looked at to `depth` steps, itself included.
    Raises Stopped.
    """
    return _core._price_steps(problem, situation, depth)


def weigh_steps(
    problem: TroubleshootingProblem | CaseProblem, situation: Situation | None = None, depth: SupportsIndex = 2
) -> Weighing:
    """As price_steps; and since a few steps ahead may not show that testing pays, the four best tests and the one that
    greedy_policy begins with are priced by following that policy after them, if this is less (branches reached with
    less than half a percent do without further tests). Proposed is the cheapest step; if that is a test, of all tests
    that cost at most 1 % more in the end the one with the most bits for its cost, since what is cheap and informative
    is done first and such costs are not told apart any better. There must be a step. Raises Stopped.
    """
    return _core._weigh_steps(problem, situation, depth)


def perfect_information_cost(problem: TroubleshootingProblem | CaseProblem, situation: Situation) -> float:
    """The expected cost of perfect information: the hypothesis is known, and what a repair did is seen at once. No
    policy costs less. If a hypothesis takes more than a few repairs, those after them are counted at the cheapest
    one.
    """
    return _core._perfect_information_cost(problem, situation)


def cost_lower_bound(problem: TroubleshootingProblem | CaseProblem, situation: Situation) -> float:
    """The largest lower bound known for this situation: perfect_information_cost, or if it applies the cost of the
    information that the tests must give.
    """
    return _core._cost_lower_bound(problem, situation)


def p_over_c_is_best(problem: TroubleshootingProblem | CaseProblem) -> bool:
    """True if the order by probability of cure over cost (P over C) is the best sequence: each possible hypothesis is
    mended by at most one repair and then cured, verifications are never wrong, and no two repairs that can cure share
    set-ups that are not in place yet, or have set-ups of a group, and handing over costs the same whatever is wrong
    (Kadane & Simon 1977; Heckerman, Breese & Rommelse 1995).
    """
    return _core._p_over_c_is_best(problem)


def p_over_c_order(problem: TroubleshootingProblem | CaseProblem, situation: Situation | None = None) -> RepairOrder:
    """The repairs by P over C, probabilities and costs as they are when their turn comes, cut short once ending the
    case is cheaper. `best` if p_over_c_is_best. Equal ratios: the cheaper first, then the order of the problem.
    """
    return _core._p_over_c_order(problem, situation)


def best_repair_order(
    problem: TroubleshootingProblem | CaseProblem,
    *,
    max_in_sets: SupportsIndex = 18,
    max_steps: SupportsIndex = 100_000,
) -> RepairOrder:
    """The sequence with the least expected cost, hand-over or living with it at the best moment included.

    Exact by dynamic programming over sets of failed repairs if the order of these does not matter for what follows
    (every repair cures or leaves things as they are, no verification says wrongly still there, no set-ups of a group)
    and they are few; otherwise by a search with bounds that stops after `max_steps` and then says what it could not
    rule out. Work is counted, not timed: the same problem gives the same sequence. Once `stop` says so, the best
    sequence found so far comes back with what is known of its bound.

    max_in_sets: repairs up to which all subsets are gone through. max_steps: of the search beyond.
    """
    return _core._best_repair_order(problem, {"max_in_sets": max_in_sets, "max_steps": max_steps})


def priced_repair_order(problem: TroubleshootingProblem | CaseProblem, repairs: Iterable[str]) -> RepairOrder:
    """Expected cost of the sequence with set-ups and verifications, each repair paid with the probability that it is
    reached, then of the cheaper end: the expected cost of repair of Heckerman, Breese & Rommelse 1995. No claim to be
    the best. Raises ArgumentError if a repair is named twice or does not exist.
    """
    return _core._priced_repair_order(problem, repairs)


def follow(
    problem: TroubleshootingProblem | CaseProblem,
    policy: Callable[[Situation], Step],
    *,
    min_probability: SupportsFloat | SupportsIndex = 1e-6,
    max_nodes: SupportsIndex = 1_000_000,
    leading: SupportsIndex = 3,
) -> PolicyTree:
    """The tree that follows a policy from the start to the end of the case. Raises ArgumentError if the policy names a
    step that does not exist or was done already, and TooLarge if the tree has more nodes than `max_nodes`; Stopped.

    What the policy raises ends the work.

    min_probability: Branches reached with less do without further tests: repairs by P over C, then the end. leading:
    hypotheses that a node lists, those with weight.
    """
    return _core._follow(
        problem, policy, {"min_probability": min_probability, "max_nodes": max_nodes, "leading": leading}
    )


def greedy_policy_tree(
    problem: TroubleshootingProblem | CaseProblem,
    *,
    min_probability: SupportsFloat | SupportsIndex = 1e-6,
    max_nodes: SupportsIndex = 1_000_000,
    leading: SupportsIndex = 3,
) -> PolicyTree:
    """The test with the most information about the hypothesis (in bits, given the belief) for its cost, as long as some
    test pays; then repairs by P over C, then the end.

    A test pays if it alone saves money compared with doing without tests, and also if it costs less than a third of its
    share of what knowing everything would save, the share being its part of the bits that are open: several tests may
    pay together though none does alone. Equal ratios: the cheaper, then the order of the problem.

    min_probability: Branches reached with less do without further tests: repairs by P over C, then the end. leading:
    hypotheses that a node lists, those with weight.
    """
    return _core._greedy_policy_tree(
        problem, {"min_probability": min_probability, "max_nodes": max_nodes, "leading": leading}
    )


def look_ahead_policy_tree(
    problem: TroubleshootingProblem | CaseProblem,
    depth: SupportsIndex = 2,
    *,
    min_probability: SupportsFloat | SupportsIndex = 1e-6,
    max_nodes: SupportsIndex = 1_000_000,
    leading: SupportsIndex = 3,
) -> PolicyTree:
    """The step with the least expected cost when `depth` steps are looked at in all their outcomes, and then repairs
    follow by P over C, then the end.

    Depth 1 values each test by itself, depth 2 also what only pays together with what comes next. Work grows with
    (tests + repairs)^depth; the policy keeps a copy of `stop` and raises Stopped.

    min_probability: Branches reached with less do without further tests: repairs by P over C, then the end. leading:
    hypotheses that a node lists, those with weight.
    """
    return _core._look_ahead_policy_tree(
        problem, depth, {"min_probability": min_probability, "max_nodes": max_nodes, "leading": leading}
    )


def fixed_order_policy_tree(
    problem: TroubleshootingProblem | CaseProblem,
    tests: Iterable[str],
    *,
    repair_at: SupportsFloat | SupportsIndex = 0.5,
    min_probability: SupportsFloat | SupportsIndex = 1e-6,
    max_nodes: SupportsIndex = 1_000_000,
    leading: SupportsIndex = 3,
) -> PolicyTree:
    """When the order is through and nothing is due: repairs by P over C, then the end. The policy keeps a copy of
    `problem`. Raises ArgumentError if a test is named twice or does not exist, or `repair_at` is not in (0, 1].

    repair_at: A repair not done yet is due once it would cure with at least this probability; the most probable one
    comes first. min_probability: Branches reached with less do without further tests: repairs by P over C, then the
    end. leading: hypotheses that a node lists, those with weight.
    """
    return _core._fixed_order_policy_tree(
        problem,
        {
            "tests": tests,
            "repair_at": repair_at,
            "min_probability": min_probability,
            "max_nodes": max_nodes,
            "leading": leading,
        },
    )


def optimal_policy_tree(
    problem: TroubleshootingProblem | CaseProblem,
    *,
    max_steps: SupportsIndex = 20_000,
    max_situations: SupportsIndex = 200_000,
    tolerance: SupportsFloat | SupportsIndex = 1e-9,
    max_nodes: SupportsIndex = 1_000_000,
    leading: SupportsIndex = 3,
    seconds: SupportsFloat | SupportsIndex | None = None,
    keep_going: Callable[[Progress], bool] | None = None,
) -> OptimalPolicyTree:
    """Best policy tree among all that take possible_steps, whatever the hypotheses, imperfect tests, imperfect
    repairs and set-ups.

    Situations reached on different ways are one if belief (within 1e-12), set-ups in place and what is left to do
    agree. In turn the search follows the steps that may be the best to the most uncertain outcome, those that are the
    best as far as is known, and the most informative tests; both bounds are carried to the start after each step, so
    that more steps never make them worse. Lower bounds: perfect information and the price of information
    (information_bounds.hpp). Upper bounds: repairs by P over C, then the end. Work is counted, not timed: the same
    problem and options give the same policy tree. Once `stop` says so, the search ends with the best policy tree found
    so far and its bounds; after each step the stop's progress is told of both bounds ("situations"). (AND/OR search for
    test sequences: Pattipati & Alexandridis 1990; two-sided bounds: Smith & Simmons 2005.)

    seconds: the search ends after so many, too. keep_going: called with a Progress after each step; the search ends
    when what it returns is not true.

    max_steps: situations whose steps are worked out; 0 gives the bounds at the start. max_situations: kept in memory;
    the search ends there too. tolerance: relative gap of the bounds that counts as none. leading: hypotheses that a
    node lists, those with weight.
    """
    return _core._optimal_policy_tree(
        problem,
        seconds,
        keep_going,
        {
            "max_steps": max_steps,
            "max_situations": max_situations,
            "tolerance": tolerance,
            "max_nodes": max_nodes,
            "leading": leading,
        },
    )


def expected_cost(problem: TroubleshootingProblem | CaseProblem, policy_tree: PolicyTree) -> float:
    """Expected cost of a policy tree, worked out from the problem and the policy tree's steps alone, whatever costs and
    probabilities its nodes hold: for each hypothesis, its way through the tree. Raises ArgumentError if a branch that
    can come is missing, a step is done twice, or a node is `ask_again`; Stopped.
    """
    return _core._expected_cost(problem, policy_tree)


def folded(policy_tree: PolicyTree, min_probability: SupportsFloat | SupportsIndex) -> PolicyTree:
    """A copy for printing, in which nodes reached with less than `min_probability` are `ask_again`, with their expected
    cost and bound kept. The start stays. Raises ArgumentError if a branch leads to a node that does not exist or is no
    later one.
    """
    return _core._folded(policy_tree, min_probability)


def after_repair(before: Case | Repaired, repair: str) -> Repaired:
    """The case after the repair of this index was carried out; enter what its check says as a finding of `check`.
    The new case has a model of its own, which includes the repair:

    - The repaired component keeps its index and name for its state now: sound with the repair's probability of success
    if it was in a state that the repair mends, perhaps eased, otherwise as it was. Its state before becomes a hidden
    variable, "NAME_before_REPAIR", on which earlier findings and the components that it damaged still depend.

    - Symptoms and tests below it that have a finding are there twice: under their index and name as they are now,
    without a finding, and as "NAME_before_REPAIR" with the finding. Those without a finding depend on the state now.

    - What was brought about by a cause that stays, stays (persistence: Heckerman, Breese & Rommelse 1995): a noisy-MAX
    symptom that is found again says nothing about causes that the repair did not touch. A symptom found absent stays
    absent, and keeps its finding. A test done again errs anew, and so does a variable with a full table.

    - The complaint is what was found abnormal among the symptoms a customer complains of, otherwise among all symptoms;
    if there is none, any fault. The check is that of the repair, otherwise that of the model; if neither names one it
    is never wrong.

    Raises ArgumentError if the model has no such repair; Stopped.

    before: a Case, or the Repaired of an earlier repair with what was found since in its case.
    """
    return _core._after_repair(before, repair)
