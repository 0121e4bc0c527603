# SPDX-License-Identifier: BSD-3-Clause
"""Runs the program as its users do: a process, its exit status and what it printed."""

from __future__ import annotations

import json
import os
import subprocess
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
TUTORIAL = ROOT / "models" / "tutorial.json"

# Chest clinic, Lauritzen & Spiegelhalter 1988, tables as published there.
CHEST_CLINIC = """network chest_clinic {}
variable asia { type discrete [ 2 ] { yes, no }; }
variable tub { type discrete [ 2 ] { yes, no }; }
variable smoke { type discrete [ 2 ] { yes, no }; }
variable lung { type discrete [ 2 ] { yes, no }; }
variable bronc { type discrete [ 2 ] { yes, no }; }
variable either { type discrete [ 2 ] { yes, no }; }
variable xray { type discrete [ 2 ] { yes, no }; }
variable dysp { type discrete [ 2 ] { yes, no }; }
probability ( asia ) { table 0.01, 0.99; }
probability ( tub | asia ) { (yes) 0.05, 0.95; (no) 0.01, 0.99; }
probability ( smoke ) { table 0.5, 0.5; }
probability ( lung | smoke ) { (yes) 0.1, 0.9; (no) 0.01, 0.99; }
probability ( bronc | smoke ) { (yes) 0.6, 0.4; (no) 0.3, 0.7; }
probability ( either | lung, tub ) { (yes, yes) 1, 0; (no, yes) 1, 0; (yes, no) 1, 0; (no, no) 0, 1; }
probability ( xray | either ) { (yes) 0.98, 0.02; (no) 0.05, 0.95; }
probability ( dysp | bronc, either ) { (yes, yes) 0.9, 0.1; (no, yes) 0.7, 0.3; (yes, no) 0.8, 0.2; (no, no) 0.1, 0.9; }
"""


def program() -> str:
    path = os.environ.get("FAULTODDS_PROGRAM", "")
    if not path:
        pytest.skip("FAULTODDS_PROGRAM is not set: nothing about the program is checked here", allow_module_level=True)
    return path


def run(*arguments: str | Path, text: str = "", **environment: str) -> subprocess.CompletedProcess[str]:
    """Runs the program over pipes in a plain environment; `text` is its input."""
    known = {
        key: value for key, value in os.environ.items() if key in ("PATH", "HOME", "LD_LIBRARY_PATH", "ASAN_OPTIONS")
    }
    return subprocess.run(
        [program(), *map(str, arguments)],
        input=text,
        capture_output=True,
        text=True,
        env={**known, "LANG": "C.UTF-8", **environment},
        timeout=300,
        check=False,
    )


def run_json(*arguments: str | Path) -> Any:
    done = run(*arguments, "--format", "json")
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""
    return json.loads(done.stdout)


def one_fault_model(**changes: Any) -> dict[str, Any]:
    """A lamp with a fuse and a bulb, invented; small enough to work out by hand."""
    model: dict[str, Any] = {
        "format": "faultodds-model",
        "format_version": 1,
        "name": "lamp",
        "title": "Lamp",
        "version": "1.0",
        "authors": ["invented"],
        "description": "invented",
        "invented_data": True,
        "safety": "Invented numbers; the maker's service information decides.",
        "currency": "EUR",
        "labour_rate": 60,
        "cautions": [{"name": "shock", "label": "Shock", "text": "Switch the supply off first."}],
        "components": [
            {"name": "fuse", "prior": 0.1},
            {"name": "bulb", "prior": {"dim": 0.2, "dead": 0.1}, "states": ["sound", "dim", "dead"]},
        ],
        "symptoms": [
            {
                "name": "dark",
                "label": "the lamp is dark",
                "complaint": True,
                "any": ["fuse", {"of": "bulb", "is": "dead"}],
            }
        ],
        "tests": [
            {
                "name": "look_at_fuse",
                "label": "look at the fuse",
                "procedure": "Take the fuse out and look at the wire.",
                "states": ["whole", "melted"],
                "examines": {"component": "fuse", "detects": 0.9, "false_alarm": 0.05},
                "minutes": 2,
                "money": 0,
                "cautions": ["shock"],
            }
        ],
    }
    model.update(changes)
    return model


def saved(folder: Path, name: str, content: Any) -> Path:
    path = folder / name
    path.write_text(content if isinstance(content, str) else json.dumps(content), encoding="utf-8")
    return path


def session(
    model: Path, *answers: str, save: Path | None = None, extra: tuple[str, ...] = ()
) -> subprocess.CompletedProcess[str]:
    """The case command with these answers, a line each."""
    keep = ("--save", str(save)) if save else ("--no-save",)
    return run("case", model, *keep, *extra, text="".join(answer + "\n" for answer in answers))


def steps(case_file: Path) -> list[dict[str, Any]]:
    """What a job file keeps, in short: what was found, declined, repaired, or handed over."""
    content = json.loads(case_file.read_text(encoding="utf-8"))
    assert content["format"] == "faultodds-job"
    return [in_short(entry) for entry in content["entries"]]


def in_short(entry: dict[str, Any]) -> dict[str, Any]:
    """An entry of a job without its kind and its charge."""
    names = {
        "component": "variable",
        "test": "variable",
        "text": "reading",
        "findings": "revealed",
        "reason": "declined",
        "repair": "repaired",
        "to": "handed_over",
    }
    short = {names.get(key, key): value for key, value in entry.items() if key not in ("kind", "charge", "readings")}
    if "check" in short:
        short["check"] = short["check"]["result"]
    return short
