# SPDX-License-Identifier: BSD-3-Clause
"""Cases in Python: findings, posteriors, joints, rankings; what is refused, and what is left as it was."""

from __future__ import annotations

import copy
import dataclasses
import math
import pickle
from typing import Any

import faultodds
import pytest
from package_models import car_start, depends, plain_case, two_states


def started(state: str = "no") -> faultodds.Case:
    case = faultodds.Case(faultodds.Solver(car_start()))
    case.add_finding("start", state)
    return case


def test_car_start_of_jensen_and_nielsen() -> None:
    # Jensen & Nielsen 2007, section 2.1: the published answers, to the digits given there.
    case = started()
    assert case.posterior("plugs")["foul"] == pytest.approx(0.5806, abs=5e-5)
    assert case.posterior("fuel")["no"] == pytest.approx(0.2932, abs=5e-5)
    case.add_finding("gauge", "half")
    assert case.posterior("plugs")["foul"] == pytest.approx(0.8044, abs=1e-4)
    with_fuel, without = 0.98 * 0.60, 0.02 * 0.001  # P(fuel, half), P(no fuel, half); without fuel it never starts
    foul = 0.04 * (0.99 * with_fuel + without)
    clean = 0.96 * (0.01 * with_fuel + without)
    assert case.posterior("plugs")["foul"] == pytest.approx(foul / (foul + clean), abs=1e-14)


def test_log_evidence_is_a_natural_logarithm() -> None:
    p = 0.02 * 1 + 0.98 * (0.96 * 0.01 + 0.04 * 0.99)
    assert started().log_evidence() == pytest.approx(math.log(p), rel=1e-14)
    assert faultodds.Case(faultodds.Solver(car_start())).log_evidence() == pytest.approx(0, abs=1e-15)


def test_posteriors_come_as_records_of_names() -> None:
    case = started()
    posteriors = case.posteriors()
    assert len(posteriors) == 2 + 2 + 2 + 3
    assert posteriors.by_variable()["plugs"] == case.posterior("plugs")
    assert [record.variable for record in posteriors[:2]] == ["fuel", "fuel"]
    assert posteriors[3].state == "foul"
    assert case.posterior("start") == {"yes": 0.0, "no": 1.0}
    some = case.posteriors(["gauge", "plugs"])
    assert list(some.by_variable()) == ["gauge", "plugs"]
    assert some.by_variable()["gauge"] == posteriors.by_variable()["gauge"]
    assert math.fsum(record.probability for record in posteriors) == pytest.approx(4, abs=1e-12)


def test_joint_in_the_order_asked_for() -> None:
    case = started()
    joint = case.joint(["plugs", "fuel"])
    assert joint.variables == ("plugs", "fuel")
    assert [dict(record.states) for record in joint] == [
        {"plugs": plugs, "fuel": fuel} for plugs in ("clean", "foul") for fuel in ("yes", "no")
    ]
    turned = case.joint(["fuel", "plugs"])
    for record in joint:
        assert turned.probability_of(record.states) == pytest.approx(record.probability, abs=1e-15)
    # By hand: P(foul, fuel | no start) = 0.04 * 0.98 * 0.99 / P(no start).
    p = math.exp(case.log_evidence())
    assert joint.probability_of({"fuel": "yes", "plugs": "foul"}) == pytest.approx(0.04 * 0.98 * 0.99 / p, rel=1e-12)
    assert joint[-1].states == {"plugs": "foul", "fuel": "no"}
    with pytest.raises(faultodds.ArgumentError, match="fuel"):
        joint.probability_of({"plugs": "foul"})
    with pytest.raises(faultodds.ArgumentError, match="soot"):
        joint.probability_of({"plugs": "soot", "fuel": "no"})


def test_findings_can_be_read_changed_and_taken_back() -> None:
    case = started()
    case.add_one_of("gauge", ["half", "empty"])
    assert case.findings()[0] == faultodds.Finding("start", "no")
    assert case.findings()[1].weights == {"full": 0, "half": 1, "empty": 1}
    assert case.finding_of("gauge") == case.findings()[1]
    assert case.finding_of("plugs") is None
    case.change(faultodds.Finding("start", "yes"))
    assert [finding.variable for finding in case.findings()] == ["start", "gauge"]
    assert case.posterior("start")["yes"] == 1
    case.take_back("plugs")
    case.take_back("start")
    case.take_back_to(0)
    assert len(case.findings()) == 0
    assert case.posterior("fuel")["no"] == pytest.approx(0.02, abs=1e-15)


