# SPDX-License-Identifier: BSD-3-Clause
"""The commands posterior, next, lint and convert, run as processes; the help of all."""

from __future__ import annotations

import json
import math
import subprocess
from pathlib import Path

import pytest
from program_runs import CHEST_CLINIC, TUTORIAL, one_fault_model, program, run, run_json, saved

program()

COMMANDS = ("posterior", "next", "case", "plan", "lint", "convert")


@pytest.fixture
def lamp(tmp_path: Path) -> Path:
    return saved(tmp_path, "lamp.json", one_fault_model())


@pytest.fixture
def clinic(tmp_path: Path) -> Path:
    return saved(tmp_path, "clinic.bif", CHEST_CLINIC)


# --- help -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("command", COMMANDS)
def test_help_shows_an_example_and_fits_80_columns(command: str) -> None:
    done = run(command, "--help")
    assert done.returncode == 0
    assert "Example" in done.stdout
    assert f"faultodds {command}" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80


def test_help_of_the_program_names_every_command_and_the_exit_statuses() -> None:
    done = run("--help")
    assert done.returncode == 0
    assert all(command in done.stdout for command in COMMANDS)
    assert "Exit status" in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 80


# --- posterior ------------------------------------------------------------------------------------------------------


def test_posteriors_of_the_chest_clinic(clinic: Path) -> None:
    # Lauritzen & Spiegelhalter 1988, section 2 (from memory): P(tub) = 0.0104, P(lung) = 0.055, P(bronc) = 0.45 without
    # findings. Confirmed by hand: 0.01 * 0.05 + 0.99 * 0.01; 0.5 * 0.1 + 0.5 * 0.01; 0.5 * 0.6 + 0.5 * 0.3.
    answer = run_json("posterior", clinic)
    assert answer["posteriors"]["tub"]["yes"] == pytest.approx(0.0104, abs=1e-12)
    assert answer["posteriors"]["lung"]["yes"] == pytest.approx(0.055, abs=1e-12)
    assert answer["posteriors"]["bronc"]["yes"] == pytest.approx(0.45, abs=1e-12)
    assert answer["log_evidence"] == pytest.approx(0.0, abs=1e-12)


def test_posterior_by_bayes_rule_and_its_log_evidence(lamp: Path) -> None:
    # By hand: P(dark) = 1 - 0.9 * 0.9 = 0.19; P(fuse | dark) = 0.1 / 0.19.
    answer = run_json("posterior", lamp, "--finding", "dark=present")
    assert answer["log_evidence"] == pytest.approx(math.log(0.19), abs=1e-14)
    assert answer["posteriors"]["fuse"]["faulty"] == pytest.approx(0.1 / 0.19, abs=1e-14)
    assert list(answer["posteriors"]["bulb"]) == ["sound", "dim", "dead"]


def test_doubles_are_printed_with_all_their_digits(lamp: Path) -> None:
    done = run("posterior", lamp, "--format", "json", "--finding", "dark=present")
    assert "0.526315789473684" in done.stdout


def test_likelihoods_and_sets_of_states(lamp: Path) -> None:
    # P(bulb) = (0.7, 0.2, 0.1). Weighed (1, 2, 4): (0.7, 0.4, 0.4) / 1.5. One of dim, dead: (0, 2/3, 1/3), P = 0.3.
    weighed = run_json("posterior", lamp, "--likelihood", "bulb=1,2,4")
    assert weighed["posteriors"]["bulb"]["dim"] == pytest.approx(0.4 / 1.5, abs=1e-14)
    one_of = run_json("posterior", lamp, "--one-of", "bulb=dim,dead")
    assert one_of["posteriors"]["bulb"] == pytest.approx({"sound": 0.0, "dim": 2 / 3, "dead": 1 / 3}, abs=1e-14)
    assert one_of["log_evidence"] == pytest.approx(math.log(0.3), abs=1e-14)


