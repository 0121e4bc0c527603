# SPDX-License-Identifier: BSD-3-Clause
"""What work costs and demands, repairs, and how a case ends."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True)
class ContextCost:
    """What a piece of work costs in one context (`when`: states of contexts); None where the plain amount holds."""

    when: Mapping[str, tuple[str, ...]] = field(hash=False)
    minutes: float | None
    money: float | None
    wait_minutes: float | None


@dataclass(frozen=True)
class Work:
    """Minutes and money of a piece of work, and what it demands; None where the model does not say.

    While the vehicle stands for `wait_minutes` nobody works. `conditions` must be in place. Of `by_context` the first
    row that holds counts.
    """

    minutes: float | None
    money: float | None
    access: tuple[str, ...]
    tools: tuple[str, ...]
    skill: str
    cautions: tuple[str, ...]
    source: str
    wait_minutes: float | None
    conditions: tuple[str, ...]
    by_context: tuple[ContextCost, ...]


@dataclass(frozen=True)
class Access:
    """Opening work paid once and shared by the tests and repairs behind it; `work.access` must be open before."""

    name: str
    label: str
    description: str
    work: Work


@dataclass(frozen=True)
class Condition:
    """How the vehicle must stand for some work. It stays in place until another of its group is brought about."""

    name: str
    label: str
    description: str
    group: str
    at_start: bool
    work: Work


@dataclass(frozen=True)
class Means:
    """What can be done at the bench; Means() is any tool, any skill, any opening work, no limits.

    tools: at hand; None: every tool; empty: none. skill: work above this level is left out; None: no limit.
    open_access: opening work paid for already; closed_access: must not be done. conditions: seen to be in place, such
    as a cold engine; stated_after: how many findings there were then; None: it was seen just now. max_cost,
    max_minutes: of one step, with what must be brought about for it, and with waiting. labour_rate: money an hour, in
    place of the model's.
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
    """What the ends of a case cost, in place of what the model says (None).

    hand_over: all that it costs. live_with: of leaving the complaint as it is. comeback: of a vehicle that left as
    cured and was not.
    """

    hand_over: float | None = None
    live_with: float | None = None
    comeback: float | None = None


@dataclass(frozen=True)
class Easing:
    """What a repair may make of a fault that it does not mend: better, but not gone."""

    from_: str
    to: str
    probability: float


@dataclass(frozen=True)
class RepairCheck:
    """The check after a repair. `false_cured` is P(seems cured | not cured), `false_still_there` the other way."""

    label: str
    procedure: str
    work: Work
    false_cured: float
    false_still_there: float
    source: str


@dataclass(frozen=True)
class Repair:
    """An action that makes a component sound with some probability. `verification` is None where the model's holds."""

    name: str
    label: str
    procedure: str
    component: str
    mends: tuple[str, ...]
    success: float
    work: Work
    source: str
    partial: tuple[Easing, ...]
    verification: RepairCheck | None


@dataclass(frozen=True)
class RepairElsewhere:
    """What the repair costs at a specialist who charges it besides the search.

    times_ours: times the cheapest of the model's repairs that mend the fault. other: of what none of them mends.
    """

    times_ours: float
    other: float


@dataclass(frozen=True)
class HandOver:
    """Giving the vehicle to a specialist. `money` is all that it costs, but for `repair` where that is given."""

    name: str
    label: str
    description: str
    money: float | None
    wait_minutes: float | None
    tells: str
    source: str
    repair: RepairElsewhere | None = None


@dataclass(frozen=True)
class Comeback:
    """What it costs, all told, when a vehicle leaves as cured and is not."""

    money: float | None
    minutes: float | None
    source: str


@dataclass(frozen=True)
class LiveWith:
    """What it costs, all told, to leave the complaint as it is."""

    money: float
    source: str
