# SPDX-License-Identifier: BSD-3-Clause
"""Kinds of failure seen in general-purpose graphical-model libraries, each tested as a kind, not as an instance.

The numbers are worked by hand in the comments beside them.
"""

from __future__ import annotations

import copy
import itertools
import math
import multiprocessing
import os
import pickle
import random
import subprocess
import sys
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import faultodds
import pytest
from package_models import car_start, depends, plain_case, plain_model, two_states

MODELS = Path(__file__).parents[2] / "models"
SHIPPED = sorted(path for path in MODELS.glob("*.json") if not path.name.endswith(".schema.json"))


def copy_of_a() -> faultodds.Case:
    return plain_case(two_states("a", 0.2), depends("b", {"0": 0.0, "1": 1.0}, "a"))


# --- answers do not depend on the order of anything -----------------------------------------------------------------


def test_joint_and_evidence_bind_by_name_in_any_order() -> None:
    x, y = two_states("x", 0.3), depends("y", {"0": 0.2, "1": 0.9}, "x")
    for variables in itertools.permutations((x, y)):
        joint = plain_case(*variables).joint(["y", "x"])
        # P(x=0) P(y=1 | x=0) = 0.7 * 0.2
        assert joint.probability_of({"y": "1", "x": "0"}) == joint.probability_of({"x": "0", "y": "1"})
        assert joint.probability_of({"y": "1", "x": "0"}) == pytest.approx(0.14, abs=1e-15)


def test_findings_in_any_order_give_the_same_bits() -> None:
    findings = [
        faultodds.Finding("start", "no"),
        faultodds.Finding("gauge", weights={"full": 0.1, "half": 0.6, "empty": 0.3}),
        faultodds.Finding("plugs", weights={"clean": 0.3, "foul": 0.9}),
    ]
    solver = faultodds.Solver(car_start())
    answers = set()
    for order in itertools.permutations(findings):
        case = faultodds.Case(solver)
        case.add(order)
        answers.add((case.log_evidence(), case.posteriors()))
    assert len(answers) == 1


# --- likelihood findings --------------------------------------------------------------------------------------------


@pytest.mark.parametrize("weights", [(0.2, 0.8), (1, 4), (0.05, 0.2), (2e-300, 8e-300), (1e300, 4e300)])
def test_a_likelihood_finding_weighs_the_prior_whatever_its_scale(weights: tuple[float, float]) -> None:
    case = plain_case(two_states("a", 0.1))
    case.add_likelihood("a", weights)
    # 0.1 * 0.8 / (0.1 * 0.8 + 0.9 * 0.2) = 4 / 13; a new marginal would be 0.8.
    assert case.posterior("a")["1"] == pytest.approx(4 / 13, rel=1e-14)


def test_asking_with_findings_changes_neither_model_nor_later_answers() -> None:
    model = plain_model(two_states("a", 0.1), depends("b", {"0": 0.1, "1": 0.9}, "a"))
    before, solver = model.to_json(), faultodds.Solver(model)

    def posterior(weights: list[float] | None) -> float:
        case = faultodds.Case(solver)
        if weights is not None:
            case.add_likelihood("a", weights)
        return case.posterior("b")["1"]

    answers = [posterior(None), posterior([0.2, 0.8]), posterior([0.2, 0.8]), posterior(None)]
    # P(b) = 0.1 * 0.9 + 0.9 * 0.1 = 0.18; with the finding 4/13 * 0.9 + 9/13 * 0.1 = 4.5/13.
    assert answers == pytest.approx([0.18, 4.5 / 13, 4.5 / 13, 0.18], abs=1e-15)
    assert answers[0] == answers[3]
    assert answers[1] == answers[2]
    assert model.to_json() == before


def test_one_of_these_states() -> None:
    weather = {"name": "w", "states": ["s", "r", "x"], "prior": [0.5, 0.3, 0.2]}
    rows = [{"when": {"w": state}, "p": p} for state, p in {"s": 0.1, "r": 0.5, "x": 0.9}.items()]
    effect = {"name": "e", "states": ["low", "high"], "table": {"given": ["w"], "rows": rows}}
    case = plain_case(weather, effect)
    case.add_one_of("w", ["r", "s"])
    assert case.posterior("w") == pytest.approx({"s": 0.625, "r": 0.375, "x": 0}, abs=1e-15)
    assert case.posterior("e")["high"] == pytest.approx((0.5 * 0.1 + 0.3 * 0.5) / 0.8, abs=1e-15)
    assert case.log_evidence() == pytest.approx(math.log(0.8), abs=1e-15)
    empty = plain_case(weather, effect)
    with pytest.raises(faultodds.ArgumentError):
        empty.add_one_of("w", [])


