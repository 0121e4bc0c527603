# SPDX-License-Identifier: BSD-3-Clause
"""Ways in which people use the program that are neither wrong nor the usual one."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path

import pytest
from program_runs import ROOT, TUTORIAL, program, run, run_json

PETROL = ROOT / "models" / "low-power-petrol.json"
ALL_KNOWN = ["-f", "battery=sound", "-f", "switch=sound", "-f", "bulb=blown", "-f", "other=none"]


def test_where_all_is_known_nothing_is_left_to_ask() -> None:
    done = run("next", TUTORIAL, *ALL_KNOWN)
    assert done.returncode == 0, done.stderr
    assert "nothing is left to ask" in done.stdout
    assert "Next test" not in done.stdout
    answer = run_json("next", TUTORIAL, *ALL_KNOWN)
    assert (answer["targets"], answer["leading"], answer["tests"], answer["entropy_bits"]) == ([], [], [], 0.0)
    named = run_json("next", TUTORIAL, *ALL_KNOWN, "--test", "battery_voltage")
    assert [test["gain_bits"] for test in named["tests"]] == [0.0]


def test_no_tools_leaves_out_every_test_that_needs_one() -> None:
    model = json.loads(TUTORIAL.read_text(encoding="utf-8"))
    needing = {test["name"] for test in model["tests"] if test.get("tools")}
    answer = run_json("next", TUTORIAL, "-f", "dark=present", "--no-tools")
    assert needing
    assert {entry["test"] for entry in answer["left_out"]} == needing
    assert not needing & {test["test"] for test in answer["tests"]}
    both = run("next", TUTORIAL, "--no-tools", "--have-tool", "multimeter")
    assert both.returncode == 2
    assert "--have-tool" in both.stderr


@pytest.mark.parametrize("format_", ["text", "json"])
def test_a_reader_may_go_away_after_the_first_line_of_much_output(format_: str) -> None:
    """Much: more than a pipe and the program's own buffer hold, so that it fails in the middle and not at the end."""
    command = [program(), "next", str(PETROL), "--top", "1000", "--format", format_]
    whole = run(*command[1:])
    assert whole.returncode == 0
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, bufsize=0) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.read(1)
        process.stdout.close()
        assert process.stderr.read() == b""
    assert process.returncode == 0


def test_a_count_out_of_range_says_what_would_be_right() -> None:
    for arguments in (["next", TUTORIAL, "--top"], ["posterior", TUTORIAL, "--explain"]):
        for count in ("0", "-3", "1e99"):
            done = run(*arguments, count)
            assert done.returncode == 2
            assert len(done.stderr) < 160, done.stderr


def test_an_option_without_its_value_says_so() -> None:
    for arguments in (
        ["--finding"],
        ["--finding", "dark=present", "--finding"],
        ["--no-tools", "--finding=dark=present", "-f"],
    ):
        done = run("next", TUTORIAL, *arguments)
        assert done.returncode == 2
        assert "--finding: its value is missing" in done.stderr, arguments


def test_a_state_that_is_like_none_gets_all_of_them_named() -> None:
    done = run("next", TUTORIAL, "-f", "dark=yes")
    assert done.returncode == 1
    assert '"absent", "present"' in done.stderr


def test_menus_explain_themselves_and_let_one_stop(tmp_path: Path) -> None:
    keep = tmp_path / "lamp.case.json"
    asked = run("case", TUTORIAL, "--save", keep, text="?\n1\n?\nq\n1\n")
    assert asked.returncode == 0
    assert " ".join(asked.stdout.split()).count("q stops here") == 2
    assert "none of these" not in asked.stdout
    assert "Next test" not in asked.stdout, "q at the complaint ends the case"
    assert "The case is saved" in asked.stdout
