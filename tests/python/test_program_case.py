# SPDX-License-Identifier: BSD-3-Clause
"""The case command over a pipe, at a terminal, and with the plug pulled."""

from __future__ import annotations

import json
import os
import pty
import re
import select
import signal
import subprocess
import time
from pathlib import Path
from typing import Any

import pytest
from program_runs import CHEST_CLINIC, ROOT, TUTORIAL, one_fault_model, program, run, run_json, saved, session, steps

program()


def test_a_whole_case_by_numbers_alone(tmp_path: Path) -> None:
    keep = tmp_path / "lamp.case.json"
    # Context passed over, complaint 1 (dark), then the first outcome of whatever is proposed, to the end.
    done = session(TUTORIAL, "", "1", *["1"] * 8, "q", save=keep)
    assert done.returncode == 0
    assert done.stderr == ""
    assert done.stdout.index("What does the customer complain of?") < done.stdout.index("Next test")
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert steps(keep)[0] == {"variable": "dark", "state": "present"}
    assert len(steps(keep)) >= 2
    assert "Advice: repair now" in done.stdout
    assert "service information" in done.stdout.split("Advice: ")[1]


def test_cautions_come_before_every_proposed_step() -> None:
    done = session(TUTORIAL, "", "1", "1", "1", "1")
    proposals = done.stdout.split("Next test: ")[1:]
    assert proposals
    for proposal in proposals:
        if "CAUTION" in proposal:
            assert proposal.index("CAUTION") < proposal.index("How")


def test_the_proposed_test_is_the_best_of_the_ranking_where_that_is_asked_for() -> None:
    best = run_json("next", TUTORIAL, "--finding", "dark=present")["tests"][0]
    done = session(TUTORIAL, "", "dark", extra=("--by", "gain-per-cost"))
    assert f"Next test: {best['label']}" in done.stdout


def test_a_case_on_a_model_of_real_size_fits_80_columns_and_warns_before_each_step() -> None:
    done = session(
        ROOT / "models" / "low-power-petrol.json", *[""] * 9, "1 3", "w", "1", "yes", "list", "2", "1", "?", "faults"
    )
    assert done.returncode == 0
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert "SAFETY" in done.stdout.split("Next test")[0]
    for proposal in done.stdout.split("Next test: ")[1:]:
        assert "CAUTION" not in proposal.split("  How ")[-1].split("\n\n")[0]


def test_the_end_of_the_input_ends_well_at_every_point(tmp_path: Path) -> None:
    script = ["2", "1", "w", "other", "1", "1", "1", "list", "1", "1", "?", "u"]
    for length in range(len(script) + 1):
        done = session(TUTORIAL, *script[:length], save=tmp_path / f"{length}.case.json")
        assert done.returncode == 0, (length, done.stderr)
        assert done.stderr == ""


def test_answers_by_name_prefix_reading_and_finding(tmp_path: Path) -> None:
    keep = tmp_path / "x.case.json"
    done = session(
        TUTORIAL,
        "wet",
        "dark",
        "other battery_voltage",
        "low",
        "bulb_continuity=good",
        "WEATHER=dry",
        "weather=dry",
        save=keep,
    )
    assert done.returncode == 0
    assert steps(keep) == [
        {"variable": "weather", "state": "wet"},
        {"variable": "dark", "state": "present"},
        {"variable": "battery_voltage", "state": "low"},
        {"variable": "bulb_continuity", "state": "good"},
        {"variable": "weather", "state": "dry"},
    ]
    assert "WEATHER" in done.stdout


def reading_model() -> dict[str, Any]:
    model = one_fault_model(symptoms=[])
    model["tests"][0].update(
        states=["good", "low"],
        reading={
            "quantity": "supply",
            "unit": "V",
            "limits": [{"outcome": "low", "below": 9}, {"outcome": "good", "from": 9}],
        },
    )
    return model


@pytest.mark.parametrize(
    ("typed", "state", "reading"),
    [
        ("8.99 V", "low", "8.99 V"),
        ("9 V", "good", "9 V"),
        ("9000 mV", "good", "9000 mV"),
        ("reading 12", "good", "12 V"),
        ("9v", "good", "9 v"),
        ("2", "low", None),
        ("lo", "low", None),
    ],
)
def test_readings_become_outcomes_by_the_limits_and_bare_numbers_are_menu_numbers(
    tmp_path: Path, typed: str, state: str, reading: str | None
) -> None:
    keep = tmp_path / "r.case.json"
    done = session(saved(tmp_path, "r.json", reading_model()), typed, save=keep)
    kept = {"state": state} if reading is None else {"reading": reading}
    assert steps(keep) == [{"variable": "look_at_fuse", **kept}]
    assert re.search(rf"look at the fuse: {'' if reading is None else reading}.*{state}\n", done.stdout)


