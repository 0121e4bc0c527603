# SPDX-License-Identifier: BSD-3-Clause
"""Leading faults, explanations, and tests in rank order."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, ClassVar, Literal, TypeAlias

from faultodds.records.model import Term
from faultodds.records.sequence import Records

if TYPE_CHECKING:
    import pandas as pd

GainKind: TypeAlias = Literal["joint", "per_component"]
RankBy: TypeAlias = Literal["gain_per_cost", "gain", "cost", "gain_per_minute"]
BatchEnd: TypeAlias = Literal["no_test_left", "not_worth_it", "max_tests", "max_outcomes"]


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
    """What a test is expected to tell, in `gain_bits`.

    Its costs include the opening work in `opens` and the conditions that it `brings` about; while the vehicle stands
    for `wait_minutes` nobody works.

    `cautions` are those of the test, the opening work and the conditions: show them before the step.
    """

    __test__: ClassVar[bool] = False  # not a test case, whatever pytest makes of the name

    test: str
    label: str
    gain_bits: float
    cost: float
    gain_per_cost: float
    minutes: float
    money: float
    wait_minutes: float
    opens: tuple[str, ...]
    brings: tuple[str, ...]
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
            "wait_minutes": self.wait_minutes,
            "opens": ", ".join(self.opens),
            "brings": ", ".join(self.brings),
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


@dataclass(frozen=True)
class SecondTest:
    """The test to follow one outcome (`state`) of a first test; `test` is None where none is left to rank.

    Cost and minutes leave out what the first test has opened and brought about. Show the `cautions` before the step.
    """

    state: str
    state_label: str
    probability: float
    test: str | None
    label: str | None
    gain_bits: float
    cost: float
    minutes: float
    wait_minutes: float
    opens: tuple[str, ...]
    brings: tuple[str, ...]
    procedure: str = field(repr=False)
    cautions: tuple[Term, ...] = field(repr=False)


@dataclass(frozen=True)
class TwoTests:
    """A first test and what is expected of it and the second one together: bits, cost and minutes.

    `opens`, `brings`, `procedure` and `cautions` are those of the first test: show the cautions before the step.
    """

    first: str
    label: str
    first_gain_bits: float
    gain_bits: float
    cost: float
    gain_per_cost: float
    minutes: float
    wait_minutes: float
    opens: tuple[str, ...]
    brings: tuple[str, ...]
    procedure: str = field(repr=False)
    cautions: tuple[Term, ...] = field(repr=False)
    second: Records[SecondTest] = field(repr=False)

    def _row(self) -> dict[str, Any]:
        return {
            "first": self.first,
            "label": self.label,
            "first_gain_bits": self.first_gain_bits,
            "gain_bits": self.gain_bits,
            "cost": self.cost,
            "gain_per_cost": self.gain_per_cost,
            "minutes": self.minutes,
            "second": {second.state: second.test for second in self.second},
        }


@dataclass(frozen=True)
class LookAhead:
    """First tests in the order of what two tests in a row are worth, with what the gains are about."""

    gain: GainKind
    targets: tuple[str, ...]
    tests: Records[TwoTests]
    currency: str
    safety: str

    def to_frame(self) -> pd.DataFrame:
        """First tests as a pandas data frame, one a row, in order. Raises ImportError where pandas is missing."""
        return self.tests.to_frame()


@dataclass(frozen=True)
class BatchedTest:
    """A test of a batch, in the order in which the batch was put together; bits and cost are those up to this test.

    Show the `cautions` before the step.
    """

    test: str
    label: str
    gain_bits: float
    cost: float
    procedure: str = field(repr=False)
    cautions: tuple[Term, ...] = field(repr=False)


@dataclass(frozen=True)
class TestBatch:
    """Tests to do together before any outcome is looked at: what they tell and cost together, and what ended the batch.

    `order` is one to do them in, so that conditions seldom change.
    """

    __test__: ClassVar[bool] = False  # not a test case, whatever pytest makes of the name

    targets: tuple[str, ...]
    chosen: Records[BatchedTest]
    order: tuple[str, ...]
    gain_bits: float
    cost: float
    gain_per_cost: float
    minutes: float
    money: float
    wait_minutes: float
    opens: tuple[str, ...]
    brings: tuple[str, ...]
    end: BatchEnd
    left_out: Records[LeftOut] = field(repr=False)
    currency: str
    safety: str
