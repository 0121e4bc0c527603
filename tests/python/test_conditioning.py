# SPDX-License-Identifier: BSD-3-Clause
"""Posteriors by conditioning: the same as those of a case, also if the case is refused for memory."""

from __future__ import annotations

import itertools
import random
from pathlib import Path

import faultodds
import pytest


def grid(side: int, file: Path) -> faultodds.FaultModel:
    """Each variable depends on the one above and the one to the left, with numbers from a seed."""
    numbers = random.Random(5)
    text = "network grid {}\n"
    for i in range(side * side):
        text += f"variable v{i} {{ type discrete [ 2 ] {{ no, yes }}; }}\n"
        parents = [f"v{i - side}"] * (i >= side) + [f"v{i - 1}"] * (i % side > 0)
        rows = []
        for states in itertools.product(("no", "yes"), repeat=len(parents)):
            p = numbers.uniform(0.05, 0.95)
            rows.append(f"({', '.join(states)}) {1 - p!r}, {p!r};" if parents else f"table {1 - p!r}, {p!r};")
        given = f" | {', '.join(parents)}" if parents else ""
        text += f"probability ( v{i}{given} ) {{ {' '.join(rows)} }}\n"
    file.write_text(text, encoding="utf-8")
    return faultodds.read_model(file)


def test_a_case_that_is_refused_for_memory_is_answered_exactly(tmp_path: Path) -> None:
    model = grid(9, tmp_path / "grid.bif")
    case = faultodds.Case(faultodds.Solver(model))
    case.add_finding("v80", "yes")
    small = faultodds.Solver(model, memory_limit_bytes=200_000)
    with pytest.raises(faultodds.TooLarge, match="condition"):
        faultodds.Case(small).add_finding("v80", "yes")
    found = faultodds.posteriors_by_conditioning(small, case.findings())
    assert found.on
    assert found.cases == 2 ** len(found.on)
    assert found.log_evidence == pytest.approx(case.log_evidence(), abs=1e-10)
    for one, exact in zip(found.posteriors, case.posteriors(), strict=True):
        assert (one.variable, one.state) == (exact.variable, exact.state)
        assert one.probability == pytest.approx(exact.probability, abs=1e-10)
    by_hand = faultodds.posteriors_by_conditioning(faultodds.Solver(model), case.findings(), on=["v40", "v3"])
    assert by_hand.cases == 4
    assert by_hand.posteriors.by_variable()["v7"] == pytest.approx(found.posteriors.by_variable()["v7"], abs=1e-10)


def test_what_cannot_be_conditioned_on_is_refused(tmp_path: Path) -> None:
    model = grid(3, tmp_path / "grid.bif")
    solver = faultodds.Solver(model)
    case = faultodds.Case(solver)
    case.add_finding("v8", "yes")
    with pytest.raises(faultodds.ArgumentError, match="has a finding"):
        faultodds.posteriors_by_conditioning(solver, case.findings(), on=["v8"])
    with pytest.raises(faultodds.UnknownName, match="v9"):
        faultodds.posteriors_by_conditioning(solver, on=["v9"])
    with pytest.raises(faultodds.TooLarge, match="more cases"):
        faultodds.posteriors_by_conditioning(solver, on=["v0", "v1", "v2"], max_cases=4)