def test_changes_are_told_in_words_and_numbers(tmp_path: Path) -> None:
    # By hand: P(fuse | dark) = 0.1 / 0.19 = 53 %.
    done = session(saved(tmp_path, "lamp.json", one_fault_model()), "1")
    assert "fuse: faulty: much more likely, 10 % -> 53 %" in done.stdout


def test_declined_tests_are_not_proposed_again_until_undone(tmp_path: Path) -> None:
    keep = tmp_path / "d.case.json"
    first = session(TUTORIAL, "", "1", "s", "could not", save=keep)
    proposed = [part.split("\n")[0] for part in first.stdout.split("Next test: ")[1:]]
    assert len(proposed) == len(set(proposed)) == 3
    assert [step.get("declined") for step in steps(keep)[1:]] == ["skipped", "could not be done"]
    again = session(TUTORIAL, "u", "u", save=keep)
    reproposed = [part.split("\n")[0] for part in again.stdout.split("Next test: ")[1:]]
    assert reproposed == proposed[::-1]
    assert len(steps(keep)) == 1


PETROL = ROOT / "models" / "low-power-petrol.json"
TO_THE_CODES = (*[""] * 9, "1")  # context passed over; lacks power, upon which reading the codes is proposed


def test_a_test_that_reveals_symptoms_is_answered_by_them_in_one_step(tmp_path: Path) -> None:
    keep = tmp_path / "codes.case.json"
    reveals = next(test for test in json.loads(PETROL.read_text())["tests"] if test["name"] == "read_stored_codes")
    done = session(PETROL, *TO_THE_CODES, "P0171", "yes", save=keep)
    assert done.returncode == 0, done.stderr
    assert max(map(len, done.stdout.splitlines())) <= 80
    assert done.stdout.count("Next test: read the stored codes") == 1
    (complaint, codes) = steps(keep)
    assert complaint["variable"] == "low_power"
    assert codes["variable"] == "read_stored_codes"
    assert {finding["variable"]: finding["state"] for finding in codes["revealed"]} == {
        name: "present" if name == "code_p0171" else "absent" for name in reveals["reveals"]
    }
    # The same figures as with the codes as findings, none counted twice.
    findings = [f"--finding={name}={'present' if name == 'code_p0171' else 'absent'}" for name in reveals["reveals"]]
    direct = run_json("next", PETROL, "--finding=low_power=present", *findings)
    assert f"Next test: {direct['tests'][0]['label']}" in done.stdout
    assert "read_stored_codes" in {left["test"] for left in direct["left_out"]}

    resumed = session(PETROL, "history", "undo", "history", save=keep)
    assert "2 answers" in resumed.stdout
    assert "read the stored codes: code P0171: mixture too lean; none of the other 24" in " ".join(
        resumed.stdout.split()
    )
    assert "Next test: read the stored codes" in resumed.stdout.split("Taken back")[1]
    assert steps(keep) == [complaint]


@pytest.mark.parametrize(
    ("answers", "present", "absent"),
    [
        (("none",), 0, 25),
        (("1 3", "no"), 2, 0),
        (("1 3", "perhaps", ""), 2, 23),
        (("P0171 P03", "99", "p0171", "n"), 1, 0),
    ],
)
def test_what_is_revealed_may_be_none_some_or_all(
    tmp_path: Path, answers: tuple[str, ...], present: int, absent: int
) -> None:
    keep = tmp_path / "codes.case.json"
    done = session(PETROL, *TO_THE_CODES, *answers, save=keep)
    assert done.returncode == 0, done.stderr
    states = [finding["state"] for finding in steps(keep)[1]["revealed"]]
    assert (states.count("present"), states.count("absent")) == (present, absent)


