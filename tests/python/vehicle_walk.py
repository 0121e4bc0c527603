# SPDX-License-Identifier: BSD-3-Clause
"""Walks a case at the bench to its end: a vehicle with a known fault answers what the program asks for.

The vehicle answers every proposed test with the outcome most probable under its fault and context, all other
components sound; the step that leads on the screen is done: the test, the repair or the hand-over.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
from dataclasses import dataclass, field
from decimal import Decimal
from pathlib import Path
from typing import Any

from program_runs import ROOT, program, run_json

MOST_STEPS = 40
PROMPT = re.compile(r"(?:^|\n)[^\n]*(?:to pass|for yes|\? help|q quit|to go back) > $")
# Factor and offset of the other unit: 1 psi = 6.894757 kPa (NIST SP 811, appendix B.8); the others are exact there.
OTHER_UNITS = {
    "kPa": ("psi", 1 / 6.894757, 0.0),
    "bar": ("psi", 100 / 6.894757, 0.0),
    "MPa": ("bar", 10.0, 0.0),
    "V": ("mV", 1000.0, 0.0),
    "ohm": ("kohm", 0.001, 0.0),
    "kohm": ("ohm", 1000.0, 0.0),
    "degC": ("degF", 1.8, 32.0),
    "g/s": ("kg/h", 3.6, 0.0),
    "A": ("mA", 1000.0, 0.0),
    "s": ("ms", 1000.0, 0.0),
}


@dataclass
class Walk:
    """What happened on the way, and how it ended."""

    transcript: str = ""
    end: str = ""
    tests: list[str] = field(default_factory=list)
    repairs: list[str] = field(default_factory=list)
    readings: list[str] = field(default_factory=list)
    sure: str = ""
    report: dict[str, Any] = field(default_factory=dict)

    @property
    def cost(self) -> Decimal:
        """Sum of the report without the hand-over, in the currency of the model."""
        steps = self.report["steps"]
        return sum((Decimal(step["cost"]) for step in steps if step["kind"] != "hand_over"), Decimal(0))


def state_names(variable: dict[str, Any], usual: list[str]) -> list[str]:
    return [state if isinstance(state, str) else state["name"] for state in variable.get("states", usual)]


class Vehicle:
    """One with the fault of the case; `fault` maps components to states, and the rest of the components is sound."""

    def __init__(self, model_file: Path, case: dict[str, Any]) -> None:
        self.model: dict[str, Any] = json.loads(model_file.read_text(encoding="utf-8"))
        self.case = case
        self.tests = {test["name"]: test for test in self.model["tests"]}
        self.faults: dict[str, str] = dict(case["fault"])
        self.model_file = model_file
        self.chances = self.posteriors()

    def posteriors(self) -> dict[str, dict[str, float]]:
        """What its faults and its context make of everything else."""
        states = {part["name"]: state_names(part, ["sound", "faulty"])[0] for part in self.model["components"]}
        states |= self.faults | self.case.get("context", {})
        findings = [word for name, state in states.items() for word in ("--finding", f"{name}={state}")]
        chances: dict[str, dict[str, float]] = run_json("posterior", self.model_file, *findings)["posteriors"]
        return chances

    def most_probable(self, variable: str) -> str:
        """Name of its most probable state on this vehicle."""
        chances = self.chances[variable]
        return max(chances, key=chances.__getitem__)

    def reading(self, test: dict[str, Any], outcome: str) -> str | None:
        """A number in the middle of the band of the outcome, in another unit than that of the model."""
        told = test.get("reading", {})
        unit = OTHER_UNITS.get(told.get("unit", ""))
        band = next((one for one in told.get("limits", []) if one["outcome"] == outcome), None)
        if unit is None or band is None:
            return None
        low, high = band.get("from", told.get("at_least")), band.get("below", told.get("at_most"))
        if low is None or high is None:
            limit = high if low is None else low
            step = max(abs(limit) * 0.3, 1.0)
            value = limit - step if low is None else limit + step
        elif "below" in band:
            value = (low + high) / 2
        else:
            value = low + min(high - low, max(abs(low) * 0.3, 1.0)) / 2
        offset = 0.0 if told.get("difference") else unit[2]
        return f"{value * unit[1] + offset:.4g} {unit[0]}"

    def answers(self, test: str, shown_names: list[str]) -> str:
        """What is typed after the test: numbers of the symptoms it shows, a reading, or the outcome."""
        told = self.tests[test]
        if shown_names:
            there = [str(i + 1) for i, name in enumerate(shown_names) if self.most_probable(name) != "absent"]
            return " ".join(there) or "none"
        outcome = self.most_probable(test)
        in_other_unit = self.reading(told, outcome) if self.case.get("other_units") else None
        return in_other_unit or outcome

    def check(self, repair: dict[str, Any]) -> str:
        """Mends what the repair mends; says whether the vehicle is cured by that."""
        component = repair["component"]
        state = self.faults.get(component)
        mended = state is not None and state in repair.get("mends", [state])
        if repair["name"] in self.case.get("fails_first", []):
            self.case = {**self.case, "fails_first": []}
        elif mended:
            del self.faults[component]
            self.chances = self.posteriors()
        return "still there" if self.faults else "cured"


class Bench:
    """The program over a pipe."""

    def __init__(self, model_file: Path, case_file: Path, options: list[str]) -> None:
        self.process = subprocess.Popen(
            [program(), "case", str(model_file), "--save", str(case_file), *options],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            env={"PATH": os.environ.get("PATH", ""), "LANG": "C.UTF-8"},
        )
        self.transcript = ""

    def shown(self) -> str:
        """All up to the next question."""
        assert self.process.stdout is not None
        text = b""
        while not PROMPT.search(text.decode("utf-8", "ignore")):
            more = os.read(self.process.stdout.fileno(), 1 << 16)
            if not more:
                break
            text += more
        new = text.decode("utf-8")
        self.transcript += new
        return new

    def answer(self, line: str) -> str:
        """Types a line; returns all up to the next question."""
        assert self.process.stdin is not None
        self.process.stdin.write(f"{line}\n".encode())
        self.process.stdin.flush()
        return self.shown()

    def close(self) -> int:
        """Ends the input; returns the exit status."""
        assert self.process.stdin is not None
        assert self.process.stdout is not None
        self.process.stdin.close()
        self.process.stdout.close()
        return self.process.wait(timeout=60)


def joined_lines(text: str) -> str:
    return " ".join(text.split())


def proposed_test(text: str) -> str | None:
    found = re.search(r"\nNext test: (?:[^\[]|\n)*?\[(\w+)\]", text)
    return found.group(1) if found else None


def repair_named(model: dict[str, Any], label: str) -> dict[str, Any]:
    return next(repair for repair in model["repairs"] if repair["label"] == label)


def revealed_names(vehicle: Vehicle, test: str, text: str) -> list[str]:
    """The symptoms that the program lists for a test that shows which there are."""
    if "Which of these are there?" not in text:
        return []
    asked = text.rsplit("Which of these are there?", 1)[1]
    shown = re.findall(r"^ +\d+  (.*(?:\n {6}.*)*)", asked, re.MULTILINE)
    symptoms = {symptom["name"]: symptom for symptom in vehicle.model["symptoms"]}
    names = []
    for line in shown:
        flat = joined_lines(line)
        fitting = [name for name in vehicle.tests[test]["reveals"] if symptoms[name]["label"] in flat]
        names.append(max(fitting, key=lambda name: len(symptoms[name]["label"])))
    return names


def advice(text: str) -> str:
    """What leads on the screen: "test", "repair" or "hand over"; the last where nothing here pays or tells more."""
    heads = re.findall(
        r"\n(Next test: |Advice: repair now|Advice: hand over|Advice: leave|Advice: |No test that)", text
    )
    return {"Next test: ": "test", "Advice: repair now": "repair", "Advice: ": "repair"}.get(
        heads[-1] if heads else "", "hand over"
    )


def advised_repair(model: dict[str, Any], text: str) -> dict[str, Any] | None:
    """The repair on the screen, the cheapest of several; none where the fault has none."""
    labels = re.findall(r"\nRepair: (.*)\n", text[text.rindex("\nAdvice: ") :])
    return min((repair_named(model, label) for label in labels), key=lambda one: float(one["money"]), default=None)


def do_repair(bench: Bench, vehicle: Vehicle, walk: Walk, repair: dict[str, Any]) -> tuple[str, bool]:
    bench.answer(f"repair {repair['name']}")
    bench.answer("yes")
    said = vehicle.check(repair)
    walk.repairs.append(repair["name"])
    text = bench.answer(said)
    sure = re.findall(r"The complaint is gone: ([\d.]+ %) sure", text)
    walk.sure = sure[-1] if sure else ""
    return text, said == "cured"


def do_test(bench: Bench, vehicle: Vehicle, walk: Walk, text: str) -> str:
    test = proposed_test(text)
    assert test is not None, f"neither test nor end: {text[-1500:]}"
    walk.tests.append(test)
    answer = vehicle.answers(test, revealed_names(vehicle, test, text))
    if re.match(r"-?\d[\d.e+-]* [a-zA-Z/%]", answer):
        walk.readings.append(f"{test}: {answer}")
    text = bench.answer(answer)
    return bench.answer("yes") if "Are these all?" in text[-80:] else text


def begin(bench: Bench, vehicle: Vehicle) -> str:
    text = bench.shown()
    contexts = {fact["question"]: fact["name"] for fact in vehicle.model.get("context", [])}
    while "What does the customer complain of?" not in text:
        asked = next(name for question, name in contexts.items() if question in joined_lines(text[-1500:]))
        states = state_names(next(fact for fact in vehicle.model["context"] if fact["name"] == asked), [])
        told = vehicle.case.get("context", {}).get(asked)
        text = bench.answer("" if told is None else str(states.index(told) + 1))
    complaints = [symptom["name"] for symptom in vehicle.model["symptoms"] if symptom.get("complaint")]
    return bench.answer(" ".join(str(complaints.index(name) + 1) for name in vehicle.case["complaint"]))


def go_on_to_the_end(bench: Bench, vehicle: Vehicle, walk: Walk) -> None:
    text = begin(bench, vehicle)
    while not walk.end:
        assert len(walk.tests) + len(walk.repairs) < MOST_STEPS, "no end in sight"
        lead = advice(text)
        repair = advised_repair(vehicle.model, text) if lead == "repair" else None
        if repair is not None:
            text, cured = do_repair(bench, vehicle, walk, repair)
            walk.end = "cured" if cured else ""
        elif lead == "test":
            text = do_test(bench, vehicle, walk, text)
        else:
            bench.answer("hand over")
            text = bench.answer("yes")
            walk.end = "handed over" if "Handed over to " in text else ""
            assert walk.end, text


def walk_case(case: dict[str, Any], folder: Path) -> Walk:
    model_file = ROOT / "models" / f"{case['model']}.json"
    vehicle = Vehicle(model_file, case)
    bench = Bench(model_file, folder / "walk.case.json", case.get("options", []))
    walk = Walk()
    try:
        go_on_to_the_end(bench, vehicle, walk)
        for ending in ("json", "html", "md"):
            bench.answer(f"report {folder / f'report.{ending}'}")
        bench.answer("q")
    finally:
        walk.transcript = bench.transcript
        status = bench.close()
    assert status == 0
    walk.report = json.loads((folder / "report.json").read_text(encoding="utf-8"), parse_float=Decimal)
    return walk
