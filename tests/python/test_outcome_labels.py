# SPDX-License-Identifier: BSD-3-Clause
"""Every outcome of every test of our models says at once what was seen. Common practice, no source."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

MODELS = sorted(
    path for path in (Path(__file__).parents[2] / "models").glob("*.json") if not path.name.endswith(".schema.json")
)
# Words that judge, and leave open what was seen.
BARE = {"good", "bad", "normal", "abnormal", "ok", "fine", "faulty", "positive", "negative", "yes", "no"}


def outcomes(test: dict[str, Any]) -> list[dict[str, str]]:
    """Names and labels; a test without states has the usual two, without labels."""
    states = test.get("states", ["good", "bad"])
    return [{"name": state} if isinstance(state, str) else state for state in states]


@pytest.mark.parametrize("file", MODELS, ids=lambda file: file.stem)
def test_every_outcome_has_a_label_that_says_what_was_seen(file: Path) -> None:
    tests = json.loads(file.read_text(encoding="utf-8"))["tests"]
    assert tests
    bare = [
        (test["name"], outcome)
        for test in tests
        for outcome in outcomes(test)
        if outcome.get("label", "").strip().lower() in BARE | {""}
    ]
    assert bare == []


@pytest.mark.parametrize("file", MODELS, ids=lambda file: file.stem)
def test_the_labels_of_one_test_are_short_and_differ(file: Path) -> None:
    for test in json.loads(file.read_text(encoding="utf-8"))["tests"]:
        labels = [outcome.get("label", outcome["name"]) for outcome in outcomes(test)]
        assert len(set(labels)) == len(labels), test["name"]
        assert all(len(label) <= 70 for label in labels), (test["name"], labels)
