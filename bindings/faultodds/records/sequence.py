# SPDX-License-Identifier: BSD-3-Clause
"""Sequences of records, and how a record becomes a row."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any, Generic, TypeVar, overload

if TYPE_CHECKING:
    import pandas as pd

_MOST_SHOWN = 20

RecordT = TypeVar("RecordT")


def frame(rows: list[dict[str, Any]]) -> pd.DataFrame:
    """The rows as a pandas data frame. Raises ImportError, with the remedy, where pandas is missing."""
    try:
        import pandas
    except ImportError as error:
        raise ImportError(
            "to_frame() needs pandas, which is not installed; install it (pip install pandas), or use the records "
            "themselves: they are a sequence with the same columns as attributes"
        ) from error
    return pandas.DataFrame(rows)


def row_of(record: Any) -> dict[str, Any]:
    """The columns of one record, by name; lists of text are one text."""
    own_row = getattr(record, "_row", None)
    return dict(own_row()) if own_row is not None else columns_of(record)


def columns_of(record: Any) -> dict[str, Any]:
    """The columns of a record without a rule of its own: its members."""
    shown = ((member, member.metadata.get("column")) for member in dataclasses.fields(record))
    return {member.name: _cell(getattr(record, member.name), column) for member, column in shown if column != ""}


def _cell(value: Any, column: str | None) -> Any:
    """What a data frame shows of a member. column: "a" for the a of each of its records, "a: b" for {a: b}."""
    if column is None:
        texts = isinstance(value, tuple) and all(isinstance(one, str) for one in value)
        return ", ".join(value) if texts else value
    key, _, item = column.partition(": ")
    if item:
        return {getattr(one, key): getattr(one, item) for one in value}
    return ", ".join(getattr(one, key) for one in value)


class Records(Sequence[RecordT], Generic[RecordT]):
    """An immutable sequence of records of one kind."""

    __slots__ = ("_records",)

    def __init__(self, records: Iterable[RecordT] = ()) -> None:
        self._records = tuple(records)

    @overload
    def __getitem__(self, index: int) -> RecordT: ...
    @overload
    def __getitem__(self, index: slice) -> Records[RecordT]: ...
    def __getitem__(self, index: int | slice) -> RecordT | Records[RecordT]:
        return type(self)(self._records[index]) if isinstance(index, slice) else self._records[index]

    def __len__(self) -> int:
        return len(self._records)

    def __iter__(self) -> Iterator[RecordT]:
        return iter(self._records)

    def __eq__(self, other: object) -> bool:
        return self._records == other._records if isinstance(other, Records) else NotImplemented

    def __hash__(self) -> int:
        return hash(self._records)

    def __repr__(self) -> str:
        shown = "".join(f"\n  {record!r}," for record in self._records[:_MOST_SHOWN])
        rest = len(self) - _MOST_SHOWN
        return f"{type(self).__name__}([{shown}" + (f"\n  ... and {rest} more" if rest > 0 else "") + "\n])"

    def rows(self) -> list[dict[str, Any]]:
        """The records as dictionaries, one a row, with the columns of to_frame()."""
        return [row_of(record) for record in self._records]

    def to_frame(self) -> pd.DataFrame:
        """The records as a pandas data frame, one a row. Raises ImportError where pandas is missing."""
        return frame(self.rows())
