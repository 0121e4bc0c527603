"""Results as plain records.

One rule serves all results: a result is a sequence of frozen records, one record is one row, `to_frame()` gives the
same rows as a pandas data frame (pandas is only needed, and only imported, there), and notebooks show it as a table or
as bars. Variables and states appear by their names; labels, for people, stand beside them.
"""

from __future__ import annotations

import dataclasses
from array import array
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, ClassVar, Generic, Literal, TypeAlias, TypeVar, overload

from faultodds.errors import ArgumentError

if TYPE_CHECKING:
    import pandas as pd

Role: TypeAlias = Literal["unclassified", "context", "component", "hidden", "symptom", "test"]
GainKind: TypeAlias = Literal["joint", "per_component"]
RankBy: TypeAlias = Literal["gain_per_cost", "gain", "cost", "gain_per_minute"]
Severity: TypeAlias = Literal["warning", "note"]

_MOST_SHOWN = 20

RecordT = TypeVar("RecordT")


def _frame(rows: list[dict[str, Any]]) -> pd.DataFrame:
    try:
        import pandas
    except ImportError as error:
        raise ImportError(
            "to_frame() needs pandas, which is not installed; install it (pip install pandas), or use the records "
            "themselves: they are a sequence with the same columns as attributes"
        ) from error
    return pandas.DataFrame(rows)


def _row(record: Any) -> dict[str, Any]:
    """The columns of one record, by name."""
    own_row = getattr(record, "_row", None)
    if own_row is not None:
        return dict(own_row())
    return {column.name: getattr(record, column.name) for column in dataclasses.fields(record)}


class Records(Sequence[RecordT], Generic[RecordT]):
    """An immutable sequence of records of one kind."""

    __slots__ = ("_records",)

    def __init__(self, records: Iterable[RecordT] = ()) -> None:
        self._records = tuple(records)

    @overload
    def __getitem__(self, index: int) -> RecordT: ...
    @overload
    def __getitem__(self, index: slice) -> Records[RecordT]: ...
    def __getitem__(self, index: int | slice) -> RecordT | Records[RecordT]:
        return type(self)(self._records[index]) if isinstance(index, slice) else self._records[index]

    def __len__(self) -> int:
        return len(self._records)

    def __iter__(self) -> Iterator[RecordT]:
        return iter(self._records)

    def __eq__(self, other: object) -> bool:
        return self._records == other._records if isinstance(other, Records) else NotImplemented

    def __hash__(self) -> int:
        return hash(self._records)

    def __repr__(self) -> str:
        shown = "".join(f"\n  {record!r}," for record in self._records[:_MOST_SHOWN])
        rest = len(self) - _MOST_SHOWN
        return f"{type(self).__name__}([{shown}" + (f"\n  ... and {rest} more" if rest > 0 else "") + "\n])"

    def rows(self) -> list[dict[str, Any]]:
        """The records as dictionaries, one a row, with the columns of to_frame()."""
        return [_row(record) for record in self._records]

    def to_frame(self) -> pd.DataFrame:
        """The records as a pandas data frame, one a row. Raises ImportError where pandas is missing."""
        return _frame(self.rows())

    def _repr_html_(self) -> str:
        from faultodds import display

        return display.table_html(self.rows())


# --- what a model says ---------------------------------------------------------------------------------------------


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
class Work:
    """Minutes and money of a piece of work, and what it demands; None where the model does not say."""

    minutes: float | None
    money: float | None
    access: tuple[str, ...]
    tools: tuple[str, ...]
    skill: str
    cautions: tuple[str, ...]
    source: str


@dataclass(frozen=True)
class Band:
    """The part of a reading's scale that makes an outcome: from_ <= reading < below; None is an open end."""

    outcome: str
    from_: float | None
    below: float | None


@dataclass(frozen=True)
class Reading:
    """A measured quantity, its unit, and the limits that cut it into outcomes."""

    quantity: str
    unit: str
    bands: tuple[Band, ...]
    source: str


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
    whole_tree_entries: float


