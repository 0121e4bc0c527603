# SPDX-License-Identifier: BSD-3-Clause
"""Findings and posteriors.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal, TypeAlias

from faultodds.records.posteriors import Posteriors

RepeatedErrors: TypeAlias = Literal["as_in_model", "independent", "same_instrument"]
"""How the errors of repeated readings are related.

as_in_model: what the model says of the reading: `same_instrument`, or else independent.

independent: each reading has an error of its own: they are averaged, and the error shrinks.

same_instrument: all have the same error: further readings must agree, but add nothing.
"""


@dataclass(frozen=True)
class CostEstimate:
    """What a junction tree costs, known before its tables are made.

    width: variables of the largest clique, less one. largest_clique: table entries of the largest clique. entries:
    table entries of all cliques. bytes: of all tables. operations: multiplications and additions of one full
    propagation, about.
    """

    cliques: int
    width: int
    largest_clique: float
    entries: float
    bytes: float
    operations: float


@dataclass(frozen=True)
class SolverOptions:
    """How a model is compiled.

    memory_limit_bytes: Tables of one junction tree may take this much; beyond it TooLarge is thrown before anything is
    allocated. order_tries: Tries for a good elimination order at least (the first one is without noise). More tries,
    smaller tables. order_steps_per_entry: Further tries, the more the larger the tables: OrderEffort::steps_per_entry.
    whole_tree_entries: Models whose whole tree stays below this many table entries get one junction tree for all cases.
    Others get a junction tree for the relevant part of each case. Models without noisy-MAX tables get one junction tree
    wherever memory allows. cached_trees_bytes: Where each case gets a junction tree of its own: the junction trees used
    last are kept up to this size, for cases that come back to the same shape (a finding added and taken back; the next
    vehicle with the same complaint). 0: none. two_layer_multiplications: Where each case gets a junction tree of its
    own: cases of two layers (findings that depend on independent causes) are answered by two-layer sums instead, up to
    about this many multiplications for a product; and up to 256 times as many if no junction tree fits into memory. 0:
    never. max_conditioned_cases: If nothing else fits into memory: a case is worked out under each joint state of a few
    variables, chosen so that what is left fits, up to so many joint states. Exact, in the time of as many cases. 0:
    never; TooLarge says so.
    """

    memory_limit_bytes: float = 8589934592.0
    order_tries: int = 24
    order_seed: int = 1
    order_steps_per_entry: float = 20.0
    whole_tree_entries: float = 32768.0
    cached_trees_bytes: float = 67108864.0
    two_layer_multiplications: float = 4194304.0
    max_conditioned_cases: int = 0


@dataclass(frozen=True)
class Fault:
    """A component in one particular unsound state."""

    component: str
    label: str
    state: str
    state_label: str


@dataclass(frozen=True)
class ConditionedPosteriors:
    """Posteriors from one case for each joint state of a few variables.

    cases: worked out: joint states that agree with the findings. log_evidence: natural logarithm of P(findings).
    posteriors: P(state | findings) of all variables.
    """

    on: tuple[str, ...]
    cases: int
    log_evidence: float
    posteriors: Posteriors = field(repr=False)


@dataclass(frozen=True)
class Measured:
    """A number with its unit, as the gauge shows it.

    unit: empty: a bare number.
    """

    value: float
    unit: str = ""


@dataclass(frozen=True)
class CombinedReading:
    """The readings of one test taken together, in the unit of the model.

    error: standard deviation; 0 if the model gives no gauge error.
    """

    value: float
    error: float


@dataclass(frozen=True)
class Estimate:
    """An estimate and its standard error. With few effective samples the error itself is uncertain."""

    value: float
    standard_error: float
