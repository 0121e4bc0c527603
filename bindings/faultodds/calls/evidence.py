# SPDX-License-Identifier: BSD-3-Clause
"""Weights of evidence, and what findings have to do with one another: functions.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import SupportsFloat, SupportsIndex

from faultodds import _core
from faultodds._core import Case, FaultModel
from faultodds.records import Conflict, CountedTwice, Evidence, FaultProbability, Finding, TestContrast


def weigh_evidence(case: Case, variable: str, states: str | Iterable[str] | None = None) -> Evidence:
    """The weight of each finding of the case for a claim. Three propagations for each finding. Raises ArgumentError
    if the claim names no state, a state twice, a state that does not exist, or all states; TooLarge; Stopped.

    The claim is that `variable` is in one of `states`: a name or several; None: all but the first, so of a component
    that it is not sound.
    """
    return _core._weigh_evidence(case, variable, states)


def conflict(case: Case) -> Conflict:
    """How badly the findings of a case go together. Two propagations a finding. Raises TooLarge; Stopped."""
    return _core._conflict(case)


def finding_in_words(model: FaultModel, finding: Finding) -> str:
    """A finding as text: "fuel pressure: low", "fuel pressure: low or none", "fuel pressure: weighed, low 0.2, good
    1".
    """
    return _core._finding_in_words(model, finding)


def counted_twice(model: FaultModel, findings: Iterable[Finding]) -> CountedTwice | None:
    """The first pair, by the order of the model, whose evidence these findings count twice; nothing if there is none. A
    test that reveals symptoms, such as reading trouble codes, has outcomes that sum up what it showed: beside the
    symptoms themselves they are no news, and entered together they make the model surer than it may be.
    """
    return _core._counted_twice(model, findings)


def decibans(bits: SupportsFloat | SupportsIndex) -> float:
    """Decibans (ten times the base-10 logarithm of the odds) from bits."""
    return _core._decibans(bits)


def overlap(p: Iterable[SupportsFloat | SupportsIndex], q: Iterable[SupportsFloat | SupportsIndex]) -> float:
    """Sum over outcomes of sqrt(p q), from 0 to 1 (Bhattacharyya 1943). Raises ArgumentError if the sizes differ."""
    return _core._overlap(p, q)


def contrast(case: Case, test: str, faults: Iterable[FaultProbability]) -> TestContrast:
    """Compares the outcomes of `test` under faults, of which only component and state are read: those of
    Ranking::leading, say. Raises ArgumentError if the test has a finding already, or a state does not exist;
    Stopped.
    """
    return _core._contrast(case, test, faults)
