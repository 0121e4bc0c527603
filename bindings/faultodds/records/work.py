# SPDX-License-Identifier: BSD-3-Clause
"""Costs, and the means at hand.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from faultodds.records.behaviour import ListsAsTuples


@dataclass(frozen=True)
class InPlace(ListsAsTuples):
    """What has been paid for at the vehicle already: access jobs that are open, conditions that are in place.

    conditions: at most one of a group.
    """

    access: Iterable[str] = ()
    conditions: Iterable[str] = ()


@dataclass(frozen=True)
class Means(ListsAsTuples):
    """What can be done at the bench. As it is here: any tool, any skill, any opening work, no limits.

    tools: at hand; None: every tool; empty: none. skill: work above this level is out of reach; None: no limit.
    open_access: Opening work paid for already, besides that of the tests done. closed_access: opening work that must
    not be done. conditions: seen to be in place, besides what the tests done have left. stated_after: findings there
    were when that was seen; None: it was seen just now. max_cost: of one step, with what must be brought about for it.
    max_minutes: of the same, waiting included. labour_rate: money per hour; None: that of the model.
    """

    tools: Iterable[str] | None = None
    skill: str | None = None
    open_access: Iterable[str] = ()
    closed_access: Iterable[str] = ()
    conditions: Iterable[str] = ()
    stated_after: int | None = None
    max_cost: float | None = None
    max_minutes: float | None = None
    labour_rate: float | None = None


@dataclass(frozen=True)
class EndCosts:
    """What the ends of a case cost. In a planning problem an end without a cost is not possible. In options such an end
    costs what the model says.

    hand_over: the fee that ends the case in any state; in options all that handing over costs, or nothing: the cheapest
    that the model names. live_with: leaving the complaint as it is, which ends the case. comeback: of a vehicle that
    left as cured and was not, in the end; in options nothing: what the model says, else what a hand-over costs.
    """

    hand_over: float | None = None
    live_with: float | None = None
    comeback: float | None = None
