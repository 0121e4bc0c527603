# SPDX-License-Identifier: BSD-3-Clause
"""The growth study of benchmarks/growth.py runs, and its slopes are such as the algorithms explain."""

from __future__ import annotations

import json
import math
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

STUDY = Path(__file__).resolve().parents[2] / "benchmarks" / "growth.py"
WAYS = {"compile", "posteriors", "changed"}


@pytest.fixture(scope="module")
def studies(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, Any]]:
    folder = tmp_path_factory.mktemp("growth")
    report = folder / "growth.json"
    command = [sys.executable, str(STUDY), "--quick", "--json", str(report), "--plot", str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, timeout=300, check=False)
    assert done.returncode == 0, done.stderr
    found = json.loads(report.read_text(encoding="utf-8"))["studies"]
    assert all((folder / f"growth-{study['name']}.png").stat().st_size > 10_000 for study in found)
    assert all(slope["name"] in done.stdout for study in found for slope in study["slopes"].values())
    return {study["name"]: study for study in found}


def test_every_size_is_studied(studies: dict[str, dict[str, Any]]) -> None:
    assert set(studies) == {"findings", "abnormal", "components", "causes", "width"}


@pytest.mark.parametrize("name", ["findings", "abnormal", "components", "causes", "width"])
def test_slopes_are_finite_and_sane(studies: dict[str, dict[str, Any]], name: str) -> None:
    study = studies[name]
    assert set(study["slopes"]) == WAYS
    for slope in study["slopes"].values():
        assert math.isfinite(slope["slope"])
        assert math.isfinite(slope["standard_error"])
        # Work that doubles with each unit of width (Lauritzen & Spiegelhalter 1988: tables of the cliques) has slope 1
        # on the semi-logarithmic axes; a cubic has 3 on the others. Below zero there is only noise.
        assert -1.0 < slope["slope"] < (2.0 if study["exponential"] else 4.0), slope


def test_points_tell_the_sizes_and_the_spread(studies: dict[str, dict[str, Any]]) -> None:
    for study in studies.values():
        sizes = [point["size"] for point in study["points"]]
        assert sizes == sorted(sizes)
        for point in study["points"]:
            for way in WAYS:
                assert 0.0 < point["fastest"][way] <= point["seconds"][way] <= point["slowest"][way] < 60.0


def test_the_solver_finds_the_width_that_chordal_graphs_have(studies: dict[str, dict[str, Any]]) -> None:
    # Each variable and the w before it are a clique, and no larger one exists: the treewidth of a chordal graph is the
    # size of its largest clique less one (Lauritzen & Spiegelhalter 1988, section 4).
    assert [point["size"] for point in studies["width"]["points"]] == [3, 6, 9]
