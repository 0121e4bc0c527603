# SPDX-License-Identifier: BSD-3-Clause
"""Readings through the package: units against a reference library, findings from numbers, examples of the README."""

from __future__ import annotations

import json
import math
import re
from pathlib import Path
from statistics import NormalDist
from typing import Any

import pytest

faultodds = pytest.importorskip("faultodds")

ROOT = Path(__file__).parents[2]

# The names under which the reference library (pint, from the Python package index) knows our units.
NAMES_ELSEWHERE = {
    "1": "dimensionless",
    "%": "percent",
    "inHg": "inch_Hg",
    "inH2O": "inch_H2O",
    "mmH2O": "0.1 cmH2O",
    "kgf/cm2": "kgf/cm**2",
    "mohm": "mohm",
    "Mohm": "Mohm",
    "PS": "metric_horsepower",
    "hp": "horsepower",
    "degF": "degF",
    "K": "kelvin",
    "mil": "thou",
    "mi": "mile",
    "in": "inch",
    "um": "micrometer",
    "us": "microsecond",
    "uV": "microvolt",
    "uA": "microampere",
    "uF": "microfarad",
    "oz": "ounce",
    "lb/min": "pound/minute",
    "lb/h": "pound/hour",
    "lb": "pound",
    "mph": "mile/hour",
    "1/s": "1/second",
    "1/min": "1/minute",
    "h": "hour",
    "km/h": "km/hour",
    "kg/h": "kg/hour",
    "l/h": "liter/hour",
    "m3/h": "m**3/hour",
    "g/cm3": "g/cm**3",
    "kg/m3": "kg/m**3",
    "mm3": "mm**3",
    "cm3": "cm**3",
    "m3": "m**3",
    "gal(US)": "US_liquid_gallon",
    "qt(US)": "US_liquid_quart",
    "pt(US)": "US_pint",
    "floz(US)": "US_fluid_ounce",
    "gal(UK)": "imperial_gallon",
    "gal(US)/h": "US_liquid_gallon/hour",
    "Nm": "newton*meter",
    "lbf": "force_pound",
    "lbf.ft": "force_pound*foot",
    "lbf.in": "force_pound*inch",
    "kgf.m": "kgf*meter",
    "deg": "degree",
    "rad": "radian",
    "Torr": "torr",
}
# Counts, levels and amounts a stroke are no units to it.
ONLY_OURS = {"count", "dB", "mg/stroke", "g/stroke"}


def test_every_factor_is_that_of_a_reference_library() -> None:
    pint = pytest.importorskip("pint", reason="pint is the reference for units")
    registry = pint.UnitRegistry()
    by_quantity: dict[str, list[Any]] = {}
    for unit in faultodds.units():
        if unit.symbol not in ONLY_OURS:
            by_quantity.setdefault(unit.quantity, []).append(unit)
    compared = 0
    for quantity, (base, *others) in by_quantity.items():
        for unit in (base, *others):
            ours = faultodds.convert_difference(1.0, unit.symbol, base.symbol)
            if quantity == "temperature":
                there = registry.Quantity(1.0, "delta_" + unit.symbol if unit.symbol != "K" else "kelvin")
                theirs = there.to("delta_degC").magnitude
            else:
                there, in_base = (
                    1.0 * registry.parse_expression(NAMES_ELSEWHERE.get(one.symbol, one.symbol)) for one in (unit, base)
                )
                theirs = (there / in_base).to("dimensionless").magnitude
            assert ours == pytest.approx(theirs, rel=1e-14), (unit.symbol, base.symbol)
            compared += 1
    assert compared >= 95


@pytest.mark.parametrize("value", [-40.0, 0.0, 98.6, 212.0])
def test_temperatures_are_those_of_a_reference_library(value: float) -> None:
    pint = pytest.importorskip("pint", reason="pint is the reference for units")
    registry = pint.UnitRegistry()
    for to in ("degC", "K"):
        theirs = registry.Quantity(value, "degF").to("kelvin" if to == "K" else to).magnitude
        assert faultodds.convert(value, "degF", to) == pytest.approx(theirs, abs=1e-11)


def model_with(**reading: Any) -> Any:
    return (
        faultodds.ModelBuilder("pumps")
        .add_component("pump", states=["sound", "worn"], prior=0.2)
        .add_test(
            "pressure",
            minutes=5,
            states=["good", "low"],
            examines={"component": "pump", "detects": 0.9, "false_alarm": 0.05},
            reading={
                "quantity": "pressure",
                "unit": "kPa",
                "limits": [{"outcome": "low", "below": 300}, {"outcome": "good", "from": 300}],
                "at_least": 0,
                **reading,
            },
        )
        .build()
    )


