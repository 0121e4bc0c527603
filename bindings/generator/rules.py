# SPDX-License-Identifier: BSD-3-Clause
"""How the members of a C++ record appear in Python, where their types alone do not say."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias


@dataclass(frozen=True)
class Count:
    """A whole number, which means the same in Python."""


@dataclass(frozen=True)
class Variable:
    """The index of a variable of the model; Python has its name, and its label beside it if `label` names it."""

    label: str = ""


@dataclass(frozen=True)
class State:
    """The index of a state; Python has its name. of: the member with its variable ("": that of the record around)."""

    of: str = ""
    label: str = ""


@dataclass(frozen=True)
class Named:
    """An index into another list, whose name Python has.

    kind: hypothesis, set_up, test and repair of a planning problem; model_repair, hand_over of a model.
    """

    kind: str


@dataclass(frozen=True)
class Marked:
    """A mark for each of these (kind as in Named); Python has the names of those that are marked."""

    kind: str


@dataclass(frozen=True)
class Table:
    """Records that Python has as a sequence with to_frame(), of this type, instead of a tuple."""

    type: str = "Records"


@dataclass(frozen=True)
class Inline:
    """A record whose members Python has in place of it."""


@dataclass(frozen=True)
class Hidden:
    """Not in Python, for this reason."""

    reason: str


@dataclass(frozen=True)
class Own:
    """Converted by functions of its own: `give` makes the Python object of (names, record), `take` reads it."""

    type: str
    give: str
    take: str = ""
    name: str = ""
    default: str = ""


Rule: TypeAlias = Count | Variable | State | Named | Marked | Table | Inline | Hidden | Own


@dataclass(frozen=True)
class Extra:
    """A member that only Python has. give: an expression of (names, record); "": an argument of the conversion."""

    name: str
    type: str
    doc: str
    give: str = ""
    after: str = ""


@dataclass(frozen=True)
class Described:
    """What is to be said of a record beside its declaration.

    fields: rules for its members. about: the member that holds the variable whose states the records within name.
    takes: Python programs make it and hand it over; `required` are the members without a default then. quiet: not in
    the representation. columns: what a data frame shows of a member ("": nothing; "a: b": {a: b}; "a": the a of each).
    base: a class of records/behaviour.py with further members. any_list: what is given as a list is kept as a tuple.
    """

    fields: Mapping[str, Rule] = field(default_factory=dict)
    about: str = ""
    extra: tuple[Extra, ...] = ()
    takes: bool = False
    required: tuple[str, ...] = ()
    quiet: tuple[str, ...] = ()
    columns: Mapping[str, str] = field(default_factory=dict)
    base: str = ""
    any_list: bool = False


@dataclass(frozen=True)
class Options:
    """Options that Python has as keyword arguments.

    renamed, without: by the way to a member ("ranking.tests"). by_place: those that need no keyword, and no default.
    """

    fields: Mapping[str, Rule] = field(default_factory=dict)
    renamed: Mapping[str, str] = field(default_factory=dict)
    without: Mapping[str, str] = field(default_factory=dict)
    by_place: tuple[str, ...] = ()


@dataclass(frozen=True)
class Called:
    """What is to be said of a function beside its declaration.

    overload: which of several, by its place. arguments: rules for its parameters. signature: if Python takes other
    arguments than follow from the declaration: {name: (annotation, default or "")}, with "*" before keywords. by_hand:
    bindings/*.cpp or the package hold what calls it. returns: the Python type, if it is another one. doc: what is
    said in place of the comment in C++, or (beginning with "+") after it.
    """

    overload: int = 0
    arguments: Mapping[str, Rule] = field(default_factory=dict)
    signature: Mapping[str, tuple[str, str]] | None = None
    by_hand: bool = False
    returns: str = ""
    gives: Rule | None = None
    doc: str = ""