def test_a_revealing_test_can_be_answered_in_general_or_chosen_by_name(tmp_path: Path) -> None:
    keep = tmp_path / "general.case.json"
    done = session(PETROL, *TO_THE_CODES, "g", "misfire", save=keep)
    assert done.returncode == 0, done.stderr
    assert steps(keep)[1:] == [{"variable": "read_stored_codes", "state": "misfire_codes"}]
    session(PETROL, "undo", "s", "other read_stored_codes", "p0300", "n", save=keep)
    assert [step.get("declined") for step in steps(keep)[1:]] == ["skipped", None]
    assert steps(keep)[2]["revealed"] == [{"variable": "code_p0300", "state": "present"}]
    session(PETROL, "undo", "other read_stored_codes", "g", "1", save=keep)
    assert steps(keep)[2:] == [{"variable": "read_stored_codes", "state": "none"}]


def test_impossible_revelations_are_explained_and_the_case_kept(tmp_path: Path) -> None:
    model = one_fault_model()
    model["symptoms"].append({"name": "smell", "label": "it smells burnt", "any": ["fuse"]})
    model["tests"][0]["reveals"] = ["smell"]
    keep = tmp_path / "clash.case.json"
    done = session(saved(tmp_path, "lamp.json", model), "", "dark=absent", "other look_at_fuse", "1", save=keep)
    assert done.returncode == 0, done.stderr
    assert "That cannot be" in done.stdout
    assert "it smells burnt: present [smell=present]" in done.stdout
    assert steps(keep) == [{"variable": "dark", "state": "absent"}]


def test_undo_restores_the_figures_and_has_an_end(tmp_path: Path) -> None:
    keep = tmp_path / "u.case.json"
    before = session(TUTORIAL, "", "1", "faults", save=tmp_path / "plain.case.json").stdout
    after = session(TUTORIAL, "", "1", "weather=wet", "weather=dry", "1", "u", "u", "u", "faults", save=keep).stdout
    assert after.split("All faults")[-1].split("\n\n")[0] == before.split("All faults")[-1].split("\n\n")[0]
    assert steps(keep) == [{"variable": "dark", "state": "present"}]
    empty = session(TUTORIAL, "u", "u", save=keep)
    assert "nothing to take back" in empty.stdout
    assert steps(keep) == []


def test_undo_of_a_changed_answer_brings_the_earlier_one_back(tmp_path: Path) -> None:
    keep = tmp_path / "c.case.json"
    session(TUTORIAL, "", "1", "weather=wet", "weather=dry", "u", save=keep)
    assert steps(keep)[-1] == {"variable": "weather", "state": "wet"}
    resumed = session(TUTORIAL, "history", save=keep)
    assert "weather of the last days: wet" in resumed.stdout


def test_an_impossible_answer_is_explained_and_the_case_kept(tmp_path: Path) -> None:
    keep = tmp_path / "i.case.json"
    lamp = saved(tmp_path, "lamp.json", one_fault_model())
    done = session(lamp, "", "fuse=faulty", "dark=absent", "history", save=keep)
    assert done.returncode == 0
    assert "That cannot be" in done.stdout
    assert "the lamp is dark: absent [dark=absent]" in done.stdout
    assert steps(keep) == [{"variable": "fuse", "state": "faulty"}]


def test_misspelt_input_is_answered_with_help_and_changes_nothing(tmp_path: Path) -> None:
    keep = tmp_path / "m.case.json"
    done = session(
        TUTORIAL,
        "",
        "1",
        "",
        "99",
        "undoo",
        "dakr=present",
        "dark=presnt",
        "other nonsense",
        "reading",
        "o",
        "x",
        "",
        "list",
        "77",
        "",
        save=keep,
    )
    assert done.returncode == 0
    assert "undo" in done.stdout
    assert '"dark"' in done.stdout
    assert '"present"' in done.stdout
    assert len(steps(keep)) == 1


def test_a_nearly_certain_fault_ends_in_advice_with_cautions_first() -> None:
    done = session(TUTORIAL, "", "1", "battery=dead")
    advice = done.stdout[done.stdout.index("Advice: repair now, 100 % sure") :]
    assert "Repair: replace the battery" in advice
    assert advice.index("CAUTION") < advice.index("Works")
    assert "service information" in advice
    more = session(TUTORIAL, "", "1", "battery=dead", "m")
    assert "Next test" in more.stdout[more.stdout.index("Advice:") :]


