# SPDX-License-Identifier: BSD-3-Clause
"""Advice as data: what it proposes, and what was passed over."""

from __future__ import annotations

import pickle
from pathlib import Path

import pytest

faultodds = pytest.importorskip("faultodds")

MODELS = Path(__file__).parents[2] / "models"


def dark() -> faultodds.Case:
    case = faultodds.Case(faultodds.Solver(faultodds.read_model(MODELS / "tutorial.json")))
    case.add_finding("dark", "present")
    return case


def test_a_vehicle_without_a_complaint_is_asked_about_first() -> None:
    case = faultodds.Case(faultodds.Solver(faultodds.read_model(MODELS / "tutorial.json")))
    assert not faultodds.has_complaint(case)
    proposed = faultodds.advise(case).proposed
    assert isinstance(proposed.step, faultodds.AskStep)
    assert set(proposed.step.variables) <= set(faultodds.opening_questions(case))


def test_a_declined_test_is_not_proposed_and_a_step_passed_over_does_not_lead() -> None:
    case = dark()
    ranked = [test.test for test in faultodds.rank_tests(case).tests]
    first = faultodds.advise(case, progress=faultodds.JobProgress(declined=ranked)).proposed.step
    assert not isinstance(first, faultodds.TestStep)
    progress = faultodds.JobProgress(declined=ranked, passed_over=(first,))
    assert faultodds.advise(case, progress=progress).proposed.step != first
    with pytest.raises(TypeError, match="passed_over"):
        faultodds.advise(case, progress=faultodds.JobProgress(passed_over=("look",)))


def test_advice_is_an_immutable_value() -> None:
    advice = faultodds.advise(dark(), means=faultodds.Means(tools=["multimeter"]))
    assert pickle.loads(pickle.dumps(advice)) == advice
    with pytest.raises(AttributeError):
        advice.priced = False  # type: ignore[misc]
    assert list(advice.alternatives.to_frame()["label"]) == [step.label for step in advice.alternatives]
