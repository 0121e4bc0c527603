# SPDX-License-Identifier: BSD-3-Clause
"""Estimates by sampling, which the program gives on request and never under the name of an exact answer."""

from __future__ import annotations

import json
import random
from pathlib import Path

import pytest
from program_runs import CHEST_CLINIC, one_fault_model, program, run, run_json, saved

program()


@pytest.fixture
def clinic(tmp_path: Path) -> Path:
    return saved(tmp_path, "clinic.bif", CHEST_CLINIC)


@pytest.fixture
def lamp(tmp_path: Path) -> Path:
    return saved(tmp_path, "lamp.json", one_fault_model())


def dense_network() -> str:
    """200 variables of two states, each with four parents of those before it: no junction tree fits into 8 GiB."""
    draw = random.Random(1)
    lines = ["network dense {}"]
    lines += [f"variable v{i} {{ type discrete [ 2 ] {{ no, yes }}; }}" for i in range(200)]
    for i in range(200):
        parents = draw.sample(range(i), min(i, 4))
        if not parents:
            lines.append(f"probability ( v{i} ) {{ table 0.7, 0.3; }}")
            continue
        names = ", ".join(f"v{parent}" for parent in parents)
        rows = "".join(
            f" ({', '.join('yes' if row >> k & 1 else 'no' for k in range(len(parents)))}) {p}, {1 - p};"
            for row in range(2 ** len(parents))
            for p in [draw.randint(20, 80) / 100]
        )
        lines.append(f"probability ( v{i} | {names} ) {{{rows} }}")
    return "\n".join(lines)


def test_estimates_lie_as_near_the_exact_answer_as_their_errors_say(clinic: Path) -> None:
    found = ("--finding", "dysp=yes", "--finding", "smoke=yes")
    exact = run_json("posterior", clinic, *found)
    sampled = run_json("posterior", clinic, *found, "--sample", "40000", "--seed", "3")
    assert sampled["samples"] == 40000
    assert sampled["seed"] == 3
    assert 100 < sampled["effective_samples"] <= 40000
    for variable, states in exact["posteriors"].items():
        for state, probability in states.items():
            estimate = sampled["posterior_estimates"][variable][state]
            # Five standard errors: a normal deviate is farther off once in 1.7 million times.
            assert abs(estimate["estimate"] - probability) <= 5 * estimate["standard_error"] + 1e-12, (variable, state)
    evidence = sampled["log_evidence_estimate"]
    assert abs(evidence["estimate"] - exact["log_evidence"]) <= 5 * evidence["standard_error"]


def test_estimates_have_other_names_than_exact_answers(clinic: Path) -> None:
    exact = run_json("posterior", clinic)
    sampled = run_json("posterior", clinic, "--sample", "1000")
    assert not set(exact) & set(sampled)


def test_the_text_says_estimate_and_standard_error(lamp: Path) -> None:
    done = run("posterior", lamp, "-f", "dark=present", "--sample", "20000", LANG="C")
    assert done.returncode == 0, done.stderr
    assert "Estimates, not exact" in done.stdout
    assert "Faults, estimate and standard error" in done.stdout
    (fuse,) = (line for line in done.stdout.splitlines() if "fuse: faulty" in line)
    assert "+- 0." in fuse
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert "\u00b1" in run("posterior", lamp, "--sample", "1000").stdout


def test_the_same_seed_gives_the_same_bytes(clinic: Path) -> None:
    def text(seed: int) -> str:
        return run("posterior", clinic, "--sample", "500", "--seed", str(seed), "--format", "json").stdout

    assert text(5) == text(5)
    assert json.loads(text(5))["posterior_estimates"] != json.loads(text(6))["posterior_estimates"]


def test_few_effective_samples_are_pointed_out(lamp: Path) -> None:
    assert "These are few" in run("posterior", lamp, "-f", "dark=present", "--sample", "50").stdout
    assert "These are few" not in run("posterior", lamp, "-f", "dark=present", "--sample", "5000").stdout


def test_only_some_variables_and_readings_work_as_for_exact_answers(clinic: Path) -> None:
    sampled = run_json("posterior", clinic, "--sample", "1000", "--only", "lung")
    assert list(sampled["posterior_estimates"]) == ["lung"]


@pytest.mark.parametrize(
    "arguments",
    [
        ("--sample", "0"),
        ("--sample", "-1"),
        ("--sample", "many"),
        ("--seed", "3"),
        ("--sample", "10", "--explain", "2"),
        ("--sample", "10", "--why", "fuse"),
    ],
)
def test_what_makes_no_sense_together_is_wrong_use(lamp: Path, arguments: tuple[str, ...]) -> None:
    done = run("posterior", lamp, *arguments)
    assert done.returncode == 2
    assert arguments[0] in done.stderr


def test_findings_are_checked_as_for_exact_answers(lamp: Path) -> None:
    twice = run("posterior", lamp, "-f", "dark=present", "-f", "dark=absent", "--sample", "100")
    assert twice.returncode == 1
    assert "dark" in twice.stderr
    assert run("posterior", lamp, "-f", "bright=present", "--sample", "100").returncode == 1
    weights = run("posterior", lamp, "--likelihood", "bulb=0,0,0", "--sample", "100")
    assert weights.returncode == 1
    assert "bulb" in weights.stderr


def test_a_model_too_large_for_memory_is_refused_with_the_way_out(tmp_path: Path) -> None:
    model = saved(tmp_path, "dense.bif", dense_network())
    refused = run("posterior", model, "-f", "v199=yes")
    assert refused.returncode == 1
    assert "estimate by sampling" in refused.stderr
    assert "--sample" in refused.stderr
    sampled = run_json("posterior", model, "-f", "v199=yes", "--sample", "2000")
    assert sampled["posterior_estimates"]["v199"]["yes"] == {"estimate": 1.0, "standard_error": 0.0}


def test_a_markov_network_cannot_be_sampled(tmp_path: Path) -> None:
    model = saved(tmp_path, "pair.uai", "MARKOV\n2\n2 2\n1\n2 0 1\n4\n 1 2 3 4\n")
    done = run("posterior", model, "--sample", "100")
    assert done.returncode == 1
    assert "Markov" in done.stderr