def test_a_case_goes_on_when_everything_is_known_or_done(tmp_path: Path) -> None:
    lamp = saved(tmp_path, "lamp.json", one_fault_model())
    known = session(lamp, "", "fuse=faulty", "bulb=sound", "m", "faults", "list", "w", "undo")
    assert known.returncode == 0, known.stderr
    assert "Advice: fuse: faulty, 100 %" in known.stdout
    clinic = saved(tmp_path, "clinic.bif", CHEST_CLINIC)
    done = session(clinic, "xray=yes", "s", "undo", extra=("--target", "lung", "--test", "xray"))
    assert done.returncode == 0, done.stderr
    assert "No test that is left would tell more" in done.stdout


def test_every_known_fault_gets_its_advice() -> None:
    done = session(TUTORIAL, "", "1", "battery=dead", "m", "bulb=blown", "undo")
    assert done.stdout.count("Known fault: battery: dead") >= 2
    assert "Passed over: replace the battery" in done.stdout
    # Undoing brings the first advice back.
    assert done.stdout.rindex("Repair: replace the battery") > done.stdout.index("Taken back: bulb: blown")
    both = session(TUTORIAL, "", "1", "battery=dead", "bulb=blown")
    last = both.stdout[both.stdout.rindex("By expected cost") :]
    assert "Repair: replace the battery" in last
    assert re.search(r"repair  replace the bulb", last)


def test_nothing_left_to_test_ends_in_the_most_likely_fault(tmp_path: Path) -> None:
    done = session(saved(tmp_path, "lamp.json", one_fault_model()), "1", "s")
    assert "No test that is left would tell more" in done.stdout
    assert done.returncode == 0


def test_a_case_of_another_model_or_version_is_refused_with_what_to_do(tmp_path: Path) -> None:
    keep = tmp_path / "v.case.json"
    lamp = saved(tmp_path, "lamp.json", one_fault_model())
    session(lamp, "1", save=keep)
    before = keep.read_bytes()
    newer = saved(tmp_path, "newer.json", one_fault_model(version="1.1"))
    refused = session(newer, save=keep)
    assert refused.returncode == 1
    assert "1.0" in refused.stderr
    assert "1.1" in refused.stderr
    assert "--other-version" in refused.stderr
    other = session(TUTORIAL, save=keep, extra=("--other-version",))
    assert other.returncode == 1
    assert "lamp" in other.stderr
    assert keep.read_bytes() == before
    taken = session(newer, "history", save=keep, extra=("--other-version",))
    assert taken.returncode == 0
    assert "the lamp is dark: present" in taken.stdout


@pytest.mark.parametrize(
    "content",
    [
        "",
        "{",
        "[]",
        "{}",
        '{"format": "faultodds-job", "format_version": 1}',
        '{"format": "faultodds-job", "format_version": 1, "model": {"name": "lamp", "version": "1.0"},'
        ' "entries": [{"kind": "finding", "variable": 3}]}',
    ],
)
def test_a_damaged_case_file_is_refused_and_left_alone(tmp_path: Path, content: str) -> None:
    keep = saved(tmp_path, "bad.case.json", content)
    done = session(saved(tmp_path, "lamp.json", one_fault_model()), "1", save=keep)
    assert done.returncode == 1
    assert "bad.case.json" in done.stderr
    assert keep.read_text(encoding="utf-8") == content


def test_weighed_findings_survive_in_a_case_file(tmp_path: Path) -> None:
    lamp = saved(tmp_path, "lamp.json", one_fault_model())
    keep = tmp_path / "w.case.json"
    session(lamp, "bulb=dead", "q", save=keep)
    content = json.loads(keep.read_text(encoding="utf-8"))
    content["entries"] = [{"kind": "part", "component": "bulb", "weights": [0.25, 0.1, 1]}]
    keep.write_text(json.dumps(content), encoding="utf-8")
    done = session(lamp, "dark=present", save=keep)
    assert done.returncode == 0
    assert steps(keep)[0] == {"variable": "bulb", "weights": [0.25, 0.1, 1.0]}


def test_saving_elsewhere_goes_on_there_and_never_replaces_a_file(tmp_path: Path) -> None:
    first, second = tmp_path / "1.case.json", tmp_path / "2.case.json"
    other = saved(tmp_path, "other.case.json", "mine")
    bad = tmp_path / "no" / "x.case.json"
    done = session(TUTORIAL, "", "1", f"save {other}", f"save {bad}", f"save {second}", "1", save=first)
    assert done.returncode == 0
    unwrapped = " ".join(done.stdout.split())
    assert "is there already" in unwrapped
    assert "NOT saved" in unwrapped
    assert other.read_text(encoding="utf-8") == "mine"
    assert (len(steps(first)), len(steps(second))) == (1, 2)


