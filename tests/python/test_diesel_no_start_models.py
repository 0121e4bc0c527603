# SPDX-License-Identifier: BSD-3-Clause
"""The diesel and the no-start model as data: how much they hold, where it comes from, and that dangers are named."""

from __future__ import annotations

import itertools
import json
import re
from pathlib import Path
from typing import Any

import pytest

MODELS = Path(__file__).parents[2] / "models"
NAMES = ["low-power-diesel", "no-start-petrol"]
LEAST = {
    "low-power-diesel": {"components": 30, "symptoms": 25, "codes": 14, "tests": 30, "context": 5},
    "no-start-petrol": {"components": 24, "symptoms": 25, "codes": 10, "tests": 30, "context": 5},
}

# Words of a procedure or label, and the cautions of which at least one must come with them. Common practice, no
# source.
DANGERS = {
    r"^Third gear|[Rr]oad test|\bclimb\b|[Dd]rive (ten|the same)|Open road": {"road_test"},
    r"leak-off|rail valve|[Bb]lanking caps|of the rail sensor": {"high_pressure_fuel"},
    r"idling|idle\b": {"exhaust_gas", "moving_parts"},
    r"crank (each|five|ten|two|three|with|in|:)|while cranking|, crank\b": {"moving_parts", "rolling_vehicle"},
    r"[Ff]uel pressure|[Gg]auge on the rail|sample of|fuel sample|litres of|at the pump plug|fuel filter": {
        "fuel_fire"
    },
    r"[Ss]park tester|spark plugs? out|leads and coil|the coil\b|Plugs in order": {"high_voltage_ignition"},
    r"[Ii]ntake duct|turbocharger inlet": {"suction"},
    r"[Bb]elt cover|Cover off, turn|locking pins": {"belt_timing"},
    r"(oil|Oil) filler cap or upper|whirr": {"no_more_cranking"},
    r"inertia": {"impact_check"},
    r"steering column|ignition switch's": {"airbag"},
    r"air on\b": {"compressed_air"},
    r"Neutral|neutral, brake off": {"rolling_vehicle"},
}


def load(name: str) -> dict[str, Any]:
    model: dict[str, Any] = json.loads((MODELS / f"{name}.json").read_text(encoding="utf-8"))
    return model


@pytest.fixture(params=NAMES)
def model(request: pytest.FixtureRequest) -> dict[str, Any]:
    return load(request.param)


@pytest.mark.parametrize("name", NAMES)
def test_it_is_of_real_size(name: str) -> None:
    model = load(name)
    codes = [symptom for symptom in model["symptoms"] if "code" in symptom]
    counts = {kind: len(model[kind]) for kind in ("components", "symptoms", "tests", "context")} | {"codes": len(codes)}
    assert {kind: count for kind, count in LEAST[name].items() if counts[kind] < count} == {}


def test_it_says_that_its_numbers_are_invented(model: dict[str, Any]) -> None:
    assert model["invented_data"] is True
    assert "invented" in model["safety"]
    assert "maker" in model["safety"]
    assert "licensed" in model["safety"]
    assert (model["currency"], model["labour_rate"]) == ("EUR", 66)


def test_every_number_has_a_source_and_none_is_borrowed(model: dict[str, Any]) -> None:
    allowed = re.compile(r"common practice, no source|meaning of the code: SAE J2012, .*common practice, no source")
    for kind in ("context", "components", "symptoms", "tests", "repairs"):
        for entry in model[kind]:
            assert allowed.fullmatch(entry["source"]), entry["name"]
    for kind in ("access", "tests", "repairs"):
        for entry in model[kind]:
            assert entry["cost_source"] == "common practice, no source", entry["name"]
    for test in model["tests"]:
        if "reading" in test:
            assert test["reading"]["source"] == "common practice, no source", test["name"]


def test_codes_have_the_form_of_the_standard(model: dict[str, Any]) -> None:
    """SAE J2012: a letter for the system, then four hexadecimal digits, the first of them 0 to 3."""
    for symptom in model["symptoms"]:
        if "code" in symptom:
            assert re.fullmatch(r"P[0-3][0-9A-F]{3}", symptom["code"])
            assert symptom["name"] == "code_" + symptom["code"].lower()
            assert symptom["label"].startswith(symptom["code"] + ": ")
            assert "SAE J2012" in symptom["source"]


def access_cautions(model: dict[str, Any], names: list[str]) -> set[str]:
    """Cautions of the opening work before a step, with what that needs in turn."""
    jobs = {job["name"]: job for job in model["access"]}
    found: set[str] = set()
    for name in names:
        found |= set(jobs[name]["cautions"]) | access_cautions(model, jobs[name]["needs"])
    return found


