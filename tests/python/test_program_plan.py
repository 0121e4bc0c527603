# SPDX-License-Identifier: BSD-3-Clause
"""The plan command, run as a process."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
from program_runs import TUTORIAL, one_fault_model, program, run, run_json, saved

program()

DARK = ("--finding", "dark=present")


def lamp_model(**changes: Any) -> dict[str, Any]:
    """One fault of two, repairs that cannot fail, one test that cannot err: worked out by hand below."""
    return one_fault_model(
        components=[{"name": "fuse", "prior": 0.1}, {"name": "bulb", "prior": 0.1}],
        symptoms=[{"name": "dark", "label": "the lamp is dark", "complaint": True, "any": ["fuse", "bulb"]}],
        tests=[
            {
                "name": "look_at_fuse",
                "label": "look at the fuse",
                "procedure": "Take the fuse out and look at the wire.",
                "states": ["whole", "melted"],
                "examines": {"component": "fuse", "detects": 1.0, "false_alarm": 0.0},
                "minutes": 2,
                "money": 0,
                "cautions": ["shock"],
            }
        ],
        repairs=[
            {"name": "new_fuse", "component": "fuse", "minutes": 0, "money": 10, "success": 1.0},
            {"name": "new_bulb", "component": "bulb", "minutes": 0, "money": 30, "success": 1.0, "cautions": ["shock"]},
        ],
        **changes,
    )


@pytest.fixture
def lamp(tmp_path: Path) -> Path:
    return saved(tmp_path, "lamp.json", lamp_model())


# --- costs ----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("search", ["greedy", "look-ahead", "optimal"])
def test_expected_costs_of_the_lamp_by_hand(lamp: Path, search: str) -> None:
    # P(one fault | dark) = 2 * 0.1 * 0.9 / 0.19 = 0.18 / 0.19, and each fault is then as likely as the other.
    # Look first (2 minutes at 60 an hour): 2 + (10 + 30) / 2 = 22. Repairs alone, fuse first: 10 + 30 / 2 = 25.
    answer = run_json("plan", lamp, *DARK, "--hand-over", "200", "--search", search)
    assert answer["assumed"] == pytest.approx(0.18 / 0.19, abs=1e-12)
    assert answer["expected_cost"] == pytest.approx(22.0, abs=1e-9)
    assert answer["other_ways"]["repairs_alone"] == pytest.approx(25.0, abs=1e-9)
    assert answer["other_ways"]["hand_over"] == 200.0
    assert answer["lower_bound"] <= answer["expected_cost"] + 1e-9
    assert answer["chart"]["nodes"][0]["label"] == "look at the fuse"
    if search == "optimal":
        assert answer["optimal"] is True
        assert answer["lower_bound"] == pytest.approx(22.0, abs=1e-6)


def test_handing_over_at_once_when_nothing_else_pays(lamp: Path) -> None:
    answer = run_json("plan", lamp, *DARK, "--hand-over", "5")
    assert answer["expected_cost"] == pytest.approx(5.0)
    assert [node["kind"] for node in answer["chart"]["nodes"]] == ["hand_over"]
    assert "nothing else pays" in run("plan", lamp, *DARK, "--hand-over", "5").stdout


def test_living_with_it_is_an_end_too(lamp: Path) -> None:
    answer = run_json("plan", lamp, *DARK, "--live-with", "4")
    assert answer["expected_cost"] == pytest.approx(4.0)
    assert answer["other_ways"]["hand_over"] is None


def test_a_fixed_order_beside_the_steps_found(tmp_path: Path) -> None:
    # A look that costs more than it saves: 30 minutes are 30, so that the order costs 30 + 20 and repairs alone 25. By
    # itself each repair is even odds, so that the order must not repair at 0.5 already.
    model = lamp_model()
    model["tests"][0]["minutes"] = 30
    dear = saved(tmp_path, "dear.json", model)
    answer = run_json("plan", dear, *DARK, "--hand-over", "200", "--order", "look_at_fuse", "--repair-at", "0.6")
    assert answer["other_ways"]["fixed_order"] == pytest.approx(50.0, abs=1e-9)
    assert answer["expected_cost"] == pytest.approx(25.0, abs=1e-9)
    text = run("plan", dear, *DARK, "--hand-over", "200", "--order", "look_at_fuse", "--repair-at", "0.6").stdout
    assert "50.00 EUR" in text
    assert "25.00 EUR" in text


def test_limits_take_work_away(lamp: Path) -> None:
    answer = run_json("plan", lamp, *DARK, "--hand-over", "200", "--max-cost", "20")
    assert answer["repairs"] == ["new_fuse"]
    answer = run_json("plan", lamp, *DARK, "--hand-over", "200", "--max-minutes", "1")
    assert answer["tests"] == []
    closed = run_json("plan", TUTORIAL, *DARK, "--hand-over", "60", "--no-opening")
    some = run_json("plan", TUTORIAL, *DARK, "--hand-over", "60")
    assert set(closed["tests"]) < set(some["tests"])
    assert run_json("plan", TUTORIAL, *DARK, "--hand-over", "60", "--closed", "lamp_open")["tests"] == closed["tests"]
    assert closed["expected_cost"] >= some["expected_cost"]


def test_several_faults_leave_nothing_out(lamp: Path) -> None:
    answer = run_json("plan", lamp, *DARK, "--hand-over", "200", "--assume", "several-faults")
    assert answer["assumed"] == 1.0
    assert len(answer["hypotheses"]) == 3
    assert answer["left_out"] == pytest.approx(0.0, abs=1e-12)


# --- formats --------------------------------------------------------------------------------------------------------


def test_text_is_for_people(lamp: Path) -> None:
    text = run("plan", lamp, *DARK, "--hand-over", "200").stdout
    assert "INVENTED DATA" in text
    assert text.index("SAFETY") < text.index("Assumptions") < text.index("Expected cost") < text.index("Steps")
    assert "95 %" in text
    assert text.index("CAUTION: Shock") < text.index("Take the fuse out")
    assert max(map(len, text.splitlines())) <= 80
    assert "\x1b" not in text
    numbers = re.findall(r"^ *(\d+)\. ", text, flags=re.MULTILINE)
    assert numbers == [str(i + 1) for i in range(len(numbers))]


def test_rare_branches_are_left_to_the_solver(lamp: Path) -> None:
    text = run("plan", lamp, *DARK, "--hand-over", "200", "--fold", "0.9").stdout
    assert text.count("then ask the solver (about") == 2
    whole = run("plan", lamp, *DARK, "--hand-over", "200", "--fold", "0").stdout
    assert "then ask the solver (about" not in whole


@pytest.mark.parametrize(("extension", "begin"), [("md", "# Lamp"), ("dot", "digraph"), ("html", "<!DOCTYPE html>")])
def test_the_extension_says_the_format(lamp: Path, tmp_path: Path, extension: str, begin: str) -> None:
    out = tmp_path / f"chart.{extension}"
    done = run("plan", lamp, *DARK, "--hand-over", "200", "--out", out)
    assert done.returncode == 0, done.stderr
    assert f"chart.{extension}" in done.stdout.replace("\n", "")
    written = out.read_text(encoding="utf-8")
    assert written.startswith(begin)
    assert "At most one fault" in re.sub(r"\s+", " ", re.sub(r"</?text[^>]*>", "", written))


def test_pages_of_svg_become_files_of_their_own(tmp_path: Path) -> None:
    out = tmp_path / "lamp.svg"
    arguments = ("plan", TUTORIAL, *DARK, "--hand-over", "60", "--fold", "0", "--out", out)
    assert run(*arguments).returncode == 0
    files = sorted(tmp_path.glob("lamp*.svg"))
    assert files
    if len(files) > 1:
        assert [file.name for file in files] == [f"lamp-{page + 1}.svg" for page in range(len(files))]
    for file in files:
        assert ElementTree.parse(file).getroot().tag.endswith("svg")
    before = files[0].read_bytes()
    again = run(*arguments)
    assert again.returncode == 1
    assert "--force" in again.stderr
    assert files[0].read_bytes() == before
    assert run(*arguments, "--force").returncode == 0


def test_json_to_a_file_and_the_same_bytes_each_time(lamp: Path, tmp_path: Path) -> None:
    out = tmp_path / "plan.json"
    assert run("plan", lamp, *DARK, "--hand-over", "200", "--out", out).returncode == 0
    answer = json.loads(out.read_text(encoding="utf-8"))
    assert answer == run_json("plan", lamp, *DARK, "--hand-over", "200")


# --- wrong input ----------------------------------------------------------------------------------------------------

WRONG = [
    # arguments, exit status, what the message says
    (("--hand-over", "-3"), 2, ["--hand-over", "-3"]),
    (("--hand-over", "nan"), 2, ["--hand-over", "nan"]),
    (("--hand-over", "much"), 2, ["--hand-over", "much"]),
    (("--live-with", "inf"), 2, ["--live-with", "inf"]),
    ((), 1, ["hand_over", "handing over"]),
    (("--assume", "no-fault"), 2, ["--assume"]),
    (("--search", "magic"), 2, ["--search"]),
    (("--hand-over", "9", "--steps", "10"), 2, ["--steps", "optimal"]),
    (("--hand-over", "9", "--search", "greedy", "--depth", "2"), 2, ["--depth", "look-ahead"]),
    (("--hand-over", "9", "--depth", "0"), 2, ["--depth"]),
    (("--hand-over", "9", "--max-hypotheses", "0"), 2, ["--max-hypotheses"]),
    (("--hand-over", "9", "--fold", "2"), 2, ["--fold", "2"]),
    (("--hand-over", "9", "--repair-at", "0"), 2, ["--repair-at"]),
    (("--hand-over", "9", "--order", "look_at_fus"), 1, ["look_at_fus", '"look_at_fuse"']),
    (("--hand-over", "9", "--order", "dark"), 1, ["--order", "dark"]),
    (("--hand-over", "9", "--order", "look_at_fuse,look_at_fuse"), 1, ["look_at_fuse"]),
    (("--hand-over", "9", "--closed", "lid"), 1, ["access", "lid"]),
    (("--hand-over", "9", "--closed", "lid", "--no-opening"), 2, ["--closed", "--no-opening"]),
    (("--hand-over", "9", "--have-tool", "hammer"), 1, ["tool", "hammer"]),
    (("--hand-over", "9", "--target", "fuze"), 1, ["fuze", '"fuse"']),
    (("--hand-over", "9", "--format", "pdf"), 2, ["--format"]),
    (("--hand-over", "9", "--out", "chart.pdf"), 2, ["--out", ".svg"]),
    (("--hand-over", "9", "--out", "no/such/folder/chart.svg"), 1, ["no/such/folder"]),
    (("--hand-over", "9", "--by", "gain"), 2, ["--by"]),
    (("--hand-over", "9", "--finding", "fuse=faulty"), 1, ["fuse", "dark"]),
]


@pytest.mark.parametrize(
    ("arguments", "status", "said"),
    WRONG,
    ids=lambda value: " ".join(map(str, value))[:40] if isinstance(value, tuple) else None,
)
def test_wrong_input_is_refused_in_words(lamp: Path, arguments: tuple[str, ...], status: int, said: list[str]) -> None:
    found = ("--finding", "dark=absent") if "fuse=faulty" in arguments else DARK
    done = run("plan", lamp, *found, *arguments)
    assert done.returncode == status, done.stdout + done.stderr
    for word in said:
        assert word in done.stderr
    assert "exception" not in done.stderr.lower()


def test_errors_as_json(lamp: Path) -> None:
    done = run("plan", lamp, *DARK, "--format", "json")
    assert done.returncode == 1
    assert json.loads(done.stdout)["error"]["kind"] == "argument"