def test_evidence_file_says_the_same_as_options(lamp: Path, tmp_path: Path) -> None:
    evidence = saved(tmp_path, "found.json", {"dark": "present", "bulb": ["sound", "dim"], "look_at_fuse": [0.3, 0.6]})
    from_file = run_json("posterior", lamp, "--evidence", evidence)
    options = ("--finding", "dark=present", "--one-of", "bulb=sound,dim", "--likelihood", "look_at_fuse=0.3,0.6")
    assert from_file["posteriors"] == run_json("posterior", lamp, *options)["posteriors"]


def test_uai_names_by_index_and_reads_its_evidence_files(tmp_path: Path) -> None:
    # P(x1) = (0.2, 0.15, 0.65), P(x0 = 1 | x1 = 2) = 0.6 / 0.65: worked by hand.
    network = saved(tmp_path, "two.uai", "BAYES\n2\n2 3\n2\n1 0\n2 0 1\n2\n0.25 0.75\n6\n0.5 0.3 0.2 0.1 0.1 0.8\n")
    plain = run_json("posterior", network)
    assert plain["posteriors"]["1"]["2"] == pytest.approx(0.65, abs=1e-14)
    evidence = saved(tmp_path, "two.uai.evid", "1 1 2\n")
    for found in (("--evidence", evidence), ("--finding", "1=2")):
        assert run_json("posterior", network, *found)["posteriors"]["0"]["1"] == pytest.approx(0.6 / 0.65, abs=1e-14)


def test_explanations_are_sets_of_faults(lamp: Path) -> None:
    # By hand, given dark: fuse alone, bulb sound: 0.1 * 0.7 / 0.19; bulb dead alone: 0.9 * 0.1 / 0.19.
    answer = run_json("posterior", lamp, "--finding", "dark=present", "--explain", "2")
    first, second = answer["explanations"]
    assert first["states"] == {"fuse": "sound", "bulb": "dead"}
    assert first["probability"] == pytest.approx(0.09 / 0.19, abs=1e-12)
    assert second["states"] == {"fuse": "faulty", "bulb": "sound"}
    assert second["probability"] == pytest.approx(0.07 / 0.19, abs=1e-12)


def test_only_the_variables_asked_for(lamp: Path) -> None:
    assert list(run_json("posterior", lamp, "--only", "bulb")["posteriors"]) == ["bulb"]


def names_with_equals_and_commas(tmp_path: Path) -> Path:
    model = {
        "format": "faultodds-model",
        "format_version": 1,
        "name": "names",
        "version": "1",
        "variables": [
            {"name": "a=b", "states": ["x", "c=y", "(1,5]", "5]", "(1"], "prior": [0.4, 0.3, 0.1, 0.1, 0.1]},
            {"name": "a", "states": ["x", "y"], "prior": 0.5},
            {"name": "p", "states": ["x", "q=z"], "prior": 0.5},
            {"name": "p=q", "states": ["z", "w"], "prior": 0.5},
        ],
    }
    return saved(tmp_path, "names.json", model)


@pytest.mark.parametrize(
    ("text", "variable", "state"),
    [
        ("a=b=x", "a=b", "x"),
        ("a=b=c=y", "a=b", "c=y"),
        ("a=y", "a", "y"),
        ("a=b=(1,5]", "a=b", "(1,5]"),
        ("p=q=w", "p=q", "w"),
    ],
)
def test_findings_on_names_with_equals_signs_and_commas(tmp_path: Path, text: str, variable: str, state: str) -> None:
    answer = run_json("posterior", names_with_equals_and_commas(tmp_path), "--finding", text)
    assert answer["posteriors"][variable][state] == 1.0


