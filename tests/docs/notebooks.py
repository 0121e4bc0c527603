# SPDX-License-Identifier: BSD-3-Clause
"""The notebooks, kept as they were executed last, and how they are executed.

python tests/docs/notebooks.py     executes every notebook and keeps what it shows
"""

from __future__ import annotations

import base64
import io
import os
from pathlib import Path
from typing import Any

import faultodds
import nbclient
import nbformat
from PIL import Image

NOTEBOOKS = sorted((Path(__file__).resolve().parents[2] / "notebooks").glob("*.ipynb"))
COLOURS = 16
"""Of a picture as it is kept: they are drawn in shades of grey."""


def execute(path: Path) -> Any:
    """The notebook, run from top to bottom with the package that is imported here, without what changes every time."""
    os.environ["PYTHONPATH"] = str(Path(faultodds.__file__).parents[1])
    notebook = nbformat.read(path, as_version=4)
    nbclient.NotebookClient(notebook, timeout=600, resources={"metadata": {"path": str(path.parent)}}).execute()
    notebook.metadata = {
        "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
        "language_info": {"name": "python"},
    }
    for cell in notebook.cells:
        cell.metadata = {}
        for output in cell.get("outputs", []):
            output.pop("metadata", None)
            if output.output_type in ("display_data", "execute_result"):
                output["metadata"] = {}
    return notebook


def pictures(output: Any) -> list[str]:
    """The kinds of picture that an output holds."""
    return sorted(kind for kind in output.get("data", {}) if kind.startswith("image/"))


def texts(output: Any) -> dict[str, str]:
    """The texts of an output, by kind. The HTML of data frames is left out: versions of pandas style it differently."""
    if output.output_type == "stream":
        return {output.name: output.text}
    kinds = {kind: text for kind, text in output.get("data", {}).items() if kind.startswith("text/")}
    return {kind: text for kind, text in kinds.items() if 'class="dataframe"' not in text}


def shown(notebook: Any) -> list[Any]:
    """What a notebook shows, cell by cell, as far as every run must show the same."""
    return [
        (cell.cell_type, cell.source, [(o.output_type, texts(o), pictures(o)) for o in cell.get("outputs", [])])
        for cell in notebook.cells
    ]


def _smaller(png: str) -> str:
    with Image.open(io.BytesIO(base64.b64decode(png))) as image:
        flat = Image.new("RGB", image.size, "white")
        flat.paste(image, mask=image.getchannel("A") if "A" in image.getbands() else None)
        out = io.BytesIO()
        flat.quantize(COLOURS).save(out, "PNG", optimize=True)
    return base64.b64encode(out.getvalue()).decode()


def keep(path: Path) -> None:
    """Execute a notebook and write it back with what it shows."""
    notebook = execute(path)
    for cell in notebook.cells:
        for output in cell.get("outputs", []):
            if "image/png" in output.get("data", {}):
                output["data"]["image/png"] = _smaller(output["data"]["image/png"])
    nbformat.write(notebook, path)


if __name__ == "__main__":
    for file in NOTEBOOKS:
        keep(file)