# --- impossible findings, and what is left after an error -----------------------------------------------------------


def test_impossible_findings_are_an_error_that_names_the_clash_and_changes_nothing() -> None:
    case = copy_of_a()
    case.add_finding("a", "1")
    before = (case.findings(), case.posteriors(), case.log_evidence())
    with pytest.raises(faultodds.ImpossibleFindings) as caught:
        case.add_finding("b", "0")
    assert set(caught.value.clash) == {"a=1", "b=0"}
    assert (case.findings(), case.posteriors(), case.log_evidence()) == before
    assert case.posterior("b")["1"] == 1
    case.take_back("a")
    assert case.posterior("a") == copy_of_a().posterior("a")
    assert case.posterior("a")["1"] == pytest.approx(0.2, abs=1e-15)


@pytest.mark.parametrize(
    "mistake",
    [
        lambda case: case.add_finding("b", "0"),
        lambda case: case.add_finding("a", "1"),
        lambda case: case.add_finding("a", "2"),
        lambda case: case.add_finding("c", "0"),
        lambda case: case.add_one_of("b", ["0"]),
        lambda case: case.add_one_of("b", ["0", "none"]),
        lambda case: case.add_likelihood("b", [1, 0]),
        lambda case: case.add_likelihood("b", [1]),
        lambda case: case.change(faultodds.Finding("b", "0")),
        lambda case: case.add([faultodds.Finding("b", "1"), faultodds.Finding("b", "1")]),
        lambda case: case.add([faultodds.Finding("b", "1"), 7]),
        lambda case: case.take_back("c"),
        lambda case: case.take_back_to(-1),
        lambda case: case.posterior("c"),
        lambda case: case.joint(["a", "c"]),
        lambda case: case.joint([]),
        lambda case: case.joint(["a", "a"]),
        lambda case: faultodds.rank_tests(case),
    ],
)
def test_every_call_that_fails_leaves_the_case_as_it_was(mistake: object) -> None:
    assert callable(mistake)
    case = copy_of_a()
    case.add_finding("a", "1")
    before = (case.findings(), case.posteriors(), case.log_evidence())
    with pytest.raises((faultodds.Error, TypeError)) as caught:
        mistake(case)
    assert str(caught.value)
    assert (case.findings(), case.posteriors(), case.log_evidence()) == before


# --- sizes ----------------------------------------------------------------------------------------------------------


def test_many_variables_asked_for_are_marginals_and_their_joint_is_refused_with_its_size() -> None:
    states = [f"s{index}" for index in range(5)]
    case = plain_case(*({"name": f"v{index}", "states": states, "prior": [0.2] * 5} for index in range(20)))
    assert len(case.posteriors()) == 100
    with pytest.raises(faultodds.TooLarge) as caught:
        case.joint([f"v{index}" for index in range(20)])
    assert caught.value.bytes >= 8 * 5.0**20
    assert caught.value.limit_bytes == case.solver().options().memory_limit_bytes
    assert len(case.posteriors()) == 100


# --- copies and pickles ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_copies_and_pickles_of_models_are_equal_in_content_and_bits(path: Path) -> None:
    model = faultodds.read_model(path)
    answer = faultodds.Case(faultodds.Solver(model)).posteriors()
    for protocol in (2, pickle.HIGHEST_PROTOCOL):
        again = pickle.loads(pickle.dumps(model, protocol))
        assert again == model
        assert again.to_json() == model.to_json()
        assert faultodds.Case(faultodds.Solver(again)).posteriors() == answer
    assert copy.copy(model) == copy.deepcopy(model) == model
    assert len(pickle.dumps(model)) <= path.stat().st_size


def test_damaged_pickles_raise_and_never_crash() -> None:
    whole = pickle.dumps(car_start())
    for length in range(len(whole)):
        with pytest.raises(Exception):  # noqa: B017, PT011 - which one depends on where it was cut
            pickle.loads(whole[:length])
    chance = random.Random(7)
    start = whole.index(b"x\x9c")
    for _ in range(300):
        damaged = bytearray(whole)
        damaged[chance.randrange(start, len(whole) - 2)] ^= 1 << chance.randrange(8)
        try:
            again = pickle.loads(bytes(damaged))
        except Exception:
            continue
        assert again == car_start()


