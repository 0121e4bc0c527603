# SPDX-License-Identifier: BSD-3-Clause
"""What a fault model says: functions.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from typing import SupportsFloat, SupportsIndex

from faultodds import _core
from faultodds._core import FaultModel
from faultodds.records import AmbiguityGroups, Records, Remark, Unit


def lint(model: FaultModel) -> Records[Remark]:
    """All remarks: on the model as a whole, on its variables in their order, on faults that cannot be told apart, on
    its work and its terms. An empty list means that nothing was noticed, not that the numbers are right.
    """
    return _core._lint(model)


def ambiguity_groups(model: FaultModel) -> AmbiguityGroups:
    """Ambiguity groups (IEEE Std 1522): faults that no symptom and no test can tell apart, two or more in a group; the
    remainder is not counted. And, as groups of one, faults that nothing can tell from a sound vehicle.

    The method: a single fault, all other components sound, changes the tables of the component's direct children only.
    Each such table is written out over the parents that are not components. Two faults are in one group when they
    change the same tables, as far as a symptom or a test lies below them, to the same numbers. What differs in a hidden
    variable or another component but evens out below it is not noticed, so that a group reported is always a true one.
    Tables with more than 65536 configurations of such parents are taken to tell every fault apart.
    """
    return _core._ambiguity_groups(model)


def convert(value: SupportsFloat | SupportsIndex, from_: str, to: str) -> float:
    """A value in other units of its quantity. Temperatures are points on a scale here: 20 degC are 293.15 K. Gauge and
    absolute pressures are never turned into each other. Raises UnknownName; ArgumentError, naming both quantities and
    the units that would do, if the quantities differ.
    """
    return _core._convert(value, from_, to)


def convert_difference(value: SupportsFloat | SupportsIndex, from_: str, to: str) -> float:
    """A difference in other units of its quantity, as convert does it for values: 20 degC are 20 K."""
    return _core._convert_difference(value, from_, to)


def units() -> Records[Unit]:
    """All units, those of one quantity together. Factors: NIST Special Publication 811 (2008), Appendix B, worked
    out from the exact definitions it gives: inch 25.4 mm, pound 0.453 592 37 kg, standard gravity 9.806 65 m/s2;
    mmHg, inHg and inH2O are the conventional ones.
    """
    return _core._units()


def find_unit(symbol: str) -> Unit | None:
    """The unit of a symbol; nothing if there is none. Signs and common spellings are understood ("rpm" for 1/min,
    the ohm, micro and degree signs), and other capitals if they leave no doubt: "KPA" is kPa, but "MOHM" could be
    two.
    """
    return _core._find_unit(symbol)


def unit_of(symbol: str) -> Unit:
    """The unit of a symbol, as find_unit; raises UnknownName with the nearest symbols."""
    return _core._unit_of(symbol)


def units_of(quantity: str) -> tuple[str, ...]:
    """Symbols of all units of a quantity, in the order of `units`."""
    return _core._units_of(quantity)
