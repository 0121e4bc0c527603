# SPDX-License-Identifier: BSD-3-Clause
"""Jobs in Python: the same names and answers as in C++, pickled and saved to the bit."""

from __future__ import annotations

import copy
import json
import pickle
from pathlib import Path

import faultodds
import pytest

MODELS = Path(__file__).parents[2] / "models"
SOLVER = faultodds.Solver(faultodds.read_model(MODELS / "tutorial.json"))
OPTIONS = faultodds.JobOptions(
    means=faultodds.Means(tools=["multimeter", "screwdriver", "load"]), limits=faultodds.JobLimits(budget=50.0)
)
SCHEMA = json.loads((MODELS / "job.schema.json").read_text(encoding="utf-8"))


def job_with_everything() -> faultodds.Job:
    """A job of every kind of entry but what a test reveals, for the lamp has no such test."""
    job = faultodds.Job(SOLVER, OPTIONS)
    job.add_finding("weather", "wet")
    job.add_finding("dark", "present")
    job.decline("work_switch", "too dark to see it")
    job.add_reading("battery_voltage", "2.41 V; 2.4 V")
    job.add_in_place(["lamp_open"])
    job.add_finding("bulb", "sound")
    job.add_repair("clean_switch", "still_there")
    job.add_repair("replace_battery")
    job.hand_over("cycle_shop")
    fault = faultodds.ConfirmedFault("battery", "low", by="specialist")
    job.close("handed_over", [fault], "both cells were flat")
    return job


def bits(job: faultodds.Job) -> list[float]:
    return [*(one.probability for one in job.current().posteriors()), job.current().log_evidence()]


def test_entries_say_what_was_done_and_charged() -> None:
    job = job_with_everything()
    entries = job.entries()
    kinds = ["finding", "finding", "declined", "reading", "in_place", "part", "repair", "repair", "hand_over", "end"]
    assert [entry.kind for entry in entries] == kinds
    reading = entries[3]
    assert isinstance(reading.what, faultodds.ReadingEntry)
    assert reading.what.test == "battery_voltage"
    assert reading.what.readings[0] == faultodds.Measured(2.41, "V")
    # Lamp opened 3 min, measured 2 min, at 48 an hour.
    assert (reading.charge.minutes, reading.charge.labour) == (5.0, 4.0)
    assert reading.charge.opens == ("lamp_open",)
    assert entries[6].text == "done; still there, says the check"
    assert job.repairs() == ("clean_switch", "replace_battery")
    assert job.declined() == ("work_switch",)
    assert job.handed_over() == "cycle_shop"
    assert job.last_check() is None
    assert job.has_ended()


def test_the_ledger_adds_up_and_says_what_is_left() -> None:
    job = job_with_everything()
    ledger = job.ledger()
    # Voltage 5 min; switch 10 min, 1 EUR, 10 waiting; its check 1 min, 5 waiting; battery 2 min, 3 EUR; shop 24 EUR.
    assert ledger.total.minutes == 18.0
    assert ledger.total.money == 28.0
    assert ledger.total.labour == pytest.approx(14.4, abs=1e-12)
    assert ledger.total.wait_minutes == 10.0 + 5.0 + 1440.0
    assert (ledger.money, ledger.labour) == (2800, 1440)
    assert ledger.money_left == pytest.approx(50.0 - 42.4, abs=1e-12)
    assert ledger.minutes_left is None
    assert [line.entry for line in ledger.lines] == [3, 6, 6, 7, 8]
    assert [line.is_check for line in ledger.lines] == [False, False, True, False, False]


@pytest.mark.parametrize(
    "again",
    [
        lambda job: faultodds.Job.from_json(job.to_json(), SOLVER),
        lambda job: pickle.loads(pickle.dumps(job)),
        copy.copy,
        copy.deepcopy,
    ],
)
def test_jobs_come_back_to_the_bit(again: object) -> None:
    job = job_with_everything()
    back = again(job)  # type: ignore[operator]
    assert back.to_json() == job.to_json()
    assert list(back.entries()) == list(job.entries())
    assert back.ledger() == job.ledger()
    assert bits(back) == bits(job)