def test_a_reading_beside_a_limit_weighs_the_outcomes_by_the_normal_error() -> None:
    model = model_with(gauge_error=8)
    finding = faultodds.finding_from_reading(model, "pressure", 43, "psi")
    gauge = NormalDist(43 * 6.894757293168361, 8)
    low = gauge.cdf(300)
    assert finding.state is None
    assert finding.weights["low"] / finding.weights["good"] == pytest.approx(low / (1 - low), rel=1e-12)
    case = faultodds.Case(faultodds.Solver(model))
    case.add(finding)
    # By hand: P(reading | pump) = sum over the outcomes of P(outcome | pump) times its weight.
    worn = 0.2 * (0.9 * low + 0.1 * (1 - low))
    sound = 0.8 * (0.05 * low + 0.95 * (1 - low))
    assert case.posterior("pump")["worn"] == pytest.approx(worn / (worn + sound), rel=1e-12)


def test_a_reading_far_from_limits_is_a_hard_finding() -> None:
    assert faultodds.finding_from_reading(model_with(gauge_error=8), "pressure", 2.5, "bar") == faultodds.Finding(
        "pressure", "low"
    )
    assert faultodds.finding_from_reading(model_with(), "pressure", 300, "kPa") == faultodds.Finding("pressure", "good")


def test_spreads_weigh_by_their_densities() -> None:
    model = model_with(
        spreads=[
            {"outcome": "good", "normal": {"mean": 350, "sd": 15}},
            {"outcome": "low", "lognormal": {"median": 200, "log_sd": 0.3}},
        ]
    )
    finding = faultodds.finding_from_reading(model, "pressure", 310, "kPa")
    good = NormalDist(350, 15).pdf(310)
    low = NormalDist(math.log(200), 0.3).pdf(math.log(310)) / 310
    assert finding.weights["low"] / finding.weights["good"] == pytest.approx(low / good, rel=1e-12)


def test_readings_again() -> None:
    model = model_with(gauge_error=8)
    once = faultodds.finding_from_reading(model, "pressure", 306, "kPa")
    twice = faultodds.finding_from_readings(model, "pressure", ["304 kPa", faultodds.Measured(3.08, "bar")])
    gauge = NormalDist(306, 8 / math.sqrt(2))
    assert twice.weights["low"] / twice.weights["good"] == pytest.approx(gauge.cdf(300) / (1 - gauge.cdf(300)))
    again = faultodds.finding_from_readings(model, "pressure", "306 kPa; 306 kPa", errors="same_instrument")
    assert again == once
    with pytest.raises(faultodds.ArgumentError, match="measure again"):
        faultodds.finding_from_readings(model, "pressure", "280 kPa; 330 kPa")
    with pytest.raises(faultodds.ArgumentError, match="same_instrument"):
        faultodds.finding_from_readings(model, "pressure", "306 kPa", errors="none")


def test_wrong_readings_are_refused_with_what_would_do() -> None:
    model = model_with()
    with pytest.raises(faultodds.ArgumentError, match=r"unit of voltage.*psi"):
        faultodds.finding_from_reading(model, "pressure", 12, "V")
    with pytest.raises(faultodds.ArgumentError, match="-5 kPa is impossible: it is at least 0 kPa"):
        faultodds.finding_from_reading(model, "pressure", -5, "kPa")
    with pytest.raises(faultodds.UnknownName, match='did you mean "psi"'):
        faultodds.finding_from_reading(model, "pressure", 43, "pis")
    with pytest.raises(faultodds.ArgumentError, match="no reading"):
        faultodds.finding_from_reading(model, "pump", 43, "psi")
    with pytest.raises(faultodds.ArgumentError, match="decimal point"):
        faultodds.parse_reading("-5,5 degC")
    with pytest.raises(TypeError):
        faultodds.finding_from_reading(model, "pressure", "43", "psi")
    assert faultodds.parse_reading("12.4V") == faultodds.Measured(12.4, "V")


def test_the_record_of_a_reading_says_all_that_the_file_says() -> None:
    reading = model_with(
        gauge_error={"fixed": 2, "share": 0.01},
        same_instrument=True,
        at_most=900,
        spreads=[
            {"outcome": "good", "uniform": {"from": 300, "to": 400}},
            {"outcome": "low", "normal": {"mean": 200, "sd": 40}},
        ],
    )["pressure"].test.reading
    assert reading.gauge_error == faultodds.GaugeError(2, 0.01)
    assert reading.same_instrument
    assert not reading.difference
    assert (reading.at_least, reading.at_most) == (0, 900)
    assert reading.spreads == (
        faultodds.Spread("good", faultodds.UniformSpread(300, 400)),
        faultodds.Spread("low", faultodds.NormalSpread(200, 40)),
    )