def test_several_findings_are_taken_together_or_not_at_all() -> None:
    case = faultodds.Case(faultodds.Solver(car_start()))
    clash = [faultodds.Finding("fuel", "no"), faultodds.Finding("start", "yes")]
    with pytest.raises(faultodds.ImpossibleFindings) as caught:
        case.add(clash)
    assert set(caught.value.clash) == {"fuel=no", "start=yes"}
    assert caught.value.code == "impossible_findings"
    assert set(caught.value.findings) == set(clash)
    assert pickle.loads(pickle.dumps(caught.value)).findings == caught.value.findings
    assert len(case.findings()) == 0
    case.add(faultodds.Finding("fuel", weights={"yes": 3, "no": 1}))
    case.add(iter([faultodds.Finding("plugs", "foul"), faultodds.Finding("start", "no")]))
    assert [finding.variable for finding in case.findings()] == ["fuel", "plugs", "start"]


@pytest.mark.parametrize("arguments", [{}, {"state": "no", "weights": {"no": 1, "yes": 0}}])
def test_a_finding_has_a_state_or_weights(arguments: dict[str, Any]) -> None:
    with pytest.raises(faultodds.ArgumentError, match="exactly one"):
        faultodds.Finding("fuel", **arguments)


@pytest.mark.parametrize(
    ("weights", "error"),
    [
        ([0.5], faultodds.ArgumentError),
        ([0.5, 0.5, 0.5], faultodds.ArgumentError),
        ([0, 0], faultodds.ArgumentError),
        ([-1, 2], faultodds.ArgumentError),
        ([math.nan, 1], faultodds.ArgumentError),
        ([math.inf, 1], faultodds.ArgumentError),
        ([], faultodds.ArgumentError),
        ({"yes": 1}, faultodds.ArgumentError),
        ({"yes": 1, "none": 1}, faultodds.UnknownName),
        ({0: 1, 1: 1}, TypeError),
        (["1", "2"], TypeError),
        ([True, False], TypeError),
        ("ab", TypeError),
        (0.5, TypeError),
        (None, TypeError),
    ],
)
def test_weights_that_make_no_sense_are_refused(weights: Any, error: type[Exception]) -> None:
    case = started()
    before = case.posteriors()
    with pytest.raises(error, match=r"weight|state") as caught:
        case.add_likelihood("fuel", weights)
    assert str(caught.value)
    assert case.posteriors() == before
    assert len(case.findings()) == 1


def test_weights_in_any_shape_and_scale_are_the_same_finding() -> None:
    weights: list[Any] = [[0.2, 0.8], (1, 4), {"no": 0.8, "yes": 0.2}, iter([2, 8])]
    try:
        import numpy as np
    except ImportError:
        pass
    else:
        weights += [np.array([0.2, 0.8]), np.array([1, 4])]
    answers = []
    for shape in weights:
        case = faultodds.Case(faultodds.Solver(car_start()))
        case.add_likelihood("fuel", shape)
        answers.append(case.posterior("fuel")["no"])
    assert answers == pytest.approx([0.02 * 4 / (0.02 * 4 + 0.98)] * len(weights), rel=1e-14)


@pytest.mark.parametrize("bad", [1, True, 0.5, None, b"no"])
def test_states_and_variables_are_text_and_nothing_else(bad: Any) -> None:
    case = started()
    calls = [
        lambda: case.add_finding("fuel", bad),
        lambda: case.add_finding(bad, "no"),
        lambda: case.add_one_of("fuel", [bad]),
        lambda: case.posterior(bad),
        lambda: case.posteriors([bad]),
        lambda: case.joint([bad]),
        lambda: case.take_back(bad),
        lambda: faultodds.rank_tests(case, targets=[bad]),
    ]
    for call in calls:
        with pytest.raises(TypeError, match="name as text"):
            call()
    assert len(case.findings()) == 1


