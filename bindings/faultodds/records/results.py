# SPDX-License-Identifier: BSD-3-Clause
"""Records that Python makes in a way of its own (bindings/generator/exceptions.py says why)."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from faultodds.records.inference import Estimate, Fault
from faultodds.records.sequence import Records

if TYPE_CHECKING:
    import pandas as pd

    from faultodds._core import Case


@dataclass(frozen=True)
class TableRow:
    """One row of a probability table: the states of the parents, and a probability for each state of the variable."""

    given: Mapping[str, str]
    probabilities: Mapping[str, float]

    def _row(self) -> dict[str, Any]:
        return {**self.given, **{f"P({state})": p for state, p in self.probabilities.items()}}


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


@dataclass(frozen=True)
class ConflictOfFinding:
    """How badly a finding goes with all the others, in bits."""

    variable: str
    label: str
    with_rest_bits: float


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


@dataclass(frozen=True)
class Repaired:
    """A case after one repair or several, with a model of its own in which the repair is written.

    check: variable whose outcomes "cured" and "still_there" say whether the complaint is gone: enter it as a finding.
    complaint: what the check is about, {variable: states}; any of these. past: variables that tell of the time before
    the last repair. repairs: done so far.
    """

    current: Case
    check: str
    complaint: Mapping[str, tuple[str, ...]] = field(hash=False)
    past: tuple[str, ...]
    repairs: tuple[str, ...]