MODEL_FILES = [path for path in sorted((ROOT / "models").glob("*.json")) if not path.name.endswith(".schema.json")]


@pytest.mark.parametrize("path", MODEL_FILES, ids=lambda path: path.stem)
def test_every_reading_of_the_models_converts_and_has_a_range(path: Path) -> None:
    known = {unit.symbol: unit.quantity for unit in faultodds.units()}
    model = faultodds.read_model(path)
    readings = [reading for name in model.with_role("test") if (reading := model[name].test.reading)]
    assert readings
    for reading in readings:
        symbol = {"L": "l"}.get(reading.unit, reading.unit)
        assert symbol in known, reading.quantity
        assert reading.at_least is not None, reading.quantity
        assert reading.gauge_error is not None or reading.unit == "count", reading.quantity
        # A temperature in K or called a difference must be marked as one: the zero would be added otherwise.
        speaks_of_difference = re.search("difference|minus", reading.quantity) is not None
        if known[symbol] == "temperature":
            assert reading.difference == (speaks_of_difference or reading.unit == "K"), reading.quantity


def json_blocks(heading: str) -> list[Any]:
    text = (ROOT / "models" / "README.md").read_text(encoding="utf-8")
    section = text.split(f"### {heading}\n", 1)[1].split("\n### ", 1)[0]
    return [json.loads(block) for block in re.findall(r"```json\n(.*?)```", section, re.S)]


def test_the_reading_of_the_readme_is_one() -> None:
    (reading,) = json_blocks("Readings")
    model = (
        faultodds.ModelBuilder("m")
        .add_test("fuel_pressure", minutes=1, states=["good", "low", "high"], prior=[0.8, 0.1, 0.1], reading=reading)
        .build()
    )
    # "on the limit it says nothing, one error beside it 84 to 16"
    assert faultodds.finding_from_reading(model, "fuel_pressure", 300, "kPa").weights == pytest.approx(
        {"good": 0.5, "low": 0.5, "high": 0.0}
    )
    beside = faultodds.finding_from_reading(model, "fuel_pressure", 308, "kPa").weights
    assert beside == pytest.approx({"good": 0.84, "low": 0.16, "high": 0.0}, abs=0.002)
    assert faultodds.finding_from_reading(model, "fuel_pressure", 339, "kPa").state == "good"


def test_the_intermittent_symptom_of_the_readme_speaks_for_the_loose_connector() -> None:
    (symptom,) = json_blocks("Symptoms that come and go")
    model = (
        faultodds.ModelBuilder("m")
        .add_component("coil", states=["sound", "weak", "dead"], prior={"weak": 0.02, "dead": 0.005})
        .add_component("connector", states=["sound", "loose"], prior=0.03)
        .add_symptom(symptom.pop("name"), **symptom)
        .build()
    )
    # Noisy-MAX by hand: P(at most this grade) is the product over the causes (Henrion 1989).
    grades = ("not_seen", "at_times", "always")
    coil = {"sound": (0.975, 1.0, 1.0), "weak": (0.02, 0.3, 0.9), "dead": (0.005, 0.02, 0.02)}
    connector = {"sound": (0.97, 1.0, 1.0), "loose": (0.03, 0.15, 0.95)}
    joint: dict[tuple[str, str], dict[str, float]] = {}
    for a, (p, never_a, at_most_a) in coil.items():
        for b, (q, never_b, at_most_b) in connector.items():
            never = 0.99 * never_a * never_b
            joint[a, b] = {
                "not_seen": p * q * never,
                "at_times": p * q * (at_most_a * at_most_b - never),
                "always": p * q * (1 - at_most_a * at_most_b),
            }

    def loose(weights: dict[str, float]) -> float:
        weighed = {pair: sum(weights[g] * row[g] for g in grades) for pair, row in joint.items()}
        return sum(p for (_, b), p in weighed.items() if b == "loose") / sum(weighed.values())

    def posterior(finding: Any) -> float:
        case = faultodds.Case(faultodds.Solver(model))
        case.add(finding)
        return float(case.posterior("connector")["loose"])

    at_times = posterior(faultodds.Finding("misfire", "at_times"))
    assert at_times == pytest.approx(loose({"not_seen": 0, "at_times": 1, "always": 0}), rel=1e-12)
    always = posterior(faultodds.Finding("misfire", "always"))
    assert always < 0.3
    assert at_times > 0.5
    seen_nothing = {"not_seen": 1.0, "at_times": 0.5, "always": 0.0}
    one_drive = posterior(faultodds.Finding("misfire", weights=seen_nothing))
    assert one_drive == pytest.approx(loose(seen_nothing), rel=1e-12)
    assert one_drive > posterior(faultodds.Finding("misfire", "not_seen")), "one drive is no proof"
