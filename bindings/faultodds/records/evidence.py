# SPDX-License-Identifier: BSD-3-Clause
"""Weights of evidence, conflicts between findings, and estimates by sampling."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from faultodds.records.decisions import Fault
from faultodds.records.sequence import Records

if TYPE_CHECKING:
    import pandas as pd


@dataclass(frozen=True)
class FindingWeight:
    """What one finding does to a claim: the change of the base-2 logarithm of its odds, in bits.

    alone: this finding alone against none. left_out: all findings against all but this one. in_order: the findings up
    to this one against those before it. Infinite where the finding settles the claim; None where it was settled before.
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
class Evidence:
    """The weight of each finding for the claim that `variable` is in one of `states`. text: the same in words."""

    variable: str
    states: tuple[str, ...]
    prior: float
    posterior: float
    total_bits: float | None
    findings: Records[FindingWeight]
    text: str

    def to_frame(self) -> pd.DataFrame:
        """The findings as a pandas data frame, one a row. Raises ImportError where pandas is missing."""
        return self.findings.to_frame()


@dataclass(frozen=True)
class ConflictOfFinding:
    """How badly a finding goes with all the others, in bits."""

    variable: str
    label: str
    with_rest_bits: float


@dataclass(frozen=True)
class RareCause:
    """A fault under which findings that go badly together are expected; `bits` it takes from their conflict."""

    fault: Fault
    bits: float


@dataclass(frozen=True)
class Conflict:
    """How badly the findings go together, in bits: above zero, less often than by chance. text: the same in words."""

    bits: float
    findings: Records[ConflictOfFinding]
    rare_cause: RareCause | None
    text: str

    def to_frame(self) -> pd.DataFrame:
        """The findings as a pandas data frame, one a row. Raises ImportError where pandas is missing."""
        return self.findings.to_frame()


@dataclass(frozen=True)
class Estimate:
    """An estimate and its standard error. With few effective samples the error itself is uncertain."""

    value: float
    standard_error: float


@dataclass(frozen=True)
class StateEstimate:
    """P(state | findings) of a variable, estimated."""

    variable: str
    label: str
    state: str
    state_label: str
    estimate: float
    standard_error: float


@dataclass(frozen=True)
class SampledPosteriors:
    """Posteriors estimated by sampling: never exact. Distrust all of them where `effective_samples` are few."""

    estimates: Records[StateEstimate]
    log_evidence: Estimate
    effective_samples: float

    def of_variable(self, name: str) -> dict[str, Estimate]:
        """{state: estimate} of one variable. Raises KeyError where the model has no such variable."""
        found = {
            one.state: Estimate(one.estimate, one.standard_error) for one in self.estimates if one.variable == name
        }
        if not found:
            raise KeyError(name)
        return found

    def to_frame(self) -> pd.DataFrame:
        """The estimates as a pandas data frame, one a row. Raises ImportError where pandas is missing."""
        return self.estimates.to_frame()
