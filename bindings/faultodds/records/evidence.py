# SPDX-License-Identifier: BSD-3-Clause
"""Weights of evidence, and what findings have to do with one another.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from faultodds.records.behaviour import FindingsInFrame
from faultodds.records.inference import Fault
from faultodds.records.ranking import FaultProbability
from faultodds.records.results import ConflictOfFinding
from faultodds.records.sequence import Records


@dataclass(frozen=True)
class CountedTwice:
    """A test with a finding of its own, and a symptom with one that this test reveals."""

    test: str
    symptom: str


@dataclass(frozen=True)
class Claim:
    """That a variable is in one of these states: a fault is a component in one unsound state.

    states: some of its states, not all.
    """

    variable: str
    states: tuple[str, ...]


@dataclass(frozen=True)
class FindingWeight:
    """What one finding does to a claim. A weight of evidence is the change of the base-2 logarithm of the odds, in
    bits: one bit doubles the odds (Good 1950, chapter 6, in decibans). It is infinite if the finding settles the
    claim, and nothing if the claim was settled without it: then there are no odds to be moved. What is less
    probable than the smallest double counts as impossible.

    variable: that it was found on. alone_bits: this finding alone against none. left_out_bits: all findings against all
    but this one. in_order_bits: the findings up to this one against those before it. probability_alone: P(claim | this
    finding). probability_left_out: P(claim | all findings but this one). probability_after: P(claim | the findings up
    to this one).
    """

    variable: str
    label: str
    alone_bits: float | None
    left_out_bits: float | None
    in_order_bits: float | None
    probability_alone: float
    probability_left_out: float
    probability_after: float


@dataclass(frozen=True)
class Evidence(FindingsInFrame):
    """The weight of each finding for a claim.

    states: some of its states, not all. prior: P(claim), without a finding. posterior: P(claim | all findings).
    total_bits: sum of the weights in order. findings: in the order they were made. text: the same in words.
    """

    variable: str
    states: tuple[str, ...]
    prior: float
    posterior: float
    total_bits: float | None
    findings: Records[FindingWeight]
    text: str

    @property
    def claim(self) -> Claim:
        """The claim by itself."""
        return Claim(self.variable, self.states)


@dataclass(frozen=True)
class RareCause:
    """A fault under which findings that go badly together are expected.

    fault: the fault. bits: log2 P(fault | findings) / P(fault): they conflict by so much less if it is present.
    """

    fault: Fault
    bits: float


@dataclass(frozen=True)
class Conflict(FindingsInFrame):
    """How badly the findings go together: log2 [prod P(f_i) / P(f_1, ..., f_n)], in bits. Above zero they are less
    probable together than if they had nothing to do with one another, while effects of one fault are more probable
    together (Jensen, Chamberlain, Nordahl & Jensen 1991, "Analysis in HUGIN of data conflict"). Weights of likelihood
    findings may have any scale.

    findings: each with all the others. rare_cause: The fault of a component that takes most away from the conflict: if
    it takes all of it, the findings may stem from a rare fault instead of a mistake. Nothing without components or
    without findings. text: the same in words.
    """

    bits: float
    findings: Records[ConflictOfFinding]
    rare_cause: RareCause | None
    text: str


@dataclass(frozen=True)
class OutcomesUnder:
    """The outcomes of a test if one fault is present; other faults may be present too.

    fault: with its probability given the findings. probabilities: P(outcome | fault, findings), by outcome; empty if
    the fault is impossible.
    """

    fault: FaultProbability
    probabilities: tuple[float, ...]


@dataclass(frozen=True)
class FaultPair:
    """Two faults, by their places in the list, and how far a test tells them apart.

    overlap: Bhattacharyya coefficient of the outcomes under the two: 1 if the test cannot tell them apart, 0 if it
    always can. With it, the probability of taking one for the other is at most sqrt(P1 P2) overlap (Kailath 1967, "The
    divergence and Bhattacharyya distance measures in signal selection").
    """

    first: int
    second: int
    overlap: float


@dataclass(frozen=True)
class TestContrast:
    """How a test tells faults apart.

    faults: as they were named. pairs: Of the possible ones, those told apart best first; of equal ones (within 1e-9)
    those with the larger product of probabilities.
    """

    __test__: ClassVar[bool] = False  # not a test case, whatever pytest makes of the name

    test: str
    faults: Records[OutcomesUnder]
    pairs: Records[FaultPair]
