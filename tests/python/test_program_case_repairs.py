# SPDX-License-Identifier: BSD-3-Clause
"""Money, repairs and the report at the bench, as a user works with them over a pipe."""

from __future__ import annotations

import json
import subprocess
from decimal import Decimal
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from program_runs import TUTORIAL, program, run, steps

program()


def priced_lamp(folder: Path) -> Path:
    """The tutorial's lamp with a shop to hand it to, a check after repairs, and odd amounts."""
    model = json.loads(TUTORIAL.read_text(encoding="utf-8"))
    model["labour_rate"] = 47
    model["hand_overs"] = [{"name": "shop", "label": "the lamp shop", "money": 35.55, "tells": "swap the reflector"}]
    model["verification"] = {
        "label": "light it in the dark",
        "minutes": 1,
        "false_cured": 0.01,
        "false_still_there": 0.01,
        "source": "invented for this test",
    }
    model["comeback"] = {"money": 20, "source": "invented for this test"}
    for number, test in enumerate(model["tests"]):
        test["minutes"] = 1 + number
        test["money"] = 0.333
    file = folder / "lamp.json"
    file.write_text(json.dumps(model), encoding="utf-8")
    return file


def session(model: Path, keep: Path, *answers: str) -> subprocess.CompletedProcess[str]:
    done = run("case", model, "--save", keep, text="".join(answer + "\n" for answer in answers))
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    return done


def test_tests_repairs_and_hand_over_stand_side_by_side(tmp_path: Path) -> None:
    shown = session(priced_lamp(tmp_path), tmp_path / "c.json", "", "dark", "money", "q").stdout
    table = shown.split("By expected cost")[1]
    assert "replace the bulb" in table
    assert "bulb continuity" in table
    assert "hand over: the lamp shop" in table
    assert "35.55 EUR" in table or "36 EUR" in table
    assert "Cheapest in the end" in table


def test_without_a_cost_of_the_end_nothing_is_weighed(tmp_path: Path) -> None:
    model = json.loads(priced_lamp(tmp_path).read_text(encoding="utf-8"))
    del model["hand_overs"]
    model.pop("live_with", None)
    plain = tmp_path / "plain.json"
    plain.write_text(json.dumps(model), encoding="utf-8")
    shown = session(plain, tmp_path / "c.json", "", "dark", "money", "q").stdout
    assert "By expected cost" not in shown
    assert "nothing can be weighed" in " ".join(shown.split())


def test_a_repair_is_kept_in_the_books_undone_and_taken_up_again(tmp_path: Path) -> None:
    model, keep = priced_lamp(tmp_path), tmp_path / "c.json"
    shown = session(model, keep, "", "dark", "repair bulb", "yes", "still there", "q").stdout
    assert shown.index("CAUTION", shown.index("Repair: replace the bulb")) < shown.index("Is it done?")
    assert "replace the bulb: done; still there, says the check" in shown
    assert steps(keep)[-1] == {"repaired": "replace_bulb", "check": "still_there"}
    leading = shown[shown.rindex("Leading faults") :].split("By expected cost")[0]
    assert leading.index("battery: dead") < leading.index("bulb: blown")
    again = session(model, keep, "undo", "q").stdout
    assert "Taken back: replace the bulb" in again
    assert leading in again.split("Taken back")[0]
    back = again.split("Taken back")[1]
    assert back.index("bulb: blown", back.index("Leading faults")) < back.index(
        "battery: dead", back.index("Leading faults")
    )
    assert steps(keep) == [{"variable": "dark", "state": "present"}]


def test_a_cure_says_how_sure_it_is(tmp_path: Path) -> None:
    shown = session(priced_lamp(tmp_path), tmp_path / "c.json", "", "dark", "repair bulb", "", "cured", "history", "q")
    assert "The complaint is gone: " in shown.stdout
    assert "replace the bulb: done; cured, says the check" in shown.stdout.split("history")[1]


def test_what_a_repair_opened_stays_open(tmp_path: Path) -> None:
    answers = ["", "dark", "repair clean", "", "still there", "q"]
    shown = session(priced_lamp(tmp_path), tmp_path / "c.json", *answers).stdout
    before, after = shown.split("clean the switch contacts: done; still there")
    assert "lamp opened" in before
    assert "lamp opened" not in after


def test_no_is_no(tmp_path: Path) -> None:
    keep = tmp_path / "c.json"
    session(priced_lamp(tmp_path), keep, "", "dark", "repair bulb", "no", "q")
    assert steps(keep) == [{"variable": "dark", "state": "present"}]


def test_the_report_adds_up_to_the_cent(tmp_path: Path) -> None:
    model, keep = priced_lamp(tmp_path), tmp_path / "c.json"
    names = [str(tmp_path / name) for name in ("r.json", "r.html", "r.md")]
    answers = ["", "dark", "bulb_continuity=bad", "battery_voltage=2.6 V", "repair bulb", "", "cured"]
    session(model, keep, *answers, *(f"report {name}" for name in names), "q")
    # Amounts are read as they are printed, so that the sums are those of exact hundredths.
    report = json.loads(Path(names[0]).read_text(encoding="utf-8"), parse_float=Decimal)
    done = report["steps"]
    assert [step["kind"] for step in done] == ["test", "test", "repair", "other"]
    assert sum(step["cost"] for step in done) == report["sums"]["cost"]
    assert all(step["money"] + step["labour"] == step["cost"] for step in done)
    page = ElementTree.fromstring(Path(names[1]).read_text(encoding="utf-8").split("\n", 1)[1])
    words = " ".join("".join(page.itertext()).split())
    assert str(report["sums"]["cost"]) in words
    assert "light it in the dark" in words
    assert str(report["sums"]["cost"]) in Path(names[2]).read_text(encoding="utf-8").replace("\\", "")


@pytest.mark.parametrize(
    ("answer", "told"),
    [
        ("repair sofa", "sofa"),
        ("report", "Give the file as well"),
        ("report r.pdf", ".md, .html or .json"),
        ("report lamp.json", "is there already"),
        ("report no/such/folder/r.md", "no/such/folder"),
    ],
)
def test_wrong_answers_are_explained_and_change_nothing(tmp_path: Path, answer: str, told: str) -> None:
    model, keep = priced_lamp(tmp_path), tmp_path / "c.json"
    answer = answer.replace("lamp.json", str(model))
    done = session(model, keep, "", "dark", answer, "q")
    assert told in " ".join(done.stdout.split(f"> {answer}\n")[-1].split())
    assert steps(keep) == [{"variable": "dark", "state": "present"}]


@pytest.mark.parametrize(
    ("step", "told"),
    [
        ({"kind": "repair", "repair": "sofa"}, "sofa"),
        ({"kind": "repair", "repair": "replace_bulb", "check": {"result": "perhaps"}}, "still_there"),
        ({"kind": "repair", "repair": 3}, "it must be a name"),
    ],
)
def test_a_damaged_case_file_is_refused_with_the_place(tmp_path: Path, step: dict[str, Any], told: str) -> None:
    model, keep = priced_lamp(tmp_path), tmp_path / "c.json"
    session(model, keep, "", "dark", "q")
    content = json.loads(keep.read_text(encoding="utf-8"))
    content["entries"].append(step)
    keep.write_text(json.dumps(content), encoding="utf-8")
    refused = run("case", model, "--save", keep, text="q\n")
    assert refused.returncode == 1
    assert told in refused.stderr
    assert "entries[1]" in refused.stderr
