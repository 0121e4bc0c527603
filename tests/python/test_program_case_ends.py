# SPDX-License-Identifier: BSD-3-Clause
"""The case command by expected cost: which step leads, handing over, limits of money and time."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from program_runs import TUTORIAL, program, run, run_json, session, steps

program()


def test_by_expected_cost_one_step_leads_and_is_the_same_for_next() -> None:
    choices = run_json("next", TUTORIAL, "--finding", "dark=present")["choices"]
    proposed = [choice for choice in choices if choice["proposed"]]
    assert len(proposed) == 1
    assert proposed[0]["kind"] == "test"
    assert proposed[0]["expected_cost"] <= 1.01 * choices[0]["expected_cost"]
    done = session(TUTORIAL, "", "dark")
    assert f"Next test: {proposed[0]['label']}" in done.stdout
    assert re.search(rf"> +test +{proposed[0]['label']}", done.stdout)
    ranked = run_json("next", TUTORIAL, "--finding", "dark=present", "--by", "expected-cost")["tests"]
    by_cost = [choice["name"] for choice in choices if choice["kind"] == "test"]
    assert [test["test"] for test in ranked][: len(by_cost)] == by_cost


def test_a_vehicle_is_handed_over_with_what_to_tell(tmp_path: Path) -> None:
    keep, report = tmp_path / "lamp.case.json", tmp_path / "report.json"
    done = session(TUTORIAL, "", "1", "v", "no", "hand over", "yes", "history", f"report {report}", "q", save=keep)
    told = done.stdout.split("Handing over to cycle shop")[1]
    assert told.index("Found so far") < told.index("Left ") < told.index("Is it handed over?")
    assert "Then nothing is noted." in told
    assert "cycle shop: handed over" in done.stdout
    assert steps(keep)[-1] == {"handed_over": "cycle_shop"}
    written = json.loads(report.read_text(encoding="utf-8"))
    assert [step["kind"] for step in written["steps"]] == ["hand_over"]
    assert written["sums"]["cost"] == pytest.approx(24.0)
    back = session(TUTORIAL, "undo", "q", save=keep)
    assert "Taken back: cycle shop: handed over" in back.stdout
    assert steps(keep) == [{"variable": "dark", "state": "present"}]


def test_limits_budget_and_deadline_leave_work_out() -> None:
    closed = session(TUTORIAL, "", "1", extra=("--no-opening",))
    assert "bulb continuity" not in closed.stdout.split("By expected cost")[1]
    poor = session(TUTORIAL, "", "1", extra=("--budget", "1"))
    table = poor.stdout.split("By expected cost")[1].split("now: this step")[0]
    assert "work the switch ten times" in table
    assert "bulb continuity" not in table
    assert "replace the bulb" not in table
    spent = session(TUTORIAL, "", "1", "1", extra=("--budget", "1"))
    assert "Advice: hand over: cycle shop" in spent.stdout.split("no change")[-1]
    late = session(TUTORIAL, "", "1", extra=("--deadline", "0"))
    assert "Advice: hand over" in late.stdout
    cheap = session(TUTORIAL, "", "1", extra=("--hand-over", "0.1"))
    assert "0.10 EUR, all told" in cheap.stdout
    refused = run("case", TUTORIAL, "--no-save", "--closed", "lid", text="q\n")
    assert refused.returncode == 1
    assert "lid" in refused.stderr