# --- findings and posteriors ---------------------------------------------------------------------------------------


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

    def _repr_html_(self) -> str:
        from faultodds import display

        return display.posteriors_html(self)


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
        return _frame([record._row() for record in self])

    def _repr_html_(self) -> str:
        from faultodds import display

        return display.table_html([record._row() for record in self[: display.MOST_ROWS + 1]])


# --- decisions -----------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class FaultProbability:
    """A component in one unsound state, with its probability."""

    component: str
    label: str
    state: str
    state_label: str
    probability: float


class LeadingFaults(Records[FaultProbability]):
    """Fault probabilities, most probable first."""

    __slots__ = ()

    def _repr_html_(self) -> str:
        from faultodds import display

        return display.faults_html(self)


@dataclass(frozen=True)
class Fault:
    """A component in one particular unsound state."""

    component: str
    label: str
    state: str
    state_label: str


@dataclass(frozen=True)
class Explanation:
    """A joint state of some variables, the faults in it, and its probability given the findings."""

    faults: tuple[Fault, ...]
    states: Mapping[str, str] = field(hash=False)
    probability: float

    def _row(self) -> dict[str, Any]:
        faults = ", ".join(f"{fault.label}: {fault.state_label}" for fault in self.faults)
        return {"faults": faults, "probability": self.probability, **self.states}


class Explanations(Records[Explanation]):
    """Joint states of some variables, most probable first."""

    __slots__ = ()

    def _repr_html_(self) -> str:
        from faultodds import display

        return display.explanations_html(self)


@dataclass(frozen=True)
class OutcomeForecast:
    """One outcome of a test: its probability, and the leading faults given it (in the ranking's order)."""

    state: str
    label: str
    probability: float
    leading: LeadingFaults = field(repr=False)


@dataclass(frozen=True)
class TestForecast:
    """What a test is expected to tell. Minutes and money include the opening work in `opens`; `gain_bits` is in bits.

    `cautions` are those of the test and of the opening work: show them before the step.
    """

    __test__: ClassVar[bool] = False  # not a test case, whatever pytest makes of the name

    test: str
    label: str
    gain_bits: float
    cost: float
    gain_per_cost: float
    minutes: float
    money: float
    opens: tuple[str, ...]
    procedure: str = field(repr=False)
    cautions: tuple[Term, ...] = field(repr=False)
    outcomes: Records[OutcomeForecast] = field(repr=False)

    def _row(self) -> dict[str, Any]:
        return {
            "test": self.test,
            "label": self.label,
            "gain_bits": self.gain_bits,
            "cost": self.cost,
            "gain_per_cost": self.gain_per_cost,
            "minutes": self.minutes,
            "money": self.money,
            "opens": ", ".join(self.opens),
            "outcomes": {outcome.state: outcome.probability for outcome in self.outcomes},
            "cautions": ", ".join(caution.label for caution in self.cautions),
        }


@dataclass(frozen=True)
class LeftOut:
    """A test that was not ranked, why, and the bits forgone (None where that was not worked out)."""

    test: str
    label: str
    reason: str
    gain_bits: float | None


@dataclass(frozen=True)
class Ranking:
    """Tests in rank order, with what the ranking is about.

    `entropy_bits` is that of the faults in question (`targets`) given the findings; where `entropy_is_bound`, it is the
    sum over components, an upper bound.
    """

    gain: GainKind
    targets: tuple[str, ...]
    entropy_bits: float
    entropy_is_bound: bool
    leading: LeadingFaults
    tests: Records[TestForecast]
    left_out: Records[LeftOut]
    currency: str
    safety: str

    def to_frame(self) -> pd.DataFrame:
        """The tests as a pandas data frame, one a row, in rank order. Raises ImportError where pandas is missing."""
        return self.tests.to_frame()

    def _repr_html_(self) -> str:
        from faultodds import display

        return display.ranking_html(self)
