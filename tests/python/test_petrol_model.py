# SPDX-License-Identifier: BSD-3-Clause
"""The low-power petrol model as a file: its size, its works with their cautions, its readings and its sources."""

from __future__ import annotations

import json
import re
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

MODEL: dict[str, Any] = json.loads(
    (Path(__file__).parents[2] / "models" / "low-power-petrol.json").read_text(encoding="utf-8")
)
COMPONENTS: list[dict[str, Any]] = MODEL["components"]
SYMPTOMS: list[dict[str, Any]] = MODEL["symptoms"]
TESTS: list[dict[str, Any]] = MODEL["tests"]
WORKS: list[dict[str, Any]] = MODEL["access"] + TESTS + MODEL["repairs"]


def names(members: list[Any]) -> list[str]:
    return [member if isinstance(member, str) else member["name"] for member in members]


def words(work: dict[str, Any]) -> str:
    return f"{work['label']} {work.get('procedure', '')}".lower()


def all_access(work: dict[str, Any]) -> set[str]:
    """Names of the opening work behind a work, with what that needs in turn."""
    jobs = {job["name"]: job for job in MODEL["access"]}
    found: set[str] = set()
    open_jobs = list(work.get("access", []))
    while open_jobs:
        name = open_jobs.pop()
        found.add(name)
        open_jobs += jobs[name]["needs"]
    return found


def all_cautions(work: dict[str, Any]) -> set[str]:
    """Names of the cautions of a work and of the opening work behind it."""
    jobs = {job["name"]: job for job in MODEL["access"]}
    opened = [jobs[name]["cautions"] for name in all_access(work)]
    return set(work.get("cautions", [])).union(*opened)


def test_it_is_marked_as_invented_and_opens_with_the_safety_text() -> None:
    assert MODEL["invented_data"] is True
    assert "invented" in MODEL["safety"]
    assert "maker" in MODEL["safety"]
    assert "licensed practice" in MODEL["safety"]


def test_it_covers_the_whole_vehicle() -> None:
    listed = [component for component in COMPONENTS if not component.get("remainder")]
    assert len(listed) >= 36
    assert sum(len(component["states"]) - 1 for component in listed) >= 55
    assert {component["system"] for component in listed} == {
        "air", "fuel", "ignition", "exhaust", "sensing and control", "engine", "drag",
    }  # fmt: skip
    assert [component["name"] for component in COMPONENTS if component.get("remainder")] == ["other_fault"]
    assert {"distance", "injection", "induction", "fuelling", "service", "recent_work", "impact"} <= set(
        names(MODEL["context"])
    )


def test_it_has_symptoms_codes_and_tests_enough_for_real_work() -> None:
    codes = [symptom["code"] for symptom in SYMPTOMS if "code" in symptom]
    assert len(SYMPTOMS) >= 40
    assert len(codes) >= 14
    assert len(set(codes)) == len(codes)
    assert len(TESTS) >= 50
    assert any(symptom.get("complaint") for symptom in SYMPTOMS)
    conditions = {condition for symptom in SYMPTOMS for condition in symptom.get("conditions", [])}
    assert {"hot", "cold", "wet", "under load", "after refuelling", "better after a rest"} <= conditions


# SAE J2012 numbers generic powertrain codes P0xxx and P2xxx. The third character names the subsystem: 0 to 2 fuel and
# air metering, 3 ignition and misfire, 4 emission controls, 5 speed, idle and electric supply, 6 computer. From memory.
SUBSYSTEMS = {
    "P00": "camshaft|fuel rail",
    "P01": "mixture|air mass|manifold pressure|throttle|thermostat|coolant|oxygen sensor",
    "P02": "injector|boost",
    "P03": "misfire|coil|knock|crankshaft",
    "P04": "catalyst|exhaust recirculated|vapour",
    "P05": "voltage",
    "P06": "computer",
    "P21": "pedal|throttle",
}


@pytest.mark.parametrize("symptom", [s for s in SYMPTOMS if "code" in s], ids=lambda symptom: symptom["code"])
def test_codes_are_generic_and_say_what_they_mean(symptom: dict[str, Any]) -> None:
    code = symptom["code"]
    assert re.fullmatch(r"P[02][0-9A-F]{3}", code)
    assert symptom["name"] == f"code_{code.lower()}"
    assert re.search(SUBSYSTEMS[code[:3]], symptom["label"])
    assert "SAE J2012" in symptom["source"]


