# SPDX-License-Identifier: BSD-3-Clause
"""Invented cases of tests/cases/walks.json, walked to their end: cured by the right repair and checked, or handed over.

What stands under `end` was judged as common practice, no source: the repair is the one for the fault, dear repairs and
causes that no model lists are handed over. Cases marked `long` run where FAULTODDS_LONG_TESTS is set.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Callable
from decimal import Decimal
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from program_runs import ROOT, program
from vehicle_walk import Walk, joined_lines, walk_case

program()
FILE = ROOT / "tests" / "cases" / "walks.json"
CASES: list[dict[str, Any]] = json.loads(FILE.read_text(encoding="utf-8"))["cases"]
LONG = os.environ.get("FAULTODDS_LONG_TESTS", "")


def cautions_of(model: dict[str, Any], work: dict[str, Any]) -> list[str]:
    texts = {caution["name"]: f"CAUTION {caution['label']}: {caution['text']}" for caution in model["cautions"]}
    return [joined_lines(texts[name]) for name in work.get("cautions", [])]


def check_cautions_stand_first(model: dict[str, Any], transcript: str) -> None:
    """Every proposed test and every repair shows its cautions before it says how it is done."""
    tests = {test["name"]: test for test in model["tests"]}
    repairs = {repair["label"]: repair for repair in model["repairs"]}
    for step in re.split(r"\n(?=Next test: |Repair: )", transcript)[1:]:
        named = re.match(r"Next test: (?:[^\[]|\n)*?\[(\w+)\]", step)
        work = tests[named.group(1)] if named else repairs[step.splitlines()[0].removeprefix("Repair: ")]
        before = joined_lines(step.split("\n  How ")[0])
        for caution in cautions_of(model, work):
            assert caution in before, f"{work['name']}: {caution}"


def check_report(walk: Walk, folder: Path) -> None:
    """The costs add up to the cent, each step and the sums; the page is well-formed and names what was done."""
    steps, sums = walk.report["steps"], walk.report["sums"]
    for step in steps:
        assert Decimal(step["money"]) + Decimal(step["labour"]) == Decimal(step["cost"])
    for part in ("money", "labour", "cost"):
        assert sum(Decimal(step[part]) for step in steps) == Decimal(sums[part]), part
    assert float(sum(Decimal(step["minutes"]) for step in steps)) == pytest.approx(float(sums["minutes"]), rel=1e-12)
    kinds = [step["kind"] for step in steps]
    assert kinds.count("repair") == len(walk.repairs)
    assert kinds.count("hand_over") == (1 if walk.end == "handed over" else 0)
    page = ElementTree.fromstring((folder / "report.html").read_text(encoding="utf-8").split("\n", 1)[1])
    assert f"{Decimal(sums['cost']):.2f}" in joined_lines("".join(page.itertext()))


def test_the_cases_are_marked_as_invented() -> None:
    assert "invented" in json.loads(FILE.read_text(encoding="utf-8"))["description"].lower()
    names = [case["name"] for case in CASES]
    assert len(set(names)) == len(names)


# What the cases of each model hold between them.
KINDS: dict[str, Callable[[dict[str, Any]], bool]] = {
    "a cause that the model does not list": lambda case: bool({"other", "other_fault"} & set(case["fault"])),
    "few tools": lambda case: "--have-tool" in case.get("options", []),
    "little skill": lambda case: "--skill" in case.get("options", []),
    "readings in another unit": lambda case: case.get("other_units", False),
    "a repair that does not take": lambda case: bool(case.get("fails_first")),
    "facts about the vehicle": lambda case: bool(case.get("context")),
    "a second fault behind the first": lambda case: len(case["fault"]) > 1,
}


@pytest.mark.parametrize("model", sorted({case["model"] for case in CASES}))
def test_every_model_is_walked_ten_times_in_all_kinds_of_case(model: str) -> None:
    cases = [case for case in CASES if case["model"] == model]
    assert len(cases) >= 10
    assert [kind for kind, is_one in KINDS.items() if not any(map(is_one, cases))] == []


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_a_case_comes_to_its_right_end(case: dict[str, Any], tmp_path: Path) -> None:
    if case.get("long") and not LONG:
        pytest.skip("long: set FAULTODDS_LONG_TESTS to walk it")
    walk = walk_case(case, tmp_path)
    model = json.loads((ROOT / "models" / f"{case['model']}.json").read_text(encoding="utf-8"))
    must = case["must"]
    assert walk.end == must["end"], walk.transcript[-3000:]
    assert len(walk.tests) <= must["max_tests"], walk.tests
    assert walk.cost <= must["max_cost"], walk.cost
    if walk.end == "cured":
        assert walk.repairs[-1] == must["repair"]
        assert len(walk.repairs) <= must.get("max_repairs", 1), walk.repairs
        assert float(walk.sure.removesuffix(" %")) >= 80
        assert len(walk.repairs) >= len(case["fault"])
    assert set(case.get("fails_first", [])) <= set(walk.repairs)
    if must.get("readings"):
        assert walk.readings
    check_cautions_stand_first(model, walk.transcript)
    check_report(walk, tmp_path)