def test_a_finding_that_can_be_read_in_two_ways_is_refused(tmp_path: Path) -> None:
    done = run("posterior", names_with_equals_and_commas(tmp_path), "--finding", "p=q=z")
    assert done.returncode == 1
    assert '"p"' in done.stderr
    assert '"p=q"' in done.stderr
    one_of = run("posterior", names_with_equals_and_commas(tmp_path), "--one-of", "a=b=(1,5]")
    assert one_of.returncode == 1
    assert "several sets" in one_of.stderr


def test_text_shows_faults_first_and_no_false_certainty(tmp_path: Path) -> None:
    model = one_fault_model(
        components=[
            {"name": "fuse", "prior": 0.0004},
            {"name": "bulb", "prior": {"dim": 0.9996}, "states": ["sound", "dim", "dead"]},
        ]
    )
    text = run("posterior", saved(tmp_path, "lamp.json", model)).stdout
    assert text.index("bulb: dim") < text.index("fuse: faulty") < text.index("Symptoms")
    assert ">99.9 %" in text
    assert "<0.1 %" in text
    assert max(map(len, text.splitlines())) <= 80


# --- next -----------------------------------------------------------------------------------------------------------


def binary_entropy(p: float) -> float:
    return -p * math.log2(p) - (1 - p) * math.log2(1 - p)


def test_gain_of_a_noisy_look_is_that_of_a_noisy_channel(tmp_path: Path) -> None:
    # Mutual information of a binary symmetric channel with even input: 1 - h(0.1) (Cover & Thomas, section 7.1.4).
    model = one_fault_model(components=[{"name": "fuse", "prior": 0.5}], symptoms=[])
    model["tests"][0]["examines"] = {"component": "fuse", "detects": 0.9, "false_alarm": 0.1}
    answer = run_json("next", saved(tmp_path, "channel.json", model))
    test = answer["tests"][0]
    assert test["test"] == "look_at_fuse"
    assert test["gain_bits"] == pytest.approx(1 - binary_entropy(0.1), abs=1e-12)
    assert answer["entropy_bits"] == pytest.approx(1.0, abs=1e-12)
    assert test["outcomes"] == pytest.approx({"whole": 0.5, "melted": 0.5}, abs=1e-12)
    assert test["cost"] == pytest.approx(2.0)  # two minutes at 60 an hour
    assert test["gain_per_cost"] == pytest.approx(test["gain_bits"] / 2.0)
    melted = test["effects"]["melted"][0]
    assert (melted["component"], melted["state"]) == ("fuse", "faulty")
    assert melted["probability"] == pytest.approx(0.9, abs=1e-12)
    assert test["cautions"] == [{"name": "shock", "label": "Shock", "text": "Switch the supply off first."}]


def test_gains_on_a_plain_network_need_named_targets_and_tests(clinic: Path) -> None:
    answer = run_json("next", clinic, "--target", "lung", "--test", "xray", "--test", "smoke")
    # By hand: P(lung) = 0.055, P(xray yes | lung) = 0.98; without lung cancer either = tub, independent of lung.
    with_lung = 0.98
    without = 0.0104 * 0.98 + (1 - 0.0104) * 0.05
    shown = 0.055 * with_lung + 0.945 * without
    gain = binary_entropy(shown) - 0.055 * binary_entropy(with_lung) - 0.945 * binary_entropy(without)
    xray = next(test for test in answer["tests"] if test["test"] == "xray")
    assert xray["gain_bits"] == pytest.approx(gain, abs=1e-10)
    assert answer["entropy_bits"] == pytest.approx(binary_entropy(0.055), abs=1e-12)
    refused = run("next", clinic)
    assert refused.returncode == 1
    assert "target" in refused.stderr


def test_cautions_stand_before_the_step_and_safety_before_all_advice(lamp: Path) -> None:
    text = run("next", lamp, "--finding", "dark=present").stdout
    assert "INVENTED DATA" in text
    assert text.index("SAFETY") < text.index("Next test")
    assert text.index("CAUTION") < text.index("Take the fuse out")
    assert text.index("Take the fuse out") < text.index("Why")
    assert max(map(len, text.splitlines())) <= 80
    assert "\x1b" not in text


