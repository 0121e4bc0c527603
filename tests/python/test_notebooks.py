# SPDX-License-Identifier: BSD-3-Clause
"""Every notebook runs from top to bottom, and is kept without outputs.

FAULTODDS_PICTURES names a folder to put the pictures into, for looking at them.
"""

from __future__ import annotations

import base64
import os
from pathlib import Path
from typing import Any

import faultodds
import pytest

nbformat = pytest.importorskip("nbformat")
nbclient = pytest.importorskip("nbclient")
pytest.importorskip("ipykernel")
pytest.importorskip("matplotlib")
pytest.importorskip("pandas")

NOTEBOOKS = sorted((Path(__file__).parents[2] / "notebooks").glob("*.ipynb"))


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


def test_there_are_notebooks() -> None:
    assert NOTEBOOKS


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
@pytest.mark.filterwarnings("ignore::DeprecationWarning")  # of the packages that run notebooks
def test_a_notebook_runs_and_shows_something(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONPATH", str(Path(faultodds.__file__).parents[1]))
    notebook = nbformat.read(path, as_version=4)
    nbclient.NotebookClient(notebook, timeout=600, resources={"metadata": {"path": str(path.parent)}}).execute()
    keep_pictures(notebook, path.stem)
    code = [cell for cell in notebook.cells if cell.cell_type == "code"]
    assert all(cell.execution_count for cell in code)
    told = [output for cell in code for output in cell.outputs]
    assert not [output for output in told if output.output_type == "error" or output.get("name") == "stderr"]
    assert [output for output in told if "image/png" in output.get("data", {})]


@pytest.mark.parametrize("path", NOTEBOOKS, ids=lambda path: path.stem)
def test_a_notebook_is_kept_without_outputs(path: Path) -> None:
    for cell in nbformat.read(path, as_version=4).cells:
        assert not cell.get("outputs")
        assert cell.get("execution_count") is None
