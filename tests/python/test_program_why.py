# SPDX-License-Identifier: BSD-3-Clause
"""Why a fault is suspected, as the program tells it.

Numbers by hand: P(fuse) = 0.1, P(bulb dead) = 0.1, the lamp is dark if and only if one of them is so, and a look at the
fuse has odds of 0.9 to 0.05.
"""

from __future__ import annotations

from math import log2, log10
from pathlib import Path

import pytest
from program_runs import one_fault_model, run, run_json, saved

FOUND = ["-f", "dark=present", "-f", "look_at_fuse=melted"]


def test_each_finding_has_its_weight(tmp_path: Path) -> None:
    model = saved(tmp_path, "lamp.json", one_fault_model())
    (why,) = run_json("posterior", model, *FOUND, "--why", "fuse")["why"]
    assert why["variable"] == "fuse"
    assert why["prior"] == pytest.approx(0.1)
    assert why["posterior"] == pytest.approx(20 / 21)  # odds of 0.1 to 0.9 * 0.1, times 18
    dark, look = why["findings"]
    assert dark["left_out_bits"] == pytest.approx(log2(10))
    assert dark["left_out_decibans"] == pytest.approx(10.0)
    assert look["in_order_bits"] == pytest.approx(log2(18))
    assert look["probability_left_out"] == pytest.approx(0.1 / 0.19)
    assert dark["in_order_bits"] + look["in_order_bits"] == pytest.approx(why["total_bits"])
    assert why["total_decibans"] == pytest.approx(10 * log10(180))
    assert why["conflict"]["bits"] < 0
    assert "(without it 53 %)" in why["in_words"]


def test_the_text_speaks_of_the_findings_and_shows_the_numbers(tmp_path: Path) -> None:
    model = saved(tmp_path, "lamp.json", one_fault_model())
    done = run("posterior", model, *FOUND, "--why", "fuse", "--why", "bulb=dim")
    assert done.returncode == 0, done.stderr
    plain = " ".join(done.stdout.split())
    assert "has a probability of 95 %; before anything was found it was 10 %" in plain
    assert 'For it, above all: "look at the fuse: melted" (without it 53 %)' in plain
    assert "+4.17" in plain
    assert "Why bulb: dim" in plain
    assert max(map(len, done.stdout.splitlines())) <= 80


def test_what_rules_a_fault_out_is_no_number(tmp_path: Path) -> None:
    model = saved(tmp_path, "lamp.json", one_fault_model())
    (why,) = run_json("posterior", model, "-f", "dark=absent", "--why", "fuse")["why"]
    assert why["total_bits"] == "-infinity"
    assert why["posterior"] == 0.0
    assert "is ruled out" in why["in_words"]
    assert "rules it out" in run("posterior", model, "-f", "dark=absent", "--why", "fuse").stdout


def test_names_that_say_too_little_are_refused(tmp_path: Path) -> None:
    model = saved(tmp_path, "lamp.json", one_fault_model())
    unknown = run("posterior", model, "--why", "fus")
    assert unknown.returncode == 1
    assert "fuse" in unknown.stderr
    no_state = run("posterior", model, "--why", "dark")
    assert no_state.returncode == 1
    assert "dark=STATE" in no_state.stderr


def test_why_at_the_bench_tells_of_the_test_and_of_the_leading_fault(tmp_path: Path) -> None:
    model = saved(tmp_path, "lamp.json", one_fault_model())
    done = run("case", model, "--no-save", text="1\nwhy\nwhy fuse\nq\n")
    assert done.returncode == 0, done.stderr
    plain = " ".join(done.stdout.split())
    assert "look at the fuse best tells bulb: dead from fuse: faulty" in plain
    assert plain.count("Why fuse: faulty") >= 1
    assert "before anything was found it was 10 %" in plain
