# SPDX-License-Identifier: BSD-3-Clause
"""Findings and posteriors: functions.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import SupportsFloat, SupportsIndex

from faultodds import _core
from faultodds._core import Case, FaultModel, Solver
from faultodds.records import (
    CombinedReading,
    ConditionedPosteriors,
    CostEstimate,
    Explanations,
    Finding,
    Measured,
    RepeatedErrors,
    SampledPosteriors,
)


def estimate_cost(
    model: FaultModel,
    *,
    memory_limit_bytes: SupportsFloat | SupportsIndex = 8589934592.0,
    order_tries: SupportsIndex = 24,
    order_seed: SupportsIndex = 1,
    order_steps_per_entry: SupportsFloat | SupportsIndex = 20.0,
    whole_tree_entries: SupportsFloat | SupportsIndex = 32768.0,
    cached_trees_bytes: SupportsFloat | SupportsIndex = 67108864.0,
    two_layer_multiplications: SupportsFloat | SupportsIndex = 4194304.0,
    max_conditioned_cases: SupportsIndex = 0,
) -> CostEstimate:
    """What compiling the whole model would cost; cheap, allocates no tables. Raises Stopped.

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
    return _core._estimate_cost(
        model,
        {
            "memory_limit_bytes": memory_limit_bytes,
            "order_tries": order_tries,
            "order_seed": order_seed,
            "order_steps_per_entry": order_steps_per_entry,
            "whole_tree_entries": whole_tree_entries,
            "cached_trees_bytes": cached_trees_bytes,
            "two_layer_multiplications": two_layer_multiplications,
            "max_conditioned_cases": max_conditioned_cases,
        },
    )


def parse_reading(text: str) -> Measured:
    """The number and the unit of a text: "43 psi", "43psi", "-5.5 degC", "12" (a bare number). The unit is any text;
    whoever knows the model looks it up. Raises ArgumentError, with a hint at the decimal point if there is a comma.
    """
    return _core._parse_reading(text)


def parse_readings(text: str) -> tuple[Measured, ...]:
    """The numbers and units of several readings of one test, as parse_reading reads each: "43 psi; 44 psi"."""
    return _core._parse_readings(text)


def combine_readings(
    model: FaultModel, variable: str, readings: Iterable[Measured], errors: RepeatedErrors = "as_in_model"
) -> CombinedReading:
    """Converts the readings to the unit of the model, and takes them together: independent ones by their mean weighted
    with 1/error^2, whose error is 1/sqrt(sum of 1/error^2) (minimum variance); with the same instrument by their plain
    mean, with the largest error of any.

    Raises UnknownName (unit, with the nearest ones); ArgumentError if the variable has no reading, the quantity of the
    unit is another one, a number lies outside of the range of the model, is a temperature below absolute zero, or no
    number, if a bare number could be in one of several units, if readings differ by more than 5 (same instrument: 2)
    standard deviations, and if readings without a gauge error fall into different bands.
    """
    return _core._combine_readings(model, variable, readings, errors)


def finding_from_reading(model: FaultModel, variable: str, value: SupportsFloat | SupportsIndex, unit: str) -> Finding:
    """The finding that one reading of a test makes, as finding_from_readings says."""
    return _core._finding_from_reading(model, variable, value, unit)


def finding_from_readings(
    model: FaultModel,
    variable: str,
    readings: str | Iterable[Measured | str],
    *,
    errors: RepeatedErrors = "as_in_model",
) -> Finding:
    """The finding that readings of a test make. It weighs each outcome with the probability density of the reading,
    up to a common factor: P(r | outcome) = integral of N(r; x, error) p(x | outcome) over the true value x.

    With spreads, p(x | outcome) is the spread: without a gauge error its density at r; with one, a normal spread widens
    to N(r; mean, sqrt(sd^2 + error^2)), a uniform one to Phi((to - r)/error) - Phi((from - r)/error) over its length,
    and a lognormal one is integrated numerically.

    With limits alone, the outcome is the band of the true value. Within reach of the error each outcome is taken to be
    as dense as the next, p(x | outcome) = const, so that the weights are the normal masses of the bands about r. A
    reading on a limit then says nothing, and one well inside a band makes a hard finding: if all other bands together
    hold less than a millionth (4.8 errors from the limit), or without a gauge error. The priors of the outcomes count
    as ever: the weights are no posterior. If outcomes are known to be unlike in density, give spreads.

    Raises as combine_readings does; ArgumentError too if the reading is in no band, or no spread can give it.

    readings: Measured records or texts such as "43 psi", or one text "43 psi; 44 psi".
    """
    return _core._finding_from_readings(model, variable, readings, errors)


def explain(
    case: Case,
    variables: Iterable[str] | None = None,
    count: SupportsIndex = 5,
    *,
    max_propagations: SupportsIndex = 200_000,
) -> Explanations:
    """The `count` most probable joint states of `variables` given the findings, everything else summed out; fewer if
    fewer are possible.

    Empty `variables` mean all components or, in a model without, all variables without a hard finding. Exact:
    best-first search over partial joint states, each bounded by its own probability. Probabilities that are equal
    within a relative 1e-11 or so are ordered by their states. Where no junction tree of all `variables` fits into
    memory, each propagation is a case worked out by whatever engine it has, by conditioning for one. Raises
    ArgumentError if a variable is named twice or does not exist, and Stopped, saying how far it got, once the
    propagations are spent, or by `stop`.

    max_propagations: Propagations that may be spent. With P the probability of the last explanation asked for and n
    variables, at most about n / P are needed.
    """
    return _core._explain(case, variables, count, {"max_propagations": max_propagations})


def most_probable_explanations(case: Case, count: SupportsIndex = 1) -> Explanations:
    """The `count` most probable joint states of everything that matters at once: findings, components, context and what
    they depend on; in a model without components, all variables. By max-product elimination, and for those after the
    first by partitioning (Nilsson 1998). Raises TooLarge if the tables would exceed the memory limit; a noisy-MAX
    effect found present must here be written out over all its causes, which `explain` never does. Raises Stopped.
    """
    return _core._most_probable_explanations(case, count)


def posteriors_by_conditioning(
    solver: Solver, findings: Iterable[Finding] = (), *, on: Iterable[str] = (), max_cases: SupportsIndex = 65536
) -> ConditionedPosteriors:
    """P(x | findings) = sum over s of P(s | findings) P(x | s, findings), s being the joint states of the variables
    conditioned on (cutset conditioning: Pearl 1988, section 4.3).

    Exact as a case is; it takes the memory of one smaller case and the time of many. Raises ArgumentError if `on` names
    a variable twice or one with a finding, and for findings that a case would refuse; ImpossibleFindings; TooLarge if
    more than `max_cases` cases would be needed before one of them fits; Stopped.

    on: Variables to condition on, none of them with a finding; empty: chosen, one after the other, until what is left
    fits into the memory limit of the solver. max_cases: joint states of these variables, and so cases to be worked out.
    """
    return _core._posteriors_by_conditioning(solver, findings, {"on": on, "max_cases": max_cases})


def sample_posteriors(
    model: FaultModel, findings: Iterable[Finding] = (), *, samples: SupportsIndex = 100_000, seed: SupportsIndex = 1
) -> SampledPosteriors:
    """Never exact. Rare findings leave few effective samples, and then large errors; use a Solver wherever it fits.
    Raises ArgumentError for a Markov network, for no samples, for findings that a case would refuse, and if not
    one sample agrees with them; Stopped.

    seed: the same seed gives the same bytes.
    """
    return _core._sample_posteriors(model, findings, {"samples": samples, "seed": seed})
