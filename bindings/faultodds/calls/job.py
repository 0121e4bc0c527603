# SPDX-License-Identifier: BSD-3-Clause
"""One vehicle from complaint to end: functions.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import SupportsFloat, SupportsIndex

from faultodds import _core
from faultodds._core import Case, FaultModel
from faultodds.records import Advice, CheckResult, ConfirmedBy, EndCosts, Finding, GainKind, JobProgress, Means, RankBy


def advise(
    case: Case,
    *,
    targets: Iterable[str] = (),
    tests: Iterable[str] = (),
    gain: GainKind = "joint",
    joint_only: bool = False,
    by: RankBy = "gain_per_cost",
    effects: bool = True,
    leading: SupportsIndex = 5,
    joint_entries: SupportsFloat | SupportsIndex = 1048576.0,
    by_expected_cost: bool = True,
    min_fault_probability: SupportsFloat | SupportsIndex = 0.95,
    min_gain_bits: SupportsFloat | SupportsIndex = 1e-3,
    max_questions: SupportsIndex = 5,
    explain: bool = True,
    means: Means | None = None,
    ends: EndCosts | None = None,
    progress: JobProgress | None = None,
) -> Advice:
    """What leads, in this order:

    - nothing, if the job is over;

    - a question, if nothing abnormal was found and the model knows complaints;

    - with expected costs (an end has a cost, and `by_expected_cost`): the step that weigh_steps proposes; if that was
    passed over, the best of the tests by the same rule;

    - a repair within the means of the most probable fault above `min_fault_probability` that was not passed over;
    handing over if that fault means what the model does not list; nothing, with why, if no repair is within the means;

    - the first test of the ranking that tells `min_gain_bits` or more;

    - nothing. Several faults are assumed if the findings are impossible with one. Raises as rank_tests and problem_of
    do; ArgumentError if the progress names what the model does not have; Stopped.

    targets: the faults in question; empty: components that can account for an abnormal finding. tests: to rank; empty:
    every variable of role test that is not done. joint_only: If some joint gain would need too large a table: true
    leaves that test out, false ranks all tests by gains per component instead; the ranking says which it is. effects:
    work out what each outcome would do to the leading faults. leading: how many leading faults the effects tell about.
    joint_entries: largest joint table to work out for one gain or for the entropy. by_expected_cost: The step with the
    least expected cost leads if an end of the job has a cost; false: the ranking leads. min_fault_probability: Without
    expected costs: a fault more probable than this is to be repaired rather than looked for. min_gain_bits: without
    expected costs: a test that tells less is not proposed. max_questions: of what could be asked; 0: not worked out.
    explain: work out `why`: three propagations a finding. means: no step beyond them is proposed.
    """
    return _core._advise(
        case,
        progress,
        {
            "targets": targets,
            "tests": tests,
            "gain": gain,
            "joint_only": joint_only,
            "by": by,
            "effects": effects,
            "leading": leading,
            "joint_entries": joint_entries,
            "by_expected_cost": by_expected_cost,
            "min_fault_probability": min_fault_probability,
            "min_gain_bits": min_gain_bits,
            "max_questions": max_questions,
            "explain": explain,
            "means": means,
            "ends": ends,
        },
    )


def has_complaint(case: Case) -> bool:
    """Whether something abnormal was found of a symptom or test, so that there is a cause to look for."""
    return _core._has_complaint(case)


def open_facts(case: Case) -> tuple[str, ...]:
    """Facts about the vehicle that shift the probabilities of faults and have no finding, in the order of the model."""
    return _core._open_facts(case)


def open_complaints(case: Case) -> tuple[str, ...]:
    """Symptoms that a customer may come in with and that have no finding, in the order of the model; all symptoms if
    the model names none as a complaint.
    """
    return _core._open_complaints(case)


def opening_questions(case: Case) -> tuple[str, ...]:
    """open_facts, and open_complaints if nothing abnormal was found: what to ask when a vehicle comes in."""
    return _core._opening_questions(case)


def in_cents(amount: SupportsFloat | SupportsIndex) -> int:
    """An amount in hundredths, the nearest; halves away from zero, and what misses one by rounding of doubles is one.
    Raises ArgumentError if it is not finite or beyond 1e13.
    """
    return _core._in_cents(amount)


def states_in_words(model: FaultModel, finding: Finding) -> str:
    """A finding without its variable: "low", "low or middle", "weighed: low 0.2, good 1"."""
    return _core._states_in_words(model, finding)


def check_in_words(result: CheckResult) -> str:
    """Gives "cured, says the check", "still there, says the check"."""
    return _core._check_in_words(result)


def confirmed_by_in_words(by: ConfirmedBy) -> str:
    """Gives "by sight", "by a test", "by the repair", "by the specialist"."""
    return _core._confirmed_by_in_words(by)