def test_a_lone_text_is_not_a_list_of_names() -> None:
    case = started()
    for call in (case.posteriors, case.joint):
        with pytest.raises(TypeError, match=r"\['fuel'\]"):
            call("fuel")
    with pytest.raises(TypeError, match=r"\['fuel'\]"):
        faultodds.rank_tests(case, targets="fuel")


@pytest.mark.parametrize("bad", [-1, -(2**80), 2**80])
def test_counts_out_of_range_are_refused(bad: int) -> None:
    with pytest.raises(faultodds.ArgumentError, match="count"):
        started().take_back_to(bad)
    with pytest.raises(TypeError, match="whole number"):
        started().take_back_to(1.0)  # type: ignore[arg-type]


def test_objects_that_were_never_made_are_refused() -> None:
    for cls in (faultodds.FaultModel, faultodds.Solver, faultodds.Case):
        with pytest.raises(TypeError, match="use "):
            cls.__new__(cls)
        with pytest.raises(TypeError):
            object.__new__(cls)
        with pytest.raises(TypeError, match="acceptable base"):
            type("Sub", (cls,), {})
    with pytest.raises(TypeError, match="constructor"):
        faultodds.FaultModel()


def test_ranking_says_what_it_is_about() -> None:
    ranking = faultodds.rank_tests(started())
    assert ranking.targets == faultodds.faults_in_question(started()) == ("fuel", "plugs")
    assert ranking.gain == "joint"
    assert not ranking.entropy_is_bound
    joint = started().joint(["fuel", "plugs"])
    entropy = -math.fsum(p * math.log2(p) for p in joint.probabilities if p > 0)
    assert ranking.entropy_bits == pytest.approx(entropy, abs=1e-12)
    (gauge,) = ranking.tests
    assert gauge.test == "gauge"
    assert gauge.cost == pytest.approx(0.1, abs=1e-12)  # six seconds at 60 an hour
    assert gauge.gain_per_cost == pytest.approx(gauge.gain_bits / gauge.cost, rel=1e-12)
    assert [outcome.state for outcome in gauge.outcomes] == ["full", "half", "empty"]
    for outcome in gauge.outcomes:
        told = started()
        told.add_finding("gauge", outcome.state)
        for fault in outcome.leading:
            assert fault.probability == pytest.approx(told.posterior(fault.component)[fault.state], abs=1e-12)
    # The gain by its definition: what the outcomes leave of the entropy, on average.
    left = 0.0
    for outcome in gauge.outcomes:
        told = started()
        told.add_finding("gauge", outcome.state)
        told_joint = told.joint(["fuel", "plugs"]).probabilities
        left -= outcome.probability * math.fsum(p * math.log2(p) for p in told_joint if p > 0)
    assert gauge.gain_bits == pytest.approx(entropy - left, abs=1e-12)


def test_ranking_options_are_keywords() -> None:
    case = started()
    assert faultodds.rank_tests(case, targets=["plugs"], gain="per_component").targets == ("plugs",)
    assert not faultodds.rank_tests(case, effects=False).tests[0].outcomes[0].leading
    for options, message in (
        ({"gain": "mean"}, "joint"),
        ({"by": "beauty"}, "gain_per_cost"),
        ({"leading": -1}, "leading"),
    ):
        with pytest.raises(faultodds.ArgumentError, match=message):
            faultodds.rank_tests(case, **options)  # type: ignore[arg-type]
    with pytest.raises(faultodds.UnknownName, match="fuel"):
        faultodds.rank_tests(case, targets=["fule"])
    with pytest.raises(TypeError):
        faultodds.rank_tests(case, ["fuel"])  # type: ignore[call-arg, misc]


def test_leading_faults_in_order() -> None:
    faults = faultodds.leading_faults(started())
    assert [fault.component for fault in faults] == ["plugs", "fuel"]
    assert faults[0].probability > faults[1].probability
    assert len(faultodds.leading_faults(started(), most=1)) == 1
    assert [fault.component for fault in faultodds.leading_faults(started(), ["fuel"])] == ["fuel"]


