# SPDX-License-Identifier: BSD-3-Clause
"""The planning problem of a case."""

from __future__ import annotations

from collections.abc import Iterable
from typing import SupportsIndex

from faultodds import _core
from faultodds._core import Case
from faultodds.records import CaseProblem, EndCosts, FaultAssumption, Means


def problem_of(
    case: Case,
    *,
    components: Iterable[str] | None = None,
    assumption: FaultAssumption = "one_fault",
    max_hypotheses: SupportsIndex = 64,
    tests: Iterable[str] | None = None,
    max_tests: SupportsIndex = 24,
    repairs_done: Iterable[str] = (),
    means: Means | None = None,
    ends: EndCosts | None = None,
) -> CaseProblem:
    """Make of a case the problem that policy trees are for: hypotheses, outcomes given each, repairs, ends, costs.

    components, assumption, max_hypotheses: those of hypotheses_of; what was left out is one more hypothesis, which no
    repair mends. tests: None for all that have no finding; of these the `max_tests` that tell most for their cost.
    repairs_done: not done again. means: tests and repairs beyond it are left out; it says what is open and in place,
    and the labour rate. ends: what a hand-over, living with it and a comeback cost; None: what the model says.

    P(outcome | hypothesis) is exact for each test; that tests err independently given the hypothesis is an
    approximation where they share a context that is not known or a hidden variable. Partial repairs count as no cure.
    Costs are money with minutes at the labour rate; waiting costs nothing. The interpreter lock is released while
    computing. Raises UnknownName, TooLarge, Stopped; ArgumentError if the findings are impossible with one fault, or
    neither the model nor the arguments name a fee for handing over or a cost of living with it.
    """
    options = dict(locals())
    del options["case"]
    return _core._problem_of(case, options)
