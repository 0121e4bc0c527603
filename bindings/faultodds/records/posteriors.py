# SPDX-License-Identifier: BSD-3-Clause
"""Findings, and the posteriors given them."""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, overload

from faultodds.errors import ArgumentError
from faultodds.records.model import Role
from faultodds.records.sequence import Records, frame

if TYPE_CHECKING:
    import pandas as pd


@dataclass(frozen=True)
class Finding:
    """Something observed: `state` for a hard finding, or `weights` with P(what was seen | state) for every state."""

    variable: str
    state: str | None = None
    weights: Mapping[str, float] | None = field(default=None, hash=False)

    def __post_init__(self) -> None:
        if (self.state is None) == (self.weights is None):
            given = "neither" if self.state is None else "both"
            raise ArgumentError(
                f'finding of "{self.variable}": {given} of state and weights given; give exactly one of them', "finding"
            )


@dataclass(frozen=True)
class StateProbability:
    """P(state | findings) of one state of one variable."""

    variable: str
    label: str
    role: Role
    state: str
    state_label: str
    probability: float


class Posteriors(Records[StateProbability]):
    """Posteriors of variables, one record a state: variables in model order, states in theirs."""

    __slots__ = ()

    def by_variable(self) -> dict[str, dict[str, float]]:
        """The same as {variable: {state: probability}}."""
        nested: dict[str, dict[str, float]] = {}
        for record in self:
            nested.setdefault(record.variable, {})[record.state] = record.probability
        return nested


@dataclass(frozen=True)
class JointProbability:
    """P(these states together | findings)."""

    states: Mapping[str, str]
    probability: float

    def _row(self) -> dict[str, Any]:
        return {**self.states, "probability": self.probability}


class JointPosterior(Sequence[JointProbability]):
    """P(joint states | findings) of some variables; the last variable runs fastest. Records are made when asked for."""

    __slots__ = ("probabilities", "states")

    def __init__(self, states: Mapping[str, Sequence[str]], probabilities: Iterable[float]) -> None:
        self.states: dict[str, tuple[str, ...]] = {name: tuple(those) for name, those in states.items()}
        """The variables in the order asked for, each with its states."""
        self.probabilities: array[float] = array("d", probabilities)
        """All probabilities, one for each configuration."""

    @property
    def variables(self) -> tuple[str, ...]:
        """The variables, in the order asked for."""
        return tuple(self.states)

    @overload
    def __getitem__(self, index: int) -> JointProbability: ...
    @overload
    def __getitem__(self, index: slice) -> list[JointProbability]: ...
    def __getitem__(self, index: int | slice) -> JointProbability | list[JointProbability]:
        if isinstance(index, slice):
            return [self[position] for position in range(*index.indices(len(self)))]
        probability = self.probabilities[index]
        rest = index % len(self)
        configuration: dict[str, str] = {}
        for name in reversed(self.states):
            rest, position = divmod(rest, len(self.states[name]))
            configuration[name] = self.states[name][position]
        return JointProbability({name: configuration[name] for name in self.states}, probability)

    def __len__(self) -> int:
        return len(self.probabilities)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, JointPosterior):
            return NotImplemented
        return list(self.states.items()) == list(other.states.items()) and self.probabilities == other.probabilities

    __hash__ = None  # type: ignore[assignment]

    def __repr__(self) -> str:
        return f"JointPosterior(variables={self.variables!r}, {len(self)} configurations)"

    def probability_of(self, states: Mapping[str, str]) -> float:
        """Probability of one configuration, {variable: state} in any order.

        Raises ArgumentError where a variable is missing or unknown, or a state is.
        """
        if set(states) != set(self.states):
            raise ArgumentError(f"states: got {sorted(states)}; give a state for each of {list(self.states)}", "states")
        index = 0
        for name, known in self.states.items():
            if states[name] not in known:
                raise ArgumentError(f'states: "{name}" has no state {states[name]!r}; its states are {known}', "states")
            index = index * len(known) + known.index(states[name])
        return self.probabilities[index]

    def to_frame(self) -> pd.DataFrame:
        """A pandas data frame: a column for each variable, and `probability`. Raises ImportError without pandas."""
        return frame([record._row() for record in self])
