# SPDX-License-Identifier: BSD-3-Clause
"""Many cases at once: columns of findings in, arrays of posteriors out. NumPy is needed, and imported, only here."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, SupportsIndex

from faultodds import _core
from faultodds._core import FaultModel, Solver
from faultodds.errors import ArgumentError, UnknownName

if TYPE_CHECKING:
    import numpy as np
    import pandas as pd
    from numpy.typing import ArrayLike, NDArray

NOT_OBSERVED = -1


@dataclass(frozen=True, eq=False)
class CaseAnswers:
    """Answers to many cases, in the order of their rows.

    log_evidence: by row, the natural logarithm of P(findings); minus infinity if they cannot all be true.
    probabilities: rows by columns, P(state | findings); NaN throughout a row whose findings cannot all be true.
    columns: the variable and the state that each column of `probabilities` is about.
    """

    log_evidence: NDArray[np.float64]
    probabilities: NDArray[np.float64]
    columns: tuple[tuple[str, str], ...]

    def __len__(self) -> int:
        """Return the number of rows."""
        return len(self.log_evidence)

    def posterior(self, variable: str) -> NDArray[np.float64]:
        """Return rows by states of one variable, without a copy. Raises KeyError if it was not asked for."""
        places = [place for place, (name, _) in enumerate(self.columns) if name == variable]
        if not places:
            raise KeyError(variable)
        return self.probabilities[:, places[0] : places[-1] + 1]

    def to_frame(self) -> pd.DataFrame:
        """Return the probabilities as a data frame with columns (variable, state). Needs pandas."""
        import pandas as pd

        names = pd.MultiIndex.from_tuples(self.columns, names=["variable", "state"])
        return pd.DataFrame(self.probabilities, columns=names)


def answer_cases(
    solver: Solver,
    findings: Any,
    *,
    columns: Iterable[str] | None = None,
    likelihoods: Mapping[str, ArrayLike] | None = None,
    variables: Iterable[str] | None = None,
    threads: SupportsIndex = 1,
) -> CaseAnswers:
    """Answer many cases at once: log P(findings) and the posteriors of `variables`, a row each.

    findings: a table whose columns are named like variables: a mapping, a pandas data frame, or anything that speaks
    the Arrow C stream interface (which needs pyarrow); or a two-dimensional array of integers, whose columns `columns`
    names. Text is the name of a state, an integer its position; missing text and -1 mean "not observed".
    likelihoods: for further variables, P(what was seen | state), rows by states; NaN in a whole row: not observed.
    variables: those asked for; all components, or in a model without components all variables, if left out.
    threads: that work at once; 0 for as many as the machine runs at once.

    The answers are bit for bit those of a Case with the row's findings alone, whatever the other rows are and with any
    number of threads. The interpreter lock is released; Ctrl-C and time_limit stop the work. Raises UnknownName,
    ArgumentError naming the row, TypeError, TooLarge. Needs NumPy.
    """
    import numpy as np

    model = solver.model()
    names, states = _states(model, findings, None if columns is None else list(columns))
    weights = {name: np.ascontiguousarray(rows, np.float64) for name, rows in (likelihoods or {}).items()}
    if not names and weights:
        states = np.empty((len(next(iter(weights.values()))), 0), np.int32)
    asked = _default_variables(model) if variables is None else list(variables)
    log_evidence, probabilities = _core._answer_cases(solver, names, states, weights, asked, threads)
    return CaseAnswers(
        np.asarray(log_evidence)[:, 0],
        np.asarray(probabilities),
        tuple((name, state) for name in asked for state in model.states(name)),
    )


def _wrong(argument: str, found: str, remedy: str) -> ArgumentError:
    return ArgumentError(f"{argument}: {found}; {remedy}", argument, found, remedy)


def _default_variables(model: FaultModel) -> list[str]:
    return list(model.with_role("component") or model)


def _states(model: FaultModel, findings: Any, columns: list[str] | None) -> tuple[list[str], NDArray[np.int32]]:
    import numpy as np

    if columns is not None:
        array = np.asarray(findings)
        if array.ndim != 2 or array.shape[1] != len(columns):  # noqa: PLR2004
            raise _wrong(
                "findings", f"an array of shape {array.shape}", f"give rows by the {len(columns)} columns named"
            )
        table: dict[str, Any] = {name: array[:, place] for place, name in enumerate(columns)}
        if len(table) < len(columns):
            raise _wrong("columns", "a name is given twice", "name each variable once")
    else:
        table = _columns_of(findings)
    coded = [_codes(model, name, values) for name, values in table.items()]
    lengths = {len(codes) for codes in coded}
    if len(lengths) > 1:
        raise _wrong("findings", f"columns of {sorted(lengths)} rows", "give columns of the same length")
    rows = lengths.pop() if lengths else 0
    states = np.empty((rows, len(coded)), np.int32)
    for place, codes in enumerate(coded):
        states[:, place] = codes
    return list(table), states


def _columns_of(findings: Any) -> dict[str, Any]:
    if isinstance(findings, Mapping):
        return dict(findings)
    if hasattr(findings, "iloc") and hasattr(findings, "columns"):
        if not findings.columns.is_unique:
            raise _wrong("findings", "two columns have the same name", "name each variable once")
        return {name: findings[name] for name in findings.columns}
    if hasattr(findings, "__arrow_c_stream__") or hasattr(findings, "__arrow_c_array__"):
        import pyarrow as pa

        table = pa.table(findings)
        return dict(zip(table.column_names, table.columns, strict=True))
    raise TypeError(
        f"findings: got {type(findings).__name__}; give a mapping, a data frame or an Arrow table whose columns are "
        "named like variables, or a two-dimensional array of integers with `columns`"
    )


def _codes(model: FaultModel, variable: str, values: Any) -> NDArray[np.int64]:
    """Positions of states, -1 if nothing was observed."""
    import numpy as np

    model.variable(variable)
    if hasattr(values, "dictionary_encode"):
        values = _from_arrow(values)
    array = np.asarray(values)
    if array.dtype.kind in "iu":
        if array.size and (array.min() < NOT_OBSERVED or array.max() > np.iinfo(np.int32).max):
            row = int(np.argmax((array < NOT_OBSERVED) | (array > np.iinfo(np.int32).max)))
            raise _wrong(
                "findings",
                f'row {row}, "{variable}": {array[row]}',
                "give the position of a state, or -1 for not observed",
            )
        return array.astype(np.int64)
    codes, names = _factors(array)
    places = [_place_of(model, variable, name, codes == number) for number, name in enumerate(names)]
    return np.array([*places, NOT_OBSERVED], np.int64)[codes]


def _place_of(model: FaultModel, variable: str, name: Any, rows: NDArray[np.bool_]) -> int:
    try:
        return _core._state_index(model, variable, name)
    except UnknownName as error:
        message = f"row {int(rows.argmax())}: {error}"
        raise UnknownName(message, error.kind, error.name, error.owner, error.nearest) from None


def _from_arrow(column: Any) -> Any:
    import pyarrow as pa

    whole = column.combine_chunks() if isinstance(column, pa.ChunkedArray) else column
    if pa.types.is_integer(whole.type):
        return whole.fill_null(NOT_OBSERVED).to_numpy(zero_copy_only=False)
    return whole.to_numpy(zero_copy_only=False)


def _factors(array: NDArray[Any]) -> tuple[NDArray[np.int64], list[Any]]:
    """Numbers of distinct names by row (-1 if one is missing), and the names in order of appearance."""
    import numpy as np

    numbers: dict[Any, int] = {}
    codes = np.empty(len(array), np.int64)
    for row, value in enumerate(array.tolist()):
        codes[row] = NOT_OBSERVED if _is_missing(value) else numbers.setdefault(value, len(numbers))
    return codes, list(numbers)


def _is_missing(value: Any) -> bool:
    return value is None or (isinstance(value, float) and math.isnan(value)) or type(value).__name__ == "NAType"