def test_without_a_name_a_new_file_keeps_the_case(tmp_path: Path) -> None:
    for _ in range(2):
        subprocess.run(
            [program(), "case", str(TUTORIAL)], input="\n1\n", text=True, cwd=tmp_path, capture_output=True, check=True
        )
    files = sorted(tmp_path.glob("tutorial-*.case.json"))
    assert len(files) == 2
    assert all(steps(file) == [{"variable": "dark", "state": "present"}] for file in files)


def test_a_pulled_plug_loses_nothing(tmp_path: Path) -> None:
    keep = tmp_path / "plug.case.json"
    command = [program(), "case", str(TUTORIAL), "--save", str(keep)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as process:
        assert process.stdin is not None
        process.stdin.write("\n1\nbattery_voltage=good\n")
        process.stdin.flush()
        deadline = time.monotonic() + 60
        while time.monotonic() < deadline and not (keep.exists() and len(steps(keep)) == 2):
            time.sleep(0.02)
        os.kill(process.pid, signal.SIGKILL)
        process.wait()
    assert process.returncode == -signal.SIGKILL
    assert steps(keep) == [{"variable": "dark", "state": "present"}, {"variable": "battery_voltage", "state": "good"}]
    assert list(tmp_path.iterdir()) == [keep]
    resumed = session(TUTORIAL, "history", save=keep)
    straight = session(TUTORIAL, "", "1", "battery_voltage=good")
    assert resumed.returncode == 0
    assert "2 answers" in resumed.stdout
    assert "What does the customer complain of?" not in resumed.stdout
    last = straight.stdout[straight.stdout.rindex("Leading faults") :].split("Next test")[0]
    assert last in resumed.stdout


def test_a_plain_network_is_worked_with_named_targets_and_tests(tmp_path: Path) -> None:
    clinic = saved(tmp_path, "clinic.bif", CHEST_CLINIC)
    done = session(clinic, "yes", "quit", extra=("--target", "lung", "--test", "xray", "--test", "smoke"))
    assert done.returncode == 0
    assert "Next test: xray" in done.stdout or "Next test: smoke" in done.stdout
    refused = session(clinic)
    assert refused.returncode == 1
    assert "target" in refused.stderr


def screen_of(environment: dict[str, str]) -> str:
    """What a terminal receives from a short session."""
    leader, follower = pty.openpty()
    known = {key: value for key, value in os.environ.items() if key in ("PATH", "HOME")}
    command = [program(), "case", str(TUTORIAL), "--no-save"]
    with subprocess.Popen(
        command,
        stdin=follower,
        stdout=follower,
        stderr=follower,
        env={**known, "TERM": "xterm", "LANG": "C.UTF-8", **environment},
    ) as process:
        os.close(follower)
        os.write(leader, b"\n1\nq\n")
        received = b""
        while select.select([leader], [], [], 60)[0]:
            try:
                block = os.read(leader, 65536)
            except OSError:
                break
            if not block:
                break
            received += block
    os.close(leader)
    assert process.returncode == 0
    return received.decode()


def test_colour_only_at_a_terminal_and_without_no_colour() -> None:
    assert "\x1b[" in screen_of({})
    assert "\x1b[" not in screen_of({"NO_COLOR": "1"})
    assert "\x1b[" not in screen_of({"TERM": "dumb"})


def test_a_saved_case_in_the_place_of_its_model_is_met_with_the_way_to_go_on(tmp_path: Path) -> None:
    keep = tmp_path / "lamp.case.json"
    session(TUTORIAL, "wet", save=keep)
    slip = run("case", keep)
    assert slip.returncode == 1
    assert "saved case" in slip.stderr
    assert f"--save {keep}" in slip.stderr


def test_a_case_stopped_before_the_complaint_asks_for_it_when_taken_up_again(tmp_path: Path) -> None:
    keep = tmp_path / "lamp.case.json"
    session(TUTORIAL, "wet", save=keep)
    again = session(TUTORIAL, "dark", save=keep)
    assert "the lamp stays dark: present" in again.stdout.split("What does the customer complain of?")[1]
    third = session(TUTORIAL, "history", save=keep)
    assert "What does the customer complain of?" not in third.stdout