def test_undo_to_any_entry() -> None:
    job = job_with_everything()
    for count in range(len(job.entries()), -1, -1):
        job.undo_to(count)
        assert len(job.entries()) == count
    fresh = faultodds.Job(SOLVER, OPTIONS)
    assert job.to_json() == fresh.to_json()
    assert bits(job) == bits(fresh)
    assert job.undo() is None


def test_what_is_refused_changes_nothing() -> None:
    job = job_with_everything()
    with pytest.raises(faultodds.ArgumentError, match="has ended") as refused:
        job.add_finding("dim", "absent")
    assert refused.value.code == "job_has_ended"
    undone = job.undo()
    assert undone is not None
    assert undone.kind == "end"
    before = job.to_json()
    with pytest.raises(faultodds.ArgumentError, match="dim: its role is symptom, not test; ") as no_test:
        job.decline("dim", "too dark to see it")
    assert no_test.value.code == "wrong_role"
    with pytest.raises(faultodds.UnknownName):
        job.add_finding("dimm", "absent")
    with pytest.raises(faultodds.UnknownName) as unknown:
        job.add_repair("replace")
    assert unknown.value.nearest == ("replace_battery", "replace_bulb")
    with pytest.raises(faultodds.ArgumentError):
        job.undo_to(100)
    with pytest.raises(TypeError):
        job.add_finding("dim", 1)  # type: ignore[arg-type]
    with pytest.raises(faultodds.ModelError, match="not a job"):
        faultodds.Job.from_json("{}", SOLVER)
    assert job.to_json() == before


def test_symptoms_answer_to_their_trouble_code() -> None:
    job = faultodds.Job(faultodds.Solver(faultodds.read_model(MODELS / "low-power-petrol.json")))
    job.add_finding("P0171", "present")
    assert [finding.variable for finding in job.current().findings()] == ["code_p0171"]
    assert "p0171" in job.model()
    with pytest.raises(faultodds.UnknownName) as unknown:
        job.add_finding("P99", "present")
    assert unknown.value.kind == "variable"


def test_the_case_after_the_entries_is_a_copy() -> None:
    job = faultodds.Job(SOLVER)
    job.add_finding("dark", "present")
    case = job.current()
    case.add_finding("dim", "absent")
    assert len(job.current().findings()) == 1


def test_advice_leads_with_one_step_and_says_why() -> None:
    job = faultodds.Job(SOLVER)
    assert isinstance(job.advice().proposed.step, faultodds.AskStep)
    job.add_finding("dark", "present")
    advice = job.advice()
    first = advice.proposed
    assert first.label
    assert advice.why
    assert advice.alternatives
    job.add_finding("bulb", "blown")
    repair = job.advice().proposed
    assert isinstance(repair.step, faultodds.RepairStep)
    assert [term.name for term in repair.cautions]
    job.pass_over(repair.step)
    assert isinstance(job.advice().proposed.step, faultodds.TestStep)
    assert job.progress().passed_over == (repair.step,)


def test_reports_are_written_from_data() -> None:
    report = job_with_everything().report()
    assert [step.kind for step in report.steps] == ["test", "repair", "other", "repair", "hand_over"]
    assert "both cells were flat" in faultodds.write_report_markdown(report)
    assert "<html" in faultodds.write_report_html(report)
    assert json.loads(faultodds.write_report_json(report))["sums"]["cost"] == pytest.approx(42.4)


def test_the_schema_accepts_jobs_and_refuses_what_is_none() -> None:
    jsonschema = pytest.importorskip("jsonschema")
    validator = jsonschema.Draft202012Validator(SCHEMA)
    job = job_with_everything()
    petrol = faultodds.Job(faultodds.Solver(faultodds.read_model(MODELS / "low-power-petrol.json")))
    petrol.add_revealed("read_stored_codes", ["code_p0300"])
    for one in (job, petrol, faultodds.Job(SOLVER)):
        assert list(validator.iter_errors(json.loads(one.to_json()))) == []
    document = json.loads(job.to_json())
    for damage in ({"kind": "guess"}, {"kind": "finding", "variable": "dark"}, {"kind": "declined", "reason": "none"}):
        assert list(validator.iter_errors({**document, "entries": [damage]}))
