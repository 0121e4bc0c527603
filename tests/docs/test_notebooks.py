# SPDX-License-Identifier: BSD-3-Clause
"""Every notebook runs from top to bottom, and is kept with what it shows.

FAULTODDS_PICTURES names a folder to put the pictures into, for looking at them.
"""

from __future__ import annotations

import base64
import os
from pathlib import Path
from typing import Any

import pytest

nbformat = pytest.importorskip("nbformat")
pytest.importorskip("ipykernel")
pytest.importorskip("matplotlib")
pytest.importorskip("pandas")
notebooks = pytest.importorskip("notebooks")

MOST_BYTES = 400_000


def keep_pictures(notebook: Any, name: str) -> None:
    folder = os.environ.get("FAULTODDS_PICTURES")
    if folder is None:
        return
    Path(folder).mkdir(parents=True, exist_ok=True)
    for index, cell in enumerate(notebook.cells):
        for output in cell.get("outputs", []):
            data = output.get("data", {})
            if "image/png" in data:
                (Path(folder) / f"{name}-{index:02d}.png").write_bytes(base64.b64decode(data["image/png"]))
            for kind, ending in (("image/svg+xml", "svg"), ("text/html", "html")):
                if kind in data:
                    (Path(folder) / f"{name}-{index:02d}.{ending}").write_text(data[kind], encoding="utf-8")


def outputs(notebook: Any) -> list[Any]:
    return [output for cell in notebook.cells for output in cell.get("outputs", [])]


def test_there_are_notebooks() -> None:
    assert notebooks.NOTEBOOKS


@pytest.mark.parametrize("path", notebooks.NOTEBOOKS, ids=lambda path: path.stem)
@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # of the packages that run notebooks
def test_a_notebook_runs_and_shows_what_is_kept(path: Path) -> None:
    kept = nbformat.read(path, as_version=4)
    notebook = notebooks.execute(path)
    keep_pictures(notebook, path.stem)
    code = [cell for cell in notebook.cells if cell.cell_type == "code"]
    assert all(cell.execution_count for cell in code)
    told = outputs(notebook)
    assert not [output for output in told if output.output_type == "error" or output.get("name") == "stderr"]
    assert [output for output in told if "image/png" in output.get("data", {})]
    for before, now in zip(notebooks.shown(kept), notebooks.shown(notebook), strict=True):
        assert now == before, "run python tests/docs/notebooks.py, and look at what changed"


@pytest.mark.parametrize("path", notebooks.NOTEBOOKS, ids=lambda path: path.stem)
def test_a_notebook_is_kept_whole_small_and_without_noise(path: Path) -> None:
    kept = nbformat.read(path, as_version=4)
    code = [cell for cell in kept.cells if cell.cell_type == "code"]
    assert [cell.execution_count for cell in code] == list(range(1, len(code) + 1))
    assert all(not cell.metadata for cell in kept.cells)
    assert path.stat().st_size < MOST_BYTES
    shots = [base64.b64decode(o.data["image/png"]) for o in outputs(kept) if "image/png" in notebooks.pictures(o)]
    assert shots
    assert all(shot.startswith(b"\x89PNG") and shot.endswith(b"IEND\xaeB\x60\x82") for shot in shots)
