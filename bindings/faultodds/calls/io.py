# SPDX-License-Identifier: BSD-3-Clause
"""Model files: functions.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from os import PathLike

from faultodds import _core
from faultodds._core import FaultModel


def read_model(path: str | PathLike[str], *, normalise: bool = False) -> FaultModel:
    """Reads a fault model or a plain network; the file's ending says which format.

    .json, .bif, .xml or .xmlbif, .uai, each also with .gz behind it. normalise: scale rows of any positive sum instead
    of refusing those that miss one. Raises ModelError listing every problem with its place, and OSError if the file
    cannot be opened; ArgumentError for other endings.
    """
    return _core._read_model(path, normalise)


def write_model(model: FaultModel, path: str | PathLike[str]) -> tuple[str, ...]:
    """Writes a model; the file's ending says the format (those of read_model, and .dot for a picture).

    Returns what the format cannot hold of it, a sentence each; nothing for .json. For .uai the names go into a file
    beside it. Raises ModelError if the file cannot be written or the format cannot hold the model at all; TooLarge;
    ArgumentError for other endings.
    """
    return _core._write_model(model, path)
