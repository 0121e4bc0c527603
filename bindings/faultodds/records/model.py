# SPDX-License-Identifier: BSD-3-Clause
"""What a fault model says: variables, tables, work, and what lint remarks on them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Literal, TypeAlias

from faultodds.records.work import Work

Role: TypeAlias = Literal["unclassified", "context", "component", "hidden", "symptom", "test"]
Severity: TypeAlias = Literal["warning", "note"]
RepeatedErrors: TypeAlias = Literal["as_in_model", "independent", "same_instrument"]


@dataclass(frozen=True)
class Term:
    """A named thing with a label and a longer text: a tool, a skill level, a caution."""

    name: str
    label: str
    description: str


@dataclass(frozen=True)
class State:
    """A state of a variable: `name` is what files and calls use, `label` is for people."""

    name: str
    label: str


@dataclass(frozen=True)
class Band:
    """The part of a reading's scale that makes an outcome: from_ <= reading < below; None is an open end."""

    outcome: str
    from_: float | None
    below: float | None


@dataclass(frozen=True)
class GaugeError:
    """Standard deviation of what a gauge shows: `fixed`, in the unit of the reading, plus `share` of what it shows."""

    fixed: float
    share: float


@dataclass(frozen=True)
class NormalSpread:
    """Normal with mean and standard deviation."""

    mean: float
    sd: float


@dataclass(frozen=True)
class LognormalSpread:
    """The natural logarithm is normal, about that of `median`, with the standard deviation `log_sd`."""

    median: float
    log_sd: float


@dataclass(frozen=True)
class UniformSpread:
    """Even between two ends."""

    from_: float
    to: float


@dataclass(frozen=True)
class Spread:
    """How the true values of vehicles with one outcome are spread, in the unit of the reading."""

    outcome: str
    shape: NormalSpread | LognormalSpread | UniformSpread


@dataclass(frozen=True)
class Reading:
    """A measured quantity, and what makes outcomes of it: limits that cut its scale, or a spread for each outcome."""

    quantity: str
    unit: str
    bands: tuple[Band, ...]
    source: str
    difference: bool
    gauge_error: GaugeError | None
    same_instrument: bool
    at_least: float | None
    at_most: float | None
    spreads: tuple[Spread, ...]


@dataclass(frozen=True)
class Measured:
    """A number with its unit, as a gauge shows it; the unit of a bare number is ""."""

    value: float
    unit: str = ""


@dataclass(frozen=True)
class Unit:
    """A unit: a value x in it is (x + zero) * factor in the base unit of its quantity."""

    symbol: str
    quantity: str
    factor: float
    zero: float


@dataclass(frozen=True)
class Variable:
    """What the model says about a variable, its probability table apart (see FaultModel.written_out)."""

    name: str
    label: str
    description: str
    role: Role
    states: tuple[State, ...]
    parents: tuple[str, ...]
    source: str
    properties: tuple[str, ...]
    system: str
    remainder: bool
    question: str
    complaint: bool
    code: str
    conditions: tuple[str, ...]
    work: Work
    procedure: str
    reading: Reading | None
    reveals: tuple[str, ...]
    only_when: Mapping[str, tuple[str, ...]] = field(hash=False)
    not_when: Mapping[str, tuple[str, ...]] = field(hash=False)


@dataclass(frozen=True)
class Header:
    """Facts about the model as a whole. `labour_rate` is money an hour, in `currency`."""

    name: str
    title: str
    version: str
    description: str
    authors: tuple[str, ...]
    invented: bool
    safety: str
    currency: str
    labour_rate: float
    source: str


@dataclass(frozen=True)
class ScaledRow:
    """A row of a probability table that missed one by rounding and was scaled; `sum` is what it summed to before."""

    variable: str
    row: int
    sum: float


@dataclass(frozen=True)
class TableRow:
    """One row of a probability table: the states of the parents, and a probability for each state of the variable."""

    given: Mapping[str, str]
    probabilities: Mapping[str, float]

    def _row(self) -> dict[str, Any]:
        return {**self.given, **{f"P({state})": p for state, p in self.probabilities.items()}}


@dataclass(frozen=True)
class Remark:
    """Something lint found: how bad, where, what, and what would be right."""

    severity: Severity
    place: str
    found: str
    remedy: str


@dataclass(frozen=True)
class CostEstimate:
    """What compiling a model costs. `bytes` is of all tables, `operations` of one full propagation, about."""

    cliques: int
    width: int
    largest_clique: float
    entries: float
    bytes: float
    operations: float


@dataclass(frozen=True)
class SolverOptions:
    """How a model was compiled; the keyword arguments of Solver."""

    memory_limit_bytes: float
    order_tries: int
    order_seed: int
    order_steps_per_entry: float
    whole_tree_entries: float
    cached_trees_bytes: float
    max_conditioned_cases: int = 0
