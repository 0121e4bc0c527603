# SPDX-License-Identifier: BSD-3-Clause
"""Tests in rank order, and what leads: functions.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import SupportsFloat, SupportsIndex

from faultodds import _core
from faultodds._core import Case
from faultodds.records import GainKind, LeadingFaults, LookAhead, Means, RankBy, Ranking, TestBatch


def rank_tests(
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
    means: Means | None = None,
) -> Ranking:
    """Ranks tests by expected information gain I(F; T | findings) = H(T | findings) - E[H(T | F)], in bits (Cover &
    Thomas 2006, chapter 2).

    Tests with a finding are not offered. Tests named in the options are ranked even if they tell nothing; of the others
    those that depend on no fault in question are left out, and those that have revealed a symptom already, whose gain
    is not worked out (NaN), since their outcome would count its evidence twice. Tests with a gate that is not open
    (unmet_preconditions), and those beyond the means, are left out even if they are named. Exact: if a joint gain would
    need a table beyond `joint_entries` or the memory limit, `joint_only` says what happens. Raises UnknownName for
    tools, skills, access and conditions that the model does not know, ArgumentError if a labour rate or limit is
    negative, or if there is no test or no target to speak of; Stopped. Costs count what is in place (in_place_in).

    targets: the faults in question; empty: components that can account for an abnormal finding. tests: to rank; empty:
    every variable of role test that is not done. joint_only: If some joint gain would need too large a table: true
    leaves that test out, false ranks all tests by gains per component instead; the ranking says which it is. effects:
    work out what each outcome would do to the leading faults. leading: how many leading faults the effects tell about.
    joint_entries: largest joint table to work out for one gain or for the entropy.
    """
    return _core._rank_tests(
        case,
        means,
        {
            "targets": targets,
            "tests": tests,
            "gain": gain,
            "joint_only": joint_only,
            "by": by,
            "effects": effects,
            "leading": leading,
            "joint_entries": joint_entries,
        },
    )


def look_ahead(
    case: Case,
    *,
    targets: Iterable[str] = (),
    tests: Iterable[str] = (),
    gain: GainKind = "joint",
    joint_only: bool = False,
    by: RankBy = "gain_per_cost",
    joint_entries: SupportsFloat | SupportsIndex = 1048576.0,
    means: Means | None = None,
    candidates: SupportsIndex = 10,
) -> LookAhead:
    """Looks two tests ahead: I(F; T1 | findings) + sum over outcomes t of P(t | findings) I(F; T2(t) | findings, t),
    where T2(t) comes first in the ranking of the other candidates after t.

    Exact, the same as entering each outcome into a copy of the case and ranking; the targets stay those of the first
    ranking. If all candidates depend on them through their own tables, and the first's outcomes are products of
    weights, no outcome is entered: gains after an outcome come from numbers that are linear in the measure on the
    faults. Costs that depend on a context not found yet are expected over what is known of it before either test.
    Raises as rank_tests does, and ArgumentError if there are no candidates.

    targets: the faults in question; empty: components that can account for an abnormal finding. tests: to rank; empty:
    every variable of role test that is not done. joint_only: If some joint gain would need too large a table: true
    leaves that test out, false ranks all tests by gains per component instead; the ranking says which it is.
    joint_entries: largest joint table to work out for one gain or for the entropy. means: tests beyond them are left
    out. candidates: that many best tests of the ranking are looked at, as the first and as the second.
    """
    return _core._look_ahead(
        case,
        {
            "targets": targets,
            "tests": tests,
            "gain": gain,
            "joint_only": joint_only,
            "by": by,
            "joint_entries": joint_entries,
            "means": means,
            "candidates": candidates,
        },
    )


def best_batch(
    case: Case,
    *,
    targets: Iterable[str] = (),
    tests: Iterable[str] = (),
    by: RankBy = "gain_per_cost",
    joint_entries: SupportsFloat | SupportsIndex = 1048576.0,
    means: Means | None = None,
    access: str = "",
    condition: str = "",
    max_tests: SupportsIndex = 6,
    max_outcomes: SupportsIndex = 64,
) -> TestBatch:
    """Puts a batch together greedily: begins with the best test by `ranking.by` with all the set-ups it needs, and
    goes on with the one that makes the batch best, as long as that makes it better.

    What a batch tells is exact, I(F; T1 ... Tk | findings) by the chain rule over the combinations of outcomes; which
    set is best is not: a greedy choice need not be the best set. Raises as rank_tests does; UnknownName for an access
    job or condition that the model does not know; ArgumentError if the batch is to go by cost, which would be no test
    at all.

    targets: the faults in question; empty: components that can account for an abnormal finding. tests: to rank; empty:
    every variable of role test that is not done. joint_entries: largest joint table to work out for one gain or for the
    entropy. means: tests beyond them are left out. access: only tests behind this access job; empty: any. condition:
    only tests that need this condition; empty: any. max_tests: in the batch. max_outcomes: combinations of outcomes of
    the batch that are gone through.
    """
    return _core._best_batch(
        case,
        {
            "targets": targets,
            "tests": tests,
            "by": by,
            "joint_entries": joint_entries,
            "means": means,
            "access": access,
            "condition": condition,
            "max_tests": max_tests,
            "max_outcomes": max_outcomes,
        },
    )


def faults_in_question(case: Case) -> tuple[str, ...]:
    """Components that can account for an abnormal finding (one other than the first state of a symptom or test): its
    ancestors among the components. All components if there is no abnormal finding; of these only those without a hard
    finding of their own, so none if every component is known. If the model has no components, raises ArgumentError
    asking for targets.
    """
    return _core._faults_in_question(case)


def known_faults(case: Case) -> tuple[str, ...]:
    """Components that were found to be faulty and can account for an abnormal finding; all that were found to be
    faulty if there is no abnormal finding. In the order of the model.
    """
    return _core._known_faults(case)


def has_revealed(case: Case, test: str) -> bool:
    """Whether a symptom that this test reveals has a finding, so that the test counts as done."""
    return _core._has_revealed(case, test)


def is_ruled_out(case: Case, test: str) -> bool:
    """Whether something was found that makes the test pointless, impossible or dangerous: a gate of `only_when` is
    shut, or one of `not_when` open.
    """
    return _core._is_ruled_out(case, test)


def unmet_preconditions(case: Case, test: str) -> str:
    """What keeps a test out, in words: "only when read the stored codes: any but no code"; empty if nothing does. If
    it is ruled out it says what was found.
    """
    return _core._unmet_preconditions(case, test)


def leading_faults(
    case: Case, components: Iterable[str] | None = None, most: SupportsIndex | None = None
) -> LeadingFaults:
    """Fault probabilities of the given components, most probable first; ties by model order.

    components: None: the faults in question. most: None: all.
    """
    return _core._leading_faults(case, components, most)
