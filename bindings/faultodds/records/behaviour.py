# SPDX-License-Identifier: BSD-3-Clause
"""What records can do beside holding their members."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields
from functools import cache
from typing import TYPE_CHECKING, Any, Protocol, TypeVar, cast, get_args, get_type_hints

from faultodds.errors import ArgumentError
from faultodds.records.sequence import columns_of

if TYPE_CHECKING:
    import pandas as pd

    from faultodds.records.model import Component, Context, Role, Symptom, Test
    from faultodds.records.sequence import Records


class _IsSomething(Protocol):
    @property
    def name(self) -> str: ...
    @property
    def what(self) -> Any: ...


class _HasTests(Protocol):
    @property
    def tests(self) -> Records[Any]: ...


class _HasFindings(Protocol):
    @property
    def findings(self) -> Records[Any]: ...


class _HasNodes(Protocol):
    @property
    def nodes(self) -> Records[Any]: ...


class _HasList(Protocol):
    @property
    def list(self) -> Records[Any]: ...


class _HasFaults(Protocol):
    @property
    def faults(self) -> tuple[Any, ...]: ...
    @property
    def probability(self) -> float: ...


NumberT_co = TypeVar("NumberT_co", int, float, covariant=True)


class _HasSums(Protocol[NumberT_co]):
    @property
    def money(self) -> NumberT_co: ...
    @property
    def labour(self) -> NumberT_co: ...


class _HasLines(Protocol):
    @property
    def lines(self) -> Records[Any]: ...
    @property
    def total(self) -> Any: ...


class _HasFactor(Protocol):
    @property
    def numerator(self) -> float: ...
    @property
    def denominator(self) -> float: ...


class OfOneRole:
    """A variable: what it is says its role, and holds what belongs to that role alone."""

    @property
    def role(self: _IsSomething) -> Role:
        """What the variable represents."""
        return cast("Role", _role_of(self.what))

    @property
    def question(self: _IsSomething) -> str:
        """How to ask for it; empty if the model does not say, or for a role that nobody is asked about."""
        return str(getattr(self.what, "question", ""))

    @property
    def context(self: _IsSomething) -> Context:
        """What it is as a context. Raises ArgumentError if it has another role."""
        return cast("Context", _in_role(self, "context"))

    @property
    def component(self: _IsSomething) -> Component:
        """What it is as a component. Raises ArgumentError if it has another role."""
        return cast("Component", _in_role(self, "component"))

    @property
    def symptom(self: _IsSomething) -> Symptom:
        """What it is as a symptom. Raises ArgumentError if it has another role."""
        return cast("Symptom", _in_role(self, "symptom"))

    @property
    def test(self: _IsSomething) -> Test:
        """What it is as a test. Raises ArgumentError if it has another role."""
        return cast("Test", _in_role(self, "test"))

    def _row(self: _IsSomething) -> dict[str, Any]:
        own = {"role" if name == "what" else name: value for name, value in columns_of(self).items()}
        others = (member.name for kind in _alternatives(type(self)) for member in fields(kind))
        return {**own, "role": _role_of(self.what), **dict.fromkeys(others), **columns_of(self.what)}


def _role_of(what: object) -> str:
    return type(what).__name__.lower()


def _in_role(variable: _IsSomething, needed: Role) -> object:
    role = _role_of(variable.what)
    if role == needed:
        return variable.what
    found = f"its role is {role}, not {needed}"
    remedy = f"name a variable of the role {needed}, or ask for its role first"
    error = ArgumentError(f"{variable.name}: {found}; {remedy}", variable.name, found, remedy)
    error.code = "wrong_role"
    raise error


@cache
def _alternatives(variable: type) -> tuple[Any, ...]:
    """All that a variable can be."""
    return get_args(get_type_hints(variable)["what"])


class RankedTests:
    """Tests in order."""

    def to_frame(self: _HasTests) -> pd.DataFrame:
        """The tests as a pandas data frame, one a row, in order. Raises ImportError without pandas."""
        return self.tests.to_frame()


class FindingsInFrame:
    """Something said of each finding."""

    def to_frame(self: _HasFindings) -> pd.DataFrame:
        """The findings as a pandas data frame, one a row. Raises ImportError without pandas."""
        return self.findings.to_frame()


class ListedHypotheses:
    """Hypotheses in a list."""

    def to_frame(self: _HasList) -> pd.DataFrame:
        """The hypotheses as a pandas data frame, one a row. Raises ImportError without pandas."""
        return self.list.to_frame()


class SeveralFaults:
    """A set of faults."""

    def _row(self: _HasFaults) -> dict[str, Any]:
        faults = " and ".join(f"{fault.label}: {fault.state_label}" for fault in self.faults)
        return {"faults": faults or "none", "probability": self.probability}


class WholeTree:
    """The nodes of a tree."""

    def expected_cost(self: _HasNodes) -> float:
        """Expected cost at the start; 0 for a policy tree without nodes."""
        return float(self.nodes[0].expected_cost) if self.nodes else 0.0

    def __len__(self: _HasNodes) -> int:
        """Return the number of nodes."""
        return len(self.nodes)

    def to_frame(self: _HasNodes) -> pd.DataFrame:
        """The nodes as a pandas data frame, one a row, by position. Raises ImportError without pandas."""
        return self.nodes.to_frame()


class MoneyAndLabour:
    """Money, and work at the labour rate."""

    def cost(self: _HasSums[NumberT_co]) -> NumberT_co:
        """Money and labour."""
        return self.money + self.labour


class WholeLedger(MoneyAndLabour):
    """The lines of a ledger, and their sums."""

    def time(self: _HasLines) -> float:
        """Minutes of work and waiting."""
        return float(self.total.minutes + self.total.wait_minutes)

    def to_frame(self: _HasLines) -> pd.DataFrame:
        """The lines as a pandas data frame, one a row. Raises ImportError without pandas."""
        return self.lines.to_frame()


class ListsAsTuples:
    """Keeps the lists that it is given as tuples, so that it can be compared and hashed."""

    def __post_init__(self) -> None:
        """Take lists and the like; a lone text stays as it is, for it is no list of names."""
        for name, value in vars(self).items():
            if isinstance(value, Iterable) and not isinstance(value, str | tuple):
                object.__setattr__(self, name, tuple(value))


class UnitFactor:
    """A unit."""

    @property
    def factor(self: _HasFactor) -> float:
        """A value x in the unit is (x + zero) * factor in the base unit of its quantity."""
        return self.numerator / self.denominator