def test_every_dangerous_step_carries_its_caution(model: dict[str, Any]) -> None:
    known = {caution["name"] for caution in model["cautions"]}
    unguarded = []
    for step in model["tests"]:
        text = f"{step['label']}. {step['procedure']}"
        carried = set(step["cautions"]) | access_cautions(model, step["access"])
        for words, cautions in DANGERS.items():
            needed = cautions & known
            if needed and re.search(words, text, flags=re.MULTILINE) and not needed & carried:
                unguarded.append((step["name"], words, sorted(needed)))
    assert unguarded == []


def test_work_under_a_lifted_vehicle_says_so_itself(model: dict[str, Any]) -> None:
    jobs = {job["name"]: job for job in model["access"]}

    def lifted(names: list[str]) -> bool:
        return any(name == "lift_up" or lifted(jobs[name]["needs"]) for name in names)

    for step in [*model["tests"], *model["repairs"]]:
        if lifted(step["access"]):
            assert "lifted_vehicle" in step["cautions"], step["name"]


def test_cautions_give_advice_and_every_one_is_used(model: dict[str, Any]) -> None:
    used = {caution for kind in ("access", "tests", "repairs") for step in model[kind] for caution in step["cautions"]}
    assert used == {caution["name"] for caution in model["cautions"]}
    for caution in model["cautions"]:
        assert len(caution["text"].split()) >= 12, caution["name"]


def test_every_tool_and_access_job_is_used(model: dict[str, Any]) -> None:
    steps = [step for kind in ("conditions", "access", "tests", "repairs") for step in model[kind]]
    assert {tool for step in steps for tool in step.get("tools", [])} == {tool["name"] for tool in model["tools"]}
    opened = {job for kind in ("tests", "repairs") for step in model[kind] for job in step["access"]}
    opened |= {job for step in model["access"] for job in step["needs"]}
    assert opened == {job["name"] for job in model["access"]}


def test_every_component_can_be_repaired_and_the_remainder_is_one(model: dict[str, Any]) -> None:
    repaired = {repair["component"] for repair in model["repairs"]}
    assert {component["name"] for component in model["components"]} == repaired
    assert [component["name"] for component in model["components"] if component.get("remainder")] == ["other_fault"]


def parents(entry: dict[str, Any]) -> list[str]:
    """What the table of a test depends on."""
    if "examines" in entry:
        return [entry["examines"]["component"]]
    if "table" in entry:
        return list(entry["table"]["given"])
    noisy = entry.get("noisy_or") or entry["noisy_max"]
    return [cause["of"] for cause in noisy["causes"]]


def test_every_component_but_the_remainder_is_seen_by_a_test(model: dict[str, Any]) -> None:
    seen = {parent for test in model["tests"] for parent in parents(test)}
    assert {component["name"] for component in model["components"]} - seen == {"other_fault"}


def test_tests_look_at_components_alone_and_at_no_more_than_a_dozen(model: dict[str, Any]) -> None:
    components = {component["name"] for component in model["components"]}
    for test in model["tests"]:
        assert set(parents(test)) <= components, test["name"]
        assert len(parents(test)) <= 12, test["name"]


def test_every_reading_has_a_unit_and_limits_that_join(model: dict[str, Any]) -> None:
    readings = [test["reading"] for test in model["tests"] if "reading" in test]
    assert len(readings) >= 15
    for reading in readings:
        assert reading["unit"], reading["quantity"]
        bands = sorted(reading["limits"], key=lambda band: band.get("from", float("-inf")))
        assert "from" not in bands[0], reading["quantity"]
        assert "below" not in bands[-1], reading["quantity"]
        for lower, upper in itertools.pairwise(bands):
            assert lower["below"] == upper["from"], reading["quantity"]


def test_procedures_are_one_real_line(model: dict[str, Any]) -> None:
    for step in [*model["tests"], *model["repairs"]]:
        assert "\n" not in step["procedure"]
        assert len(step["procedure"].split()) >= 4, step["name"]
        assert step["minutes"] > 0, step["name"]
        assert step["money"] >= 0, step["name"]


def test_no_component_is_worse_than_rare_without_a_reason(model: dict[str, Any]) -> None:
    """Faults given no context are rare; only a strong reason (context or a cause) lifts one above a fifth."""
    for component in model["components"]:
        table = component.get("table", {})
        usual = component.get("prior", table.get("otherwise"))
        chances = list(usual.values()) if isinstance(usual, dict) else [usual]
        assert all(0 <= chance <= 0.05 for chance in chances), component["name"]
        for row in table.get("rows", []):
            chances = list(row["p"].values()) if isinstance(row["p"], dict) else [row["p"]]
            assert sum(chances) <= 0.5, component["name"]
