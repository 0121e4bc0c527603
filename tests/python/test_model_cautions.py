# SPDX-License-Identifier: BSD-3-Clause
"""Kinds of step that never come without their caution, in every model. Common practice, no source."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

MODELS = Path(__file__).parents[2] / "models"
ENGINES = [
    json.loads((MODELS / f"{name}.json").read_text(encoding="utf-8"))
    for name in ("low-power-petrol", "low-power-diesel", "no-start-petrol")
]

# What a procedure says -> words of which at least one must be in the cautions of the step or of the opening work
# before it.
KINDS = {
    "a running engine gives off exhaust gas": (
        r"\bidle\b|\bidling\b|engine running|\brpm\b|\brevs?\b|then run for|\bsnap",
        ("exhaust gas", "exhaust poisons", "road"),
    ),
    "cranking turns belts and fan": (
        r"\bcrank (?!sensor)|while cranking",
        ("moving", "turns", "start without warning"),
    ),
    "fuel vapour is about": (r"tank filler|ear at the filler|tank cap|fuel sample|\bfeed line", ("fire",)),
    "work under a raised vehicle": (r"on the lift", ("lift",)),
    "cooling systems scald": (r"\bopen tank\b|pump to the cap", ("cooling system", "coolant")),
    "flaps and valves moved by command": (r"command (open|and|the|each)", ("fingers", "moving", "exhaust gas")),
    "sprays burn": (r"special cleaner|cleaner on a cloth|\bspray can\b", ("burns", "fire")),
}


def steps(model: dict[str, Any]) -> list[dict[str, Any]]:
    return [*model["tests"], *model["repairs"]]


def cautions_text(model: dict[str, Any], step: dict[str, Any]) -> str:
    jobs = {job["name"]: job for job in model["access"]}
    texts = {caution["name"]: f"{caution['label']} {caution['text']}" for caution in model["cautions"]}
    open_, names = list(step.get("access", [])), list(step.get("cautions", []))
    while open_:
        job = jobs[open_.pop()]
        names += job.get("cautions", [])
        open_ += job.get("needs", [])
    return " ".join(texts[name] for name in names).lower()


@pytest.mark.parametrize("kind", KINDS)
def test_no_step_of_this_kind_comes_without_its_caution(kind: str) -> None:
    said, words = KINDS[kind]
    met = 0
    bare = []
    for model in ENGINES:
        for step in steps(model):
            if not re.search(said, step.get("procedure", ""), re.IGNORECASE):
                continue
            met += 1
            text = cautions_text(model, step)
            if not any(word in text for word in words):
                bare.append((model["name"], step["name"], step["procedure"]))
    assert met > 0
    assert bare == []