def test_orders_and_limits(lamp: Path) -> None:
    for order in ("gain-per-cost", "gain", "cost", "gain-per-minute"):
        assert run_json("next", lamp, "--by", order)["tests"]
    assert run_json("next", lamp, "--gain", "per-component")["gain"] == "per-component"


def test_tests_without_their_tools_are_left_out_with_what_that_costs() -> None:
    answer = run_json("next", TUTORIAL, "--finding", "dark=present", "--have-tool", "screwdriver")
    left = {entry["test"]: entry for entry in answer["left_out"]}
    assert "bulb_continuity" in left
    assert "multimeter" in left["bulb_continuity"]["reason"]
    assert left["bulb_continuity"]["gain_bits"] > 0
    assert "bulb_continuity" not in [test["test"] for test in answer["tests"]]


# --- lint and convert -----------------------------------------------------------------------------------------------


def test_lint_passes_a_sound_model_and_lists_every_problem_of_a_bad_one(lamp: Path, tmp_path: Path) -> None:
    assert run("lint", lamp).returncode == 0
    bad = one_fault_model(
        components=[{"name": "fuse", "prior": 1.5}, {"name": "bulb", "prior": [0.5, 0.4], "states": ["sound", "dead"]}]
    )
    done = run("lint", lamp, saved(tmp_path, "bad.json", bad))
    assert done.returncode == 1
    assert "fuse" in done.stderr
    assert "bulb" in done.stderr
    report = json.loads(run("lint", lamp, tmp_path / "bad.json", "--format", "json").stdout)
    assert [file["valid"] for file in report["files"]] == [True, False]
    assert len(report["files"][1]["error"]["problems"]) >= 2


def test_strict_lint_makes_warnings_count(tmp_path: Path) -> None:
    model = one_fault_model()
    model["tests"][0]["examines"] = {"component": "fuse", "detects": 0.05, "false_alarm": 0.05}  # tells nothing
    path = saved(tmp_path, "blind.json", model)
    remarks = json.loads(run("lint", path, "--format", "json").stdout)["files"][0]["remarks"]
    assert any("look_at_fuse" in remark["place"] for remark in remarks)
    assert run("lint", path).returncode == 0
    assert run("lint", path, "--strict").returncode == 1


@pytest.mark.parametrize("extension", ["json", "bif", "xmlbif", "uai", "bif.gz", "json.gz"])
def test_converted_networks_give_the_same_posteriors(clinic: Path, tmp_path: Path, extension: str) -> None:
    out = tmp_path / f"again.{extension}"
    assert run("convert", clinic, out).returncode == 0
    before = run_json("posterior", clinic)["posteriors"]
    after = run_json("posterior", out)["posteriors"]
    assert [list(states.values()) for states in before.values()] == [list(states.values()) for states in after.values()]


def test_convert_says_what_the_format_cannot_hold_and_replaces_only_when_forced(lamp: Path, tmp_path: Path) -> None:
    out = tmp_path / "lamp.bif"
    first = run("convert", lamp, out)
    assert first.returncode == 0
    assert "note" in first.stdout
    before = out.read_bytes()
    second = run("convert", lamp, out)
    assert second.returncode == 1
    assert "--force" in second.stderr
    assert out.read_bytes() == before
    assert run("convert", lamp, out, "--force").returncode == 0
    picture = tmp_path / "lamp.dot"
    assert run("convert", lamp, picture).returncode == 0
    assert picture.read_text(encoding="utf-8").startswith("digraph")


# --- wrong input ----------------------------------------------------------------------------------------------------

