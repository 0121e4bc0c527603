# SPDX-License-Identifier: BSD-3-Clause
"""What can be typed at the bench, and what is said to what cannot."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from program_runs import TUTORIAL, program, run_json, saved, session, steps

program()

START = ["", "dark"]


def symptom(name: str, label: str, **more: str) -> dict[str, Any]:
    causes = [{"of": "bulb", "strength": 0.5}, {"of": "switch", "strength": 0.2}]
    return {"name": name, "label": label, "noisy_or": {"leak": 0.1, "causes": causes}, "source": "invented", **more}


@pytest.fixture
def lamp(tmp_path: Path) -> Path:
    """The tutorial's lamp with trouble codes, a test that reads them, and three tests of one beginning; invented."""
    model = json.loads(TUTORIAL.read_text(encoding="utf-8"))
    model["symptoms"] += [
        symptom("came_on_suddenly", "came on suddenly"),
        symptom("rattle_underneath", "rattle from underneath"),
        symptom("code_p0171", "P0171: too little", code="P0171"),
        symptom("code_p0300", "P0300: too much", code="P0300"),
    ]
    rows = [{"when": {"bulb": "sound"}, "p": 0.1}, {"when": {"bulb": "blown"}, "p": 0.6}]
    codes = ["code_p0171", "code_p0300"]
    model["tests"].append(
        {
            "name": "read_codes",
            "label": "read the stored codes",
            "states": ["none", "some"],
            "reveals": codes,
            "table": {"given": ["bulb"], "rows": rows},
            "source": "invented",
            "minutes": 1,
            "money": 0,
        }
    )
    for when in ("cold", "hot", "under_load"):
        examines = {"component": "battery", "detects": 0.5, "false_alarm": 0.3}
        test = {"name": f"spring_pressure_{when}", "examines": examines, "source": "invented", "minutes": 9, "money": 0}
        model["tests"].append(test)
    return saved(tmp_path, "lamp.json", model)


def test_a_word_that_is_neither_yes_nor_no_is_asked_about_again(lamp: Path, tmp_path: Path) -> None:
    keep = tmp_path / "codes.json"
    done = session(lamp, *START, "other read_codes", "P0171", "perhaps", "no", "q", save=keep)
    assert '"perhaps" is neither yes nor no.' in done.stdout
    assert steps(keep)[-1]["revealed"] == [{"variable": "code_p0171", "state": "present"}]


def test_the_last_answer_is_kept_when_the_input_ends(lamp: Path, tmp_path: Path) -> None:
    keep = tmp_path / "codes.json"
    session(lamp, *START, "other read_codes", "P0171", save=keep)
    assert steps(keep)[-1]["revealed"] == [{"variable": "code_p0171", "state": "present"}]
    repaired = tmp_path / "repaired.json"
    session(TUTORIAL, *START, "repair replace_bulb", "yes", save=repaired)
    assert steps(repaired)[-1] == {"repaired": "replace_bulb"}


def test_a_symptom_or_code_is_taken_by_its_name_alone(lamp: Path, tmp_path: Path) -> None:
    keep = tmp_path / "c.json"
    session(lamp, *START, "sudden", "present", "P0300", "1", "q", save=keep)
    assert steps(keep)[1:] == [
        {"variable": "came_on_suddenly", "state": "present"},
        {"variable": "code_p0300", "state": "absent"},
    ]


def test_trouble_codes_are_findings_by_their_code(lamp: Path, tmp_path: Path) -> None:
    keep = tmp_path / "c.json"
    session(lamp, *START, "P0300=present", "q", save=keep)
    assert steps(keep)[-1] == {"variable": "code_p0300", "state": "present"}
    by_code = run_json("posterior", lamp, "--finding", "p0300=present")
    assert by_code == run_json("posterior", lamp, "--finding", "code_p0300=present")


def test_a_name_that_is_not_whole_is_answered_with_those_that_begin_so(lamp: Path) -> None:
    done = session(lamp, *START, "spring_pressure=bad", "q")
    told = " ".join(done.stdout.split("spring_pressure=bad\n")[1].split())
    for when in ("cold", "hot", "under_load"):
        assert f'"spring_pressure_{when}"' in told.split("?")[0]


@pytest.mark.parametrize("typed", ["why battery", "w battery"])
def test_one_letter_and_a_name_do_what_the_word_and_the_name_do(typed: str) -> None:
    assert "Why battery: any fault" in session(TUTORIAL, *START, typed, "q").stdout


def test_an_empty_line_at_a_repair_says_what_can_be_answered() -> None:
    done = session(TUTORIAL, *START, "battery=dead", "", "q")
    answer = done.stdout.split("Advice: repair now")[1].split("help, q quit >")[1]
    assert "Is a repair done, type r" in " ".join(answer.split())
    assert "outcome" not in answer


def test_menus_take_names_from_other_menus_and_no_single_letters(lamp: Path) -> None:
    letter = session(lamp, *START, "other", "a symptom", "r", "", "q")
    assert '"r" is none of these' in letter.stdout
    named = session(lamp, *START, "other", "rattle_underneath", "present", "q")
    assert "rattle from underneath: present" in named.stdout
    turned = session(lamp, *START, "other", "underneath rattle", "present", "q")
    assert "rattle from underneath: present" in turned.stdout


def test_one_step_leads_in_text_and_json(lamp: Path) -> None:
    for findings in ((), ("-f", "bulb_continuity=bad"), ("-f", "battery_voltage=none")):
        answer = run_json("next", lamp, "-f", "dark=present", *findings)
        (marked,) = (choice for choice in answer["choices"] if choice["proposed"])
        assert (answer["proposed"]["kind"], answer["proposed"]["name"]) == (marked["kind"], marked["name"])
        by_cost = run_json("next", lamp, "-f", "dark=present", *findings, "--by", "expected-cost")
        assert by_cost["proposed"] == answer["proposed"]
        if marked["kind"] == "test":
            assert by_cost["tests"][0]["test"] == marked["name"]
    asked = run_json("next", lamp)
    assert asked["proposed"]["kind"] == "ask"
    assert asked["proposed"]["asks"][:2] == ["weather", "dark"]