@pytest.mark.parametrize("symptom", [s for s in SYMPTOMS if "code" in s], ids=lambda symptom: symptom["code"])
def test_codes_can_mislead(symptom: dict[str, Any]) -> None:
    effect = symptom["noisy_or"]
    assert effect["leak"] > 0
    causes = effect["causes"]
    strengths = [
        strength
        for cause in causes
        for strength in (cause["strength"].values() if isinstance(cause["strength"], dict) else [cause["strength"]])
    ]
    assert max(strengths) < 1
    assert len(causes) > 1


@pytest.mark.parametrize("work", WORKS, ids=lambda work: work["name"])
def test_works_name_their_cost_and_known_terms(work: dict[str, Any]) -> None:
    assert work["minutes"] > 0
    assert work["money"] >= 0
    assert work["skill"] in names(MODEL["skills"])
    assert work["cost_source"]
    assert set(work.get("tools", [])) <= set(names(MODEL["tools"]))
    assert set(work.get("cautions", [])) <= set(names(MODEL["cautions"]))
    assert set(work.get("access", []) + work.get("needs", [])) <= set(names(MODEL["access"]))


@pytest.mark.parametrize("work", TESTS + MODEL["repairs"], ids=lambda work: work["name"])
def test_dangerous_work_carries_its_caution(work: dict[str, Any]) -> None:
    cautions = all_cautions(work)
    opened = all_access(work)
    if "on_lift" in opened:
        assert "lift_safety" in cautions
    if "rail_port_open" in opened or "tank_hatch_open" in opened:
        assert "fuel_fire" in cautions
    if {"plugs_out", "front_sensor_out"} & opened:
        assert "hot_parts" in cautions
    tools = set(work.get("tools", []))
    if "spark_tester" in tools or work["name"] in {"ignition_scope", "swap_coils", "spray_water"}:
        assert "high_voltage_ignition" in cautions
    if {"exhaust_analyser", "back_pressure_gauge", "vacuum_gauge"} & tools:
        assert "exhaust_gas" in cautions
    if "enrichment_kit" in tools:
        assert "flammable_gas" in cautions
    if re.search(r"on the road\b|second person records|in third gear|hard pull|level road|full pedal", words(work)):
        assert "road_test" in cautions
    if work in TESTS and re.search(r"\bidle\b|rpm|revs", words(work)) and "road_test" not in cautions:
        assert {"exhaust_gas", "moving_parts", "hot_parts"} & cautions


@pytest.mark.parametrize("test", TESTS, ids=lambda test: test["name"])
def test_tests_say_how_they_are_done(test: dict[str, Any]) -> None:
    assert len(test["procedure"].split()) >= 7
    assert "\n" not in test["procedure"]
    assert len(test["states"]) >= 2


@pytest.mark.parametrize("test", [t for t in TESTS if "reading" in t], ids=lambda test: test["name"])
def test_limits_cover_the_scale_once(test: dict[str, Any]) -> None:
    reading = test["reading"]
    assert reading["unit"] in {
        "kPa", "MPa", "V", "kV", "A", "ohm", "kohm", "g/s", "%", "degC", "deg", "mm", "s", "L", "count",
    }  # fmt: skip
    limits = sorted(reading["limits"], key=lambda limit: limit.get("from", float("-inf")))
    assert "from" not in limits[0]
    assert "below" not in limits[-1]
    for lower, upper in pairwise(limits):
        assert lower["below"] == upper["from"]
    assert {limit["outcome"] for limit in limits} == set(names(test["states"]))


def test_many_tests_measure() -> None:
    assert sum("reading" in test for test in TESTS) >= 30


def test_every_component_can_be_repaired_in_every_fault() -> None:
    for component in COMPONENTS:
        repairs = [repair for repair in MODEL["repairs"] if repair["component"] == component["name"]]
        faults = set(names(component["states"])[1:])
        mended = {fault for repair in repairs for fault in repair.get("mends", faults)}
        assert mended == faults, component["name"]
        assert all(0 < repair["success"] < 1 for repair in repairs)


@pytest.mark.parametrize(
    "member", MODEL["context"] + COMPONENTS + SYMPTOMS + TESTS + MODEL["repairs"], ids=lambda member: member["name"]
)
def test_numbers_own_up_to_having_no_source(member: dict[str, Any]) -> None:
    assert "common practice, no source" in member["source"]


def test_looks_prove_less_than_measurements() -> None:
    """A look finds its fault in a third to two thirds of the cases; an element held against a lamp shows more."""
    looks = [test for test in TESTS if test["name"].startswith("look_") and "noisy_or" in test]
    assert looks
    for test in looks:
        for cause in test["noisy_or"]["causes"]:
            strength = cause["strength"]
            assert max(strength.values() if isinstance(strength, dict) else [strength]) <= 0.75, test["name"]