def test_pickles_of_another_version_are_refused() -> None:
    restore, (version, packed) = car_start().__reduce__()
    assert version == 1
    with pytest.raises(faultodds.ModelError, match="version is 2"):
        restore(2, packed)
    with pytest.raises(faultodds.ModelError, match="damaged"):
        restore(1, packed[:-3])
    with pytest.raises(faultodds.ModelError, match="bytes"):
        restore(1, "text")


def answer_in_another_process(case: faultodds.Case) -> faultodds.Posteriors:
    case.add_finding("gauge", "half")
    return case.posteriors()


def test_a_case_can_be_sent_to_a_process_of_its_own() -> None:
    case = faultodds.Case(faultodds.Solver(car_start()))
    case.add_finding("start", "no")
    with multiprocessing.get_context("spawn").Pool(1) as pool:
        there = pool.apply(answer_in_another_process, (case,))
    assert len(case.findings()) == 1
    assert there == answer_in_another_process(case)


# --- names, numbers and texts ---------------------------------------------------------------------------------------


def numbers_as_names() -> faultodds.Case:
    return plain_case({"name": "v", "states": ["1", "2", "3"], "prior": [0.5, 0.3, 0.2]})


def test_text_is_a_name_even_where_it_looks_like_a_number() -> None:
    case = numbers_as_names()
    case.add_finding("v", "1")
    assert case.posterior("v") == {"1": 1.0, "2": 0.0, "3": 0.0}
    assert case.findings()[0].state == "1"
    with pytest.raises(faultodds.UnknownName) as caught:
        numbers_as_names().add_finding("v", "4")
    assert (caught.value.owner, caught.value.name, caught.value.kind) == ("v", "4", "state")


def test_whatever_is_not_text_is_refused_and_never_guessed() -> None:
    numbers: list[object] = [1, 0, True, 1.0, None, b"1", [1]]
    try:
        import numpy as np
    except ImportError:
        pass
    else:
        numbers += [np.int64(1), np.bool_(True), np.float64(1), np.array([1])]
        text = numbers_as_names()
        text.add_finding("v", np.str_("2"))
        assert text.posterior("v")["2"] == 1
    for number in numbers:
        case = numbers_as_names()
        with pytest.raises(TypeError, match="name as text"):
            case.add_finding("v", number)  # type: ignore[arg-type]
        with pytest.raises(TypeError, match="name as text"):
            case.add_one_of("v", [number])  # type: ignore[list-item]
        with pytest.raises((TypeError, faultodds.ArgumentError)):
            case.add(faultodds.Finding("v", number))  # type: ignore[arg-type]
        assert len(case.findings()) == 0


@pytest.mark.parametrize("name", ["1st level", "(1,5]", "a b", "a_b", "é", "a.b", "\N{GREEK SMALL LETTER OMEGA}"])
def test_odd_names_are_kept_as_they_are(name: str) -> None:
    model = plain_model({"name": name, "states": [name, "other"], "prior": [0.25, 0.75]})
    assert model.states(name) == (name, "other")
    assert pickle.loads(pickle.dumps(model)) == model
    case = faultodds.Case(faultodds.Solver(model))
    case.add_finding(name, name)
    assert case.posteriors([name])[0].probability == 1


def test_names_that_collide_or_say_nothing_are_refused() -> None:
    for states in (["a", "a"], ["", "a"]):
        with pytest.raises(faultodds.ModelError, match="v"):
            plain_model({"name": "v", "states": states, "prior": [0.25, 0.75]})
    with pytest.raises(faultodds.ModelError, match="twin"):
        plain_model(two_states("twin", 0.1), two_states("twin", 0.2))


def test_text_that_is_no_unicode_is_refused() -> None:
    with pytest.raises(UnicodeEncodeError):
        numbers_as_names().add_finding("v", "\ud800")


# --- threads, hash seeds, interruption ------------------------------------------------------------------------------


def test_eight_threads_on_one_solver_give_the_bits_of_one() -> None:
    solver = faultodds.Solver(faultodds.read_model(MODELS / "tutorial.json"))
    model = solver.model()
    jobs = [(name, state) for name in model for state in model.states(name)]

    def answer(job: tuple[str, str]) -> tuple[object, ...]:
        case = faultodds.Case(solver)
        case.add_finding(*job)
        ranking = faultodds.rank_tests(case)
        return case.log_evidence(), case.posteriors(), ranking, faultodds.explain(case, count=3)

    alone = {job: answer(job) for job in jobs}
    for threads in (2, 8, 16):
        with ThreadPoolExecutor(threads) as pool:
            for job, told in zip(jobs * 8, pool.map(answer, jobs * 8), strict=True):
                assert told == alone[job]


