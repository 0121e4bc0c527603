# SPDX-License-Identifier: BSD-3-Clause
"""Numbers on a gauge given to the program: as options, at the bench, and out of a saved case."""

from __future__ import annotations

import re
from pathlib import Path
from statistics import NormalDist
from typing import Any

import pytest
from program_runs import ROOT, one_fault_model, program, run, run_json, saved, steps

program()

LIMIT = 300.0
ERROR = 8.0
PSI = 6.894757293168361  # kPa; NIST SP 811 from the definitions of pound, inch and standard gravity


def pressure_model(**reading: Any) -> dict[str, Any]:
    model = one_fault_model()
    model["tests"][0].update(
        name="pressure",
        label="pressure",
        states=["good", "low"],
        reading={
            "quantity": "pressure",
            "unit": "kPa",
            "limits": [{"outcome": "low", "below": LIMIT}, {"outcome": "good", "from": LIMIT}],
            "gauge_error": ERROR,
            "at_least": 0,
            "at_most": 1000,
            **reading,
        },
    )
    return model


def posterior(model: Path, *arguments: str) -> dict[str, float]:
    answer: dict[str, dict[str, float]] = run_json("posterior", model, *arguments)["posteriors"]
    return answer["fuse"]


def likelihood(mean: float, error: float = ERROR) -> str:
    low = NormalDist(mean, error).cdf(LIMIT)
    return f"pressure={1 - low!r},{low!r}"


def test_a_reading_says_what_its_likelihood_says(tmp_path: Path) -> None:
    model = saved(tmp_path, "p.json", pressure_model())
    wanted = posterior(model, "--likelihood", likelihood(43 * PSI))
    for text in ("43 psi", "43psi", "43 PSI", f"{43 * PSI} kPa"):
        assert posterior(model, "--reading", f"pressure={text}") == pytest.approx(wanted, rel=1e-12)
    assert posterior(model, "--reading", "pressure=2 bar") == posterior(model, "--finding", "pressure=low")
    assert run_json("next", model, "--reading", "pressure=43 psi")["leading"]


def test_two_readings_of_one_test_are_taken_together(tmp_path: Path) -> None:
    model = saved(tmp_path, "p.json", pressure_model())
    wanted = posterior(model, "--likelihood", likelihood(304, ERROR / 2**0.5))
    assert posterior(model, "--reading", "pressure=301 kPa; 307 kPa") == pytest.approx(wanted, rel=1e-10)
    twice = posterior(model, "--reading", "pressure=301 kPa", "--reading", "pressure=3.07 bar")
    assert twice == pytest.approx(wanted, rel=1e-10)
    same = saved(tmp_path, "same.json", pressure_model(same_instrument=True))
    assert posterior(same, "--reading", "pressure=301 kPa; 307 kPa") == posterior(same, "--reading", "pressure=304 kPa")


def test_the_text_tells_the_number_in_both_units_and_why_it_is_weighed(tmp_path: Path) -> None:
    model = saved(tmp_path, "p.json", pressure_model())
    done = run("posterior", model, "--reading", "pressure=43 psi")
    told = " ".join(done.stdout.split())
    assert "pressure: 43 psi = 296.5 kPa: weighed: good" in told
    assert "a limit is near for a gauge error of 8 kPa" in told
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert "pressure: 2 bar = 200 kPa: low" in run("next", model, "--reading", "pressure=2 bar").stdout


@pytest.mark.parametrize(
    ("text", "status", "words"),
    [
        ("pressure=43 V", 1, ["unit of voltage", "kPa", "psi"]),
        ("pressure=43 pis", 1, ['"pis"', '"psi"']),
        ("pressure=43", 1, ["no unit", "43 kPa"]),
        ("pressure=43,5 psi", 1, ["decimal point"]),
        ("pressure=-3 kPa", 1, ["impossible", "at least 0 kPa and at most 1000 kPa"]),
        ("presure=3 kPa", 1, ['"pressure"']),
        ("dark=3 kPa", 1, ["no reading", "absent, present"]),
        ("pressure=280 kPa; 330 kPa", 1, ["measure again"]),
        ("43 psi", 2, ["NAME=43 psi"]),
    ],
)
def test_wrong_readings_have_a_message_and_an_exit_status(
    tmp_path: Path, text: str, status: int, words: list[str]
) -> None:
    done = run("posterior", saved(tmp_path, "p.json", pressure_model()), "--reading", text)
    assert done.returncode == status
    assert done.stdout == ""
    for word in words:
        assert word in done.stderr


def bench(model: Path, *answers: str, save: Path) -> str:
    done = run("case", model, "--save", save, text="".join(answer + "\n" for answer in answers))
    assert done.returncode == 0, done.stderr
    return " ".join(done.stdout.split())


@pytest.mark.parametrize("typed", ["43 psi", "43psi", "reading 43 psi", "pressure=43 psi", "pressure = 43 psi"])
def test_a_reading_at_the_bench_is_weighed_saved_and_taken_up_again(tmp_path: Path, typed: str) -> None:
    model = saved(tmp_path, "p.json", pressure_model())
    keep = tmp_path / "p.case.json"
    told = bench(model, "1", typed, "q", save=keep)
    assert "43 psi = 296.5 kPa: weighed: good" in told
    assert "a limit is near" in told
    step = steps(keep)[-1]
    assert step["reading"] == "43 psi"
    low = NormalDist(43 * PSI, ERROR).cdf(LIMIT)
    weights = re.search(r"weighed: good ([0-9.]+), low ([0-9.]+)", told)
    assert weights
    assert float(weights[2]) / float(weights[1]) == pytest.approx(low / (1 - low), rel=0.002), "three digits are shown"
    again = bench(model, "h", "u", "q", save=keep)
    assert "43 psi: weighed: good" in again
    assert [one["variable"] for one in steps(keep)] == ["dark"]


def test_another_test_is_shown_with_its_cautions_and_takes_a_reading(tmp_path: Path) -> None:
    petrol = ROOT / "models" / "low-power-petrol.json"
    keep = tmp_path / "c.json"
    answers = ["other fuel_pressure_under_load", "43 psi", "q"]
    done = run("case", petrol, "--save", keep, text="\n".join([*[""] * 9, "1", *answers, ""]))
    assert done.returncode == 0, done.stderr
    shown = done.stdout.split("other fuel_pressure_under_load")[1]
    assert shown.index("CAUTION") < shown.index("How ")
    assert "43 psi = 296.5 kPa" in " ".join(shown.split())
    assert steps(keep)[-1]["reading"] == "43 psi"


def test_at_the_bench_a_wrong_reading_is_explained_and_asked_again(tmp_path: Path) -> None:
    model = saved(tmp_path, "p.json", pressure_model())
    keep = tmp_path / "p.case.json"
    told = bench(
        model, "1", "43 V", "43 pis", "-5 kPa", "29,5 psi", "40 psi; 50 psi", "200", "reading 2", "q", save=keep
    )
    for words in ("unit of voltage", '"psi"', "impossible", "decimal point", "measure again"):
        assert words in told
    # "200" is no outcome and has no unit; "reading 2" is 2 kPa, in the unit that the screen shows.
    assert '"200" is no outcome' in told
    assert steps(keep)[-1] == {"variable": "pressure", "reading": "2 kPa"}
    assert "2 kPa: low" in told