WRONG = [
    # arguments, exit status, what the message says
    (("posterior", "LAMP", "--finding", "fusee=faulty"), 1, ["fusee", '"fuse"']),
    (("posterior", "LAMP", "--finding", "bulb=ded"), 1, ["ded", '"dead"', '"bulb"']),
    (("posterior", "LAMP", "--finding", "bulb"), 2, ["bulb", "NAME=STATE"]),
    (("posterior", "LAMP", "--finding", "=dead"), 2, ["NAME=STATE"]),
    (("posterior", "LAMP", "--finding", "bulb=dead", "--finding", "bulb=dim"), 1, ["bulb"]),
    (("posterior", "LAMP", "--finding", "bulb=dead", "--finding", "bulb=dead"), 1, ["bulb"]),
    (("posterior", "LAMP", "--finding", "fuse=faulty", "--finding", "dark=absent"), 1, ["fuse=faulty", "dark=absent"]),
    (("posterior", "LAMP", "--likelihood", "bulb=1,2"), 1, ["2 weights", "sound, dim, dead"]),
    (("posterior", "LAMP", "--likelihood", "bulb=1,x,2"), 2, ["x", "number"]),
    (("posterior", "LAMP", "--likelihood", "bulb=1,-1,2"), 1, ["-1"]),
    (("posterior", "LAMP", "--likelihood", "bulb=0,0,0"), 1, ["bulb"]),
    (("posterior", "LAMP", "--likelihood", "bulb=nan,1,1"), 1, ["nan"]),
    (("posterior", "LAMP", "--one-of", "bulb=dim,dea"), 1, ["dea", '"dead"']),
    (("posterior", "LAMP", "--only", "blub"), 1, ["blub", '"bulb"']),
    (("posterior", "LAMP", "--explain", "0"), 2, ["--explain"]),
    (("posterior", "LAMP", "--explain", "many"), 2, ["--explain"]),
    (("posterior", "LAMP", "--format", "xml"), 2, ["--format"]),
    (("posterior", "MISSING.json"), 1, ["MISSING.json"]),
    (("posterior", "BROKEN.json"), 1, ["BROKEN.json", "line 2"]),
    (("posterior", "model.txt"), 1, ["model.txt", ".bif"]),
    (("posterior", "LAMP", "--evidence", "MISSING.json"), 1, ["MISSING.json"]),
    (("posterior", "LAMP", "--evidence", "BROKEN.json"), 1, ["BROKEN.json", "line 2"]),
    (("posterior", "LAMP", "--evidence", "TWICE.json"), 1, ["TWICE.json", "dark"]),
    (("posterior", "LAMP", "--evidence", "ODD.json"), 1, ["ODD.json", "bulb"]),
    (("posterior",), 2, ["FILE"]),
    (("posterior", "LAMP", "--no-such-option"), 2, ["--no-such-option"]),
    (("next", "LAMP", "--target", "blub"), 1, ["blub", '"bulb"']),
    (("next", "LAMP", "--test", "look_at_fus"), 1, ["look_at_fuse"]),
    (("next", "LAMP", "--by", "magic"), 2, ["--by"]),
    (("next", "LAMP", "--have-tool", "hammer"), 1, ["tool", "hammer"]),
    (("next", "LAMP", "--skill", "wizard"), 1, ["skill", "wizard"]),
    (("next", "LAMP", "--open", "lid"), 1, ["access", "lid"]),
    (("next", "LAMP", "--top", "0"), 2, ["--top"]),
    (("lint", "MISSING.json"), 1, ["MISSING.json"]),
    (("lint",), 2, ["FILE"]),
    (("convert", "LAMP", "no/such/folder/out.bif"), 1, ["no/such/folder/out.bif"]),
    (("convert", "LAMP", "out.txt"), 1, ["out.txt"]),
    (("convert", "LAMP"), 2, ["OUT"]),
    (("case", "MISSING.json"), 1, ["MISSING.json"]),
    (("case", "LAMP", "--save", "no/such/folder/x.case.json"), 1, ["no/such/folder"]),
    (("posteriors", "LAMP"), 2, ["posteriors", "did you mean posterior"]),
    ((), 2, ["command", "posterior", "convert"]),
]


