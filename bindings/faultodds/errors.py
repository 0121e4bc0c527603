# SPDX-License-Identifier: BSD-3-Clause
"""The family of exceptions. Each carries its facts as attributes, and a message that names the place and the remedy.

All of them can be pickled. Wrong *types* of arguments raise the built-in TypeError; files that are missing or cannot be
opened raise the built-in OSError family.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from faultodds.records import ErrorCode, Finding

__all__ = [
    "ArgumentError",
    "Error",
    "ImpossibleFindings",
    "ModelError",
    "Problem",
    "Stopped",
    "TooLarge",
    "UnknownName",
]


@dataclass(frozen=True)
class Problem:
    """One thing wrong with a model or a file: where it is, what was found there, and what would be right."""

    place: str
    found: str
    remedy: str

    def __str__(self) -> str:
        text = f"{self.place}: {self.found}" if self.place else self.found
        return f"{text}; {self.remedy}" if self.remedy else text


class Error(Exception):
    """Base of all exceptions raised on purpose by this library."""

    code: ErrorCode = "argument"
    """What went wrong, as one word; the facts are in the other attributes."""


class ModelError(Error, ValueError):
    """A fault model, or a file that should hold one, is wrong. Lists everything found, not only the first problem."""

    code = "model"
    problems: tuple[Problem, ...]
    """Everything found, in the order of the file."""
    file: str
    """The file's name; empty for a model made in memory."""

    def __init__(self, message: str, problems: Sequence[Problem] = (), file: str = "") -> None:
        super().__init__(message)
        self.problems = tuple(problems)
        self.file = file


class UnknownName(Error, KeyError):  # noqa: N818 - the name is the same in C++
    """A name that the model does not know. Offers the nearest known ones."""

    code = "unknown_name"
    kind: str
    """What was looked for: "variable", "state", ..."""
    name: str
    """The name as it was given."""
    owner: str
    """The variable whose state was looked for; empty otherwise."""
    nearest: tuple[str, ...]
    """The known names nearest to it, best first."""

    def __init__(
        self, message: str, kind: str = "", name: str = "", owner: str = "", nearest: Sequence[str] = ()
    ) -> None:
        super().__init__(message)
        self.kind = kind
        self.name = name
        self.owner = owner
        self.nearest = tuple(nearest)

    def __str__(self) -> str:
        return Exception.__str__(self)


class ArgumentError(Error, ValueError):
    """An argument that makes no sense by itself: weights that are all zero, no states at all, a second finding."""

    argument: str
    """The argument that is wrong."""
    found: str
    """What it is."""
    remedy: str
    """What would be right."""

    def __init__(self, message: str, argument: str = "", found: str = "", remedy: str = "") -> None:
        super().__init__(message)
        self.argument = argument
        self.found = found
        self.remedy = remedy


class ImpossibleFindings(Error, ValueError):  # noqa: N818 - the name is the same in C++
    """The findings cannot all be true. Names a smallest set of them that clash."""

    code = "impossible_findings"
    clash: tuple[str, ...]
    """Findings as text, "name=state" each; without any one of them, the rest is possible."""
    findings: tuple[Finding, ...]
    """The same as records."""

    def __init__(self, message: str, clash: Sequence[str] = (), findings: Sequence[Finding] = ()) -> None:
        super().__init__(message)
        self.clash = tuple(clash)
        self.findings = tuple(findings)


class TooLarge(Error, MemoryError):  # noqa: N818 - the name is the same in C++
    """The work would need more memory than the limit. Raised before anything is allocated."""

    bytes: float
    """The estimate."""
    limit_bytes: float
    """The limit it was held against."""
    what_for: str
    """What would need so much."""
    remedy: str
    """What would be right."""
    code = "too_large"

    def __init__(
        self,
        message: str,
        needed_bytes: float = 0.0,
        limit_bytes: float = 0.0,
        what_for: str = "",
        remedy: str = "",
    ) -> None:
        super().__init__(message)
        self.bytes = needed_bytes
        self.limit_bytes = limit_bytes
        self.what_for = what_for
        self.remedy = remedy


class Stopped(Error):  # noqa: N818 - the name is the same in C++
    """A long computation was stopped by its caller or by its time limit. Nothing was changed."""

    code = "stopped"
