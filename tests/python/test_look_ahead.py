# SPDX-License-Identifier: BSD-3-Clause
"""Two tests in a row, as records."""

from __future__ import annotations

from pathlib import Path

import faultodds
import pytest

TUTORIAL = Path(__file__).parents[2] / "models" / "tutorial.json"


def dark() -> faultodds.Case:
    case = faultodds.Case(faultodds.Solver(faultodds.read_model(TUTORIAL)))
    case.add_finding("dark", "present")
    return case


def test_two_tests_ahead_are_worth_at_least_the_first() -> None:
    case = dark()
    ahead = faultodds.look_ahead(case, candidates=3)
    assert 1 <= len(ahead.tests) <= 3
    ranked = {forecast.test: forecast for forecast in faultodds.rank_tests(case).tests}
    for two in ahead.tests:
        assert two.first_gain_bits == pytest.approx(ranked[two.first].gain_bits, abs=1e-10)
        assert two.gain_bits >= two.first_gain_bits
        assert two.gain_bits == pytest.approx(
            two.first_gain_bits + sum(second.probability * second.gain_bits for second in two.second), abs=1e-10
        )
        assert sum(second.probability for second in two.second) == pytest.approx(1.0, abs=1e-10)
        assert all(second.test != two.first for second in two.second)
    merits = [two.gain_per_cost for two in ahead.tests]
    assert merits == sorted(merits, reverse=True)
    with pytest.raises(faultodds.ArgumentError):
        faultodds.look_ahead(case, candidates=0)