@pytest.mark.parametrize(
    ("arguments", "status", "parts"), WRONG, ids=[" ".join(entry[0])[:60] or "nothing" for entry in WRONG]
)
def test_wrong_input_has_a_message_and_an_exit_status(
    lamp: Path, tmp_path: Path, arguments: tuple[str, ...], status: int, parts: list[str]
) -> None:
    saved(tmp_path, "BROKEN.json", '{"dark":\n "present",, }')
    saved(tmp_path, "TWICE.json", '{"dark": "present", "dark": "absent"}')
    saved(tmp_path, "ODD.json", {"bulb": {"state": "dead"}})
    saved(tmp_path, "model.txt", "not a model")
    placed = [
        str(lamp) if a == "LAMP" else str(tmp_path / a) if a.endswith((".json", ".txt", ".bif")) else a
        for a in arguments
    ]
    done = run(*placed)
    assert done.returncode == status, done.stderr
    assert all(part in done.stderr for part in parts), done.stderr
    assert done.stdout == "" or arguments[:1] == ("lint",)


def test_errors_come_as_json_too(lamp: Path) -> None:
    done = run("posterior", lamp, "--format", "json", "--finding", "fuse=faulty", "--finding", "dark=absent")
    assert done.returncode == 1
    error = json.loads(done.stdout)["error"]
    assert error["kind"] == "impossible_findings"
    assert sorted(error["clash"]) == ["dark=absent", "fuse=faulty"]
    assert error["message"] in done.stderr
    unknown = json.loads(run("next", lamp, "--format", "json", "--finding", "bulb=ded").stdout)["error"]
    assert (unknown["kind"], unknown["owner"], unknown["name"]) == ("unknown_name", "bulb", "ded")
    assert "dead" in unknown["nearest"]


def test_a_reader_that_goes_away_is_no_crash(clinic: Path) -> None:
    for command in (["posterior", str(clinic)], ["posterior", str(clinic), "--format", "json"], ["--help"]):
        with subprocess.Popen([program(), *command], stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
            assert process.stdout is not None
            assert process.stderr is not None
            process.stdout.close()
            assert process.stderr.read() == b""
        assert process.returncode == 0


def test_a_full_disk_is_an_error(clinic: Path) -> None:
    full = Path("/dev/full")
    if not full.exists():
        pytest.skip("there is no /dev/full here to write to")
    with full.open("w", encoding="utf-8") as out:
        done = subprocess.run(
            [program(), "posterior", str(clinic)], stdout=out, stderr=subprocess.PIPE, check=False, text=True
        )
    assert done.returncode == 1
    assert "could not be written" in done.stderr


def test_control_characters_never_reach_the_terminal(tmp_path: Path) -> None:
    model = one_fault_model(title="Lamp \x1b[31m red", safety="\x07 bell")
    model["components"][0]["label"] = "fuse\x1b]0;title\x07"
    path = saved(tmp_path, "tricks.json", model)
    for arguments in (
        ["posterior", path],
        ["next", path],
        ["next", path, "-f", "fu\x1bse=faulty"],
        ["lint", "\x1b[2J"],
    ):
        done = run(*arguments)
        assert done.stdout + done.stderr != ""
        assert not {"\x1b", "\x07"} & set(done.stdout + done.stderr)


def test_bars_are_plain_where_the_locale_is_not_utf8(lamp: Path) -> None:
    assert "█" in run("next", lamp, LANG="C.UTF-8").stdout
    assert run("next", lamp, LANG="C").stdout.isascii()


def test_the_same_call_prints_the_same_bytes() -> None:
    calls = [run("next", TUTORIAL, "--finding", "dark=present").stdout for _ in range(3)]
    assert calls[0] == calls[1] == calls[2] != ""