def test_one_case_in_many_threads_takes_turns() -> None:
    case = faultodds.Case(faultodds.Solver(car_start()))
    allowed = set()
    for state in (None, "yes", "no"):
        told = faultodds.Case(case.solver())
        if state is not None:
            told.add_finding("start", state)
        allowed.add(told.posteriors())

    def work(index: int) -> bool:
        if index % 3 == 0:
            case.change(faultodds.Finding("start", "no" if index % 2 else "yes"))
        elif index % 7 == 0:
            case.take_back("start")
        return case.posteriors() in allowed

    with ThreadPoolExecutor(8) as pool:
        assert all(pool.map(work, range(2000)))


def test_answers_are_the_same_with_every_hash_seed() -> None:
    script = (
        "import faultodds, sys, pickle; model = faultodds.read_model(sys.argv[1]);"
        "case = faultodds.Case(faultodds.Solver(model));"
        "case.add_finding('dark', 'present');"
        "print([record.probability.hex() for record in case.posteriors()], faultodds.rank_tests(case), model.to_json(),"
        "pickle.dumps(case))"
    )
    told = {
        subprocess.run(
            [sys.executable, "-c", script, str(MODELS / "tutorial.json")],
            env={**os.environ, "PYTHONHASHSEED": str(seed)},
            capture_output=True,
            check=True,
        ).stdout
        for seed in range(4)
    }
    assert len(told) == 1


def long_work() -> faultodds.Case:
    """Thirty causes of one effect, dependent through a second layer: explaining it in depth takes long."""
    builder = faultodds.ModelBuilder("long")
    names = [f"c{index}" for index in range(24)]
    for name in names:
        builder.add_component(name, prior=0.3)
    causes = [{"of": name, "strength": 0.3} for name in names]
    for index in range(6):
        builder.add_symptom(f"s{index}", noisy_or={"leak": 0.01, "causes": causes[index * 3 : index * 3 + 9]})
    case = faultodds.Case(faultodds.Solver(builder.build()))
    for index in range(6):
        case.add_finding(f"s{index}", "present")
    return case


def test_the_interpreter_runs_on_while_something_is_computed() -> None:
    case = long_work()
    ticks = 0
    done = threading.Event()

    def work() -> None:
        try:
            with faultodds.time_limit(0.5):
                faultodds.explain(case, count=100_000, max_propagations=10**9)
        except faultodds.Stopped:
            pass
        finally:
            done.set()

    thread = threading.Thread(target=work)
    thread.start()
    while not done.is_set():
        time.sleep(0.005)
        ticks += 1
    thread.join()
    assert ticks >= 5


def test_a_time_limit_stops_and_leaves_everything_as_it_was() -> None:
    case = long_work()
    before = case.posteriors()
    start = time.monotonic()
    with pytest.raises(faultodds.Stopped, match="time limit"), faultodds.time_limit(0.3):
        faultodds.explain(case, count=100_000, max_propagations=10**9)
    assert time.monotonic() - start < 5
    assert case.posteriors() == before
    with faultodds.time_limit(1000), faultodds.time_limit(500):
        assert case.posteriors() == before
    for seconds in (0, -1, math.nan):
        with pytest.raises(faultodds.ArgumentError, match="seconds"):
            faultodds.time_limit(seconds)


@pytest.mark.skipif(sys.platform == "win32", reason="sends a POSIX signal")
def test_ctrl_c_stops_long_work() -> None:
    script = """
import sys, threading, time, os, signal
sys.path.insert(0, sys.argv[1])
import faultodds
from test_field_faults import long_work
signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell leaves it ignored in what it runs in the background
case = long_work()
before = case.posteriors()
threading.Timer(0.5, lambda: os.kill(os.getpid(), signal.SIGINT)).start()
start = time.monotonic()
try:
    faultodds.explain(case, count=100_000, max_propagations=10**9)
except KeyboardInterrupt:
    assert case.posteriors() == before
    print("stopped", time.monotonic() - start < 5)
"""
    done = subprocess.run(
        [sys.executable, "-c", script, str(Path(__file__).parent)],
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert done.stdout.strip() == "stopped True", done.stderr
