# SPDX-License-Identifier: BSD-3-Clause
"""Tests in rank order, and what leads.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import ClassVar, Literal, TypeAlias

from faultodds.records.behaviour import RankedTests
from faultodds.records.model import Term
from faultodds.records.sequence import Records

GainKind: TypeAlias = Literal["joint", "per_component"]
"""What a gain is about: the joint state of the faults in question, I(F; T | findings), or the sum over its
components of I(F_i; T | findings).
"""


RankBy: TypeAlias = Literal["gain_per_cost", "gain", "cost", "gain_per_minute"]
"""What the ranking goes by; ties and near-ties (relative 1e-9) go to the cheaper test, then to model order."""


BatchEnd: TypeAlias = Literal["no_test_left", "not_worth_it", "max_tests", "max_outcomes"]
"""What ends a batch.

no_test_left: none of the others tells anything more.

not_worth_it: each of the others would lower what the batch tells for its cost.

max_tests: the limit of the options.

max_outcomes: the limit of the options: some other test was worth it, but would lead beyond.
"""


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


@dataclass(frozen=True)
class OutcomeForecast:
    """What is expected of one outcome of a test.

    leading: the leading faults of the ranking, given this outcome, in the ranking's order.
    """

    state: str
    label: str
    probability: float
    leading: LeadingFaults = field(repr=False)


@dataclass(frozen=True)
class TestForecast:
    """What a test is expected to tell, and what it costs with all that must be brought about for it.

    minutes: with set-ups: opening work, and conditions brought about. money: with set-ups, without labour. cost: money
    plus minutes at the labour rate; 1 if the model names no cost. gain_per_cost: bits per unit of money; infinite if
    something is told for nothing. opens: access jobs this test would open, in the order they are done. wait_minutes:
    with set-ups: the vehicle waits and nobody works. brings: conditions this test would bring about. procedure: how the
    test is done, in one line. cautions: of the test, the opening work and the conditions: show them before the step.
    """

    __test__: ClassVar[bool] = False  # not a test case, whatever pytest makes of the name

    test: str
    label: str
    gain_bits: float
    minutes: float
    money: float
    cost: float
    gain_per_cost: float
    opens: tuple[str, ...]
    outcomes: Records[OutcomeForecast] = field(repr=False, metadata={"column": "state: probability"})
    wait_minutes: float
    brings: tuple[str, ...]
    procedure: str = field(repr=False, metadata={"column": ""})
    cautions: tuple[Term, ...] = field(repr=False, metadata={"column": "label"})


@dataclass(frozen=True)
class LeftOut:
    """A test that was not ranked, and why.

    gain_bits: what is forgone: 0 if a gate is shut; NaN if it was not worked out.
    """

    test: str
    label: str
    reason: str
    gain_bits: float | None


@dataclass(frozen=True)
class Ranking(RankedTests):
    """Tests in rank order, with what the ranking is about.

    targets: the faults in question. entropy_bits: of the faults in question, given the findings. entropy_is_bound:
    True: the joint was too large, this is the sum over components, an upper bound. leading: most probable faults among
    the targets. tests: in rank order. left_out: for tools, skill, preconditions (unmet_preconditions), because what
    they reveal is entered already, or because they say nothing about the faults in question. currency: of all costs.
    safety: shown before any advice.
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


@dataclass(frozen=True)
class SecondTest:
    """The test to follow one outcome of the first: the best of the other candidates, by the measure of the ranking.

    state: the outcome of the first test. probability: of that outcome. test: nothing if no candidate is left that can
    be ranked. gain_bits: of the second test, after that outcome. minutes: with set-ups, what the first test has put in
    place left out. cost: as in a ranking. opens: access jobs the second test would open. wait_minutes: the vehicle
    waits and nobody works. brings: conditions the second test would bring about. procedure: how the test is done, in
    one line. cautions: of the test, the opening work and the conditions: show them before the step.
    """

    state: str
    state_label: str
    probability: float
    test: str | None
    label: str | None
    gain_bits: float
    minutes: float
    cost: float
    opens: tuple[str, ...]
    wait_minutes: float
    brings: tuple[str, ...]
    procedure: str = field(repr=False)
    cautions: tuple[Term, ...] = field(repr=False)


@dataclass(frozen=True)
class TwoTests:
    """A first test, and what is expected of it and the second one together.

    first_gain_bits: of the first test alone. gain_bits: expected of both. minutes: expected of both. cost: expected of
    both. gain_per_cost: of those. opens: access jobs the first test would open. second: by outcome of the first, those
    that can come. wait_minutes: expected of both. brings: conditions the first test would bring about. procedure: how
    the test is done, in one line. cautions: of the test, the opening work and the conditions: show them before the
    step.
    """

    first: str
    label: str
    first_gain_bits: float
    gain_bits: float
    minutes: float
    cost: float
    gain_per_cost: float
    opens: tuple[str, ...]
    second: Records[SecondTest] = field(repr=False, metadata={"column": "state: test"})
    wait_minutes: float
    brings: tuple[str, ...]
    procedure: str = field(repr=False, metadata={"column": ""})
    cautions: tuple[Term, ...] = field(repr=False, metadata={"column": "label"})


@dataclass(frozen=True)
class LookAhead(RankedTests):
    """First tests in the order of what two tests in a row are worth.

    tests: by what the ranking goes by, worked out for two tests; ties as in a ranking. currency: of all costs. safety:
    shown before any advice.
    """

    gain: GainKind
    targets: tuple[str, ...]
    tests: Records[TwoTests]
    currency: str
    safety: str


@dataclass(frozen=True)
class BatchedTest:
    """A test of a batch, in the order in which the batch was put together.

    gain_bits: what the batch tells up to this test, jointly. cost: what it costs up to this test. procedure: how the
    test is done, in one line. cautions: of the test, the opening work and the conditions: show them before the step.
    """

    test: str
    label: str
    gain_bits: float
    cost: float
    procedure: str = field(repr=False, metadata={"column": ""})
    cautions: tuple[Term, ...] = field(repr=False, metadata={"column": "label"})


@dataclass(frozen=True)
class TestBatch:
    """Tests to do together before any outcome is looked at: what they tell and cost together.

    targets: the faults in question. chosen: empty if no test tells anything. order: to do them in, so that conditions
    seldom change. gain_bits: I(targets; outcomes of all of them | findings). minutes: of all, set-ups counted once.
    opens: access jobs, in the order they are done. brings: conditions, in the order they are brought about. left_out:
    for tools, skill, preconditions, or a joint table that is too large. currency: of all costs. safety: shown before
    any advice.
    """

    __test__: ClassVar[bool] = False  # not a test case, whatever pytest makes of the name

    targets: tuple[str, ...]
    chosen: Records[BatchedTest]
    order: tuple[str, ...]
    gain_bits: float
    minutes: float
    money: float
    cost: float
    wait_minutes: float
    gain_per_cost: float
    opens: tuple[str, ...]
    brings: tuple[str, ...]
    end: BatchEnd
    left_out: Records[LeftOut] = field(repr=False)
    currency: str
    safety: str