def test_copies_are_apart() -> None:
    case = started()
    for other in (case.copy(), copy.copy(case), copy.deepcopy(case), pickle.loads(pickle.dumps(case))):
        assert other.posteriors() == case.posteriors()
        assert other.log_evidence() == case.log_evidence()
        other.add_finding("gauge", "empty")
        assert len(case.findings()) == 1


def test_a_case_keeps_what_it_needs_alive() -> None:
    def make() -> faultodds.Case:
        return faultodds.Case(faultodds.Solver(car_start()))

    case = make()
    assert case.model() == car_start()
    assert case.solver().model().states("fuel") == ("yes", "no")


def test_errors_can_be_pickled_and_keep_their_facts() -> None:
    def caught(call: Any) -> faultodds.Error:
        with pytest.raises(faultodds.Error) as info:
            call()
        return info.value

    case = started()
    errors = [
        caught(lambda: case.posterior("fule")),
        caught(lambda: case.add_finding("start", "yes")),
        caught(lambda: started("yes").add_finding("fuel", "no")),
        caught(lambda: faultodds.FaultModel.from_json("{}")),
        caught(lambda: faultodds.Case(faultodds.Solver(car_start(), memory_limit_bytes=1)).posteriors()),
    ]
    kinds = ["UnknownName", "ArgumentError", "ImpossibleFindings", "ModelError", "TooLarge"]
    assert [type(error).__name__ for error in errors] == kinds
    bases = [KeyError, ValueError, ValueError, ValueError, MemoryError]
    for error, base in zip(errors, bases, strict=True):
        assert isinstance(error, base)
        again = pickle.loads(pickle.dumps(error))
        assert str(again) == str(error)
        assert vars(again) == vars(error)
    assert isinstance(errors[4], faultodds.TooLarge)
    assert errors[4].limit_bytes == 1
    assert errors[4].bytes > 1


def test_solver_options_are_kept() -> None:
    solver = faultodds.Solver(car_start(), order_tries=3, order_seed=7, memory_limit_bytes=1e9)
    assert solver.options().order_tries == 3
    assert solver.options().order_seed == 7
    assert pickle.loads(pickle.dumps(solver)).options() == solver.options()
    with pytest.raises(TypeError, match="whole number"):
        faultodds.Solver(car_start(), order_tries="many")  # type: ignore[arg-type]


def test_every_option_of_the_solver_has_its_name_and_its_default() -> None:
    # The defaults as SolverOptions declares them (include/faultodds/inference/solver.hpp).
    defaults = faultodds.Solver(car_start()).options()
    assert defaults == faultodds.SolverOptions(8 * 2.0**30, 24, 1, 20.0, 2.0**15, 64 * 2.0**20)
    given = faultodds.SolverOptions(1e9, 3, 7, 5.0, 0.0, 0.0)
    assert faultodds.Solver(car_start(), **dataclasses.asdict(given)).options() == given
    for name in ("memory_limit_bytes", "order_steps_per_entry", "whole_tree_entries", "cached_trees_bytes"):
        with pytest.raises(faultodds.ArgumentError, match=name):
            faultodds.Solver(car_start(), **{name: math.nan})


def test_plans_that_are_kept_change_no_bit() -> None:
    answers = []
    for kept in (0, 1e9):
        case = faultodds.Case(faultodds.Solver(car_start(), whole_tree_entries=0, cached_trees_bytes=kept))
        for _ in range(2):
            case.add_finding("start", "no")
            answers.append(case.posteriors())
            case.take_back("start")
            answers.append(case.posteriors())
    assert answers[0] == answers[2] == answers[4] == answers[6]
    assert answers[1] == answers[3] == answers[5] == answers[7]


def test_certainty_through_a_deterministic_copy_is_exact() -> None:
    copy_of = depends("b", {"0": 0.0, "1": 1.0}, "a")
    case = plain_case(two_states("a", 0.2), copy_of)
    case.add_finding("b", "1")
    assert case.posterior("a") == {"0": 0.0, "1": 1.0}
    assert case.log_evidence() == pytest.approx(math.log(0.2), rel=1e-15)
