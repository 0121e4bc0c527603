# SPDX-License-Identifier: BSD-3-Clause
"""Planning in Python, by hand and by brute force: policy trees, repairs in order, cases after repairs, evidence."""

from __future__ import annotations

import copy
import dataclasses
import itertools
import json
import math
import pickle
import random
import signal
import sys
import threading
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import faultodds
import pytest
from faultodds import flow_chart
from faultodds.records import (
    EndCosts,
    RepairAction,
    SetUp,
    Situation,
    Step,
    TestAction,
    TroubleshootingProblem,
    Verification,
)

MODELS = Path(__file__).parents[2] / "models"

# By hand: fault A 0.6, fault B 0.4. The test (1) tells them apart for sure; repair a (10) cures A, repair b (20)
# cures B; hand-over 100. Without the test: a first costs 10 + 0.4 x 20 = 18, b first 20 + 0.6 x 10 = 26. With it:
# 1 + 0.6 x 10 + 0.4 x 20 = 15, which saves 3. The test tells H(0.6) = 0.970951 bits.
TWO_FAULTS = TroubleshootingProblem(
    hypotheses=("A", "B"),
    weights=(3.0, 2.0),
    tests=(TestAction("look", 1.0, ("a", "b"), ((1.0, 0.0), (0.0, 1.0))),),
    repairs=(RepairAction("mend_a", 10.0, (1.0, 0.0)), RepairAction("mend_b", 20.0, (0.0, 1.0))),
    ends=EndCosts(hand_over=100.0),
)


def test_steps_side_by_side_cost_what_they_cost_by_hand() -> None:
    steps = faultodds.price_steps(TWO_FAULTS)
    assert [(one.kind, one.name) for one in steps] == [
        ("test", "look"),
        ("repair", "mend_a"),
        ("repair", "mend_b"),
        ("hand_over", ""),
    ]
    assert [one.expected_cost for one in steps] == pytest.approx([15, 18, 26, 100], rel=1e-12)
    assert [one.step_cost for one in steps] == pytest.approx([1, 10, 20, 100], rel=1e-12)
    assert [one.saves for one in steps] == pytest.approx([3, 0, -8, -82], abs=1e-12)
    assert steps[0].gain_bits == pytest.approx(-0.6 * math.log2(0.6) - 0.4 * math.log2(0.4), rel=1e-12)
    assert steps[0].step == Step("test", "look")
    failed = faultodds.results_of(TWO_FAULTS, None, Step("repair", "mend_a"))[1]
    assert (failed.outcome, failed.probability) == ("still_there", pytest.approx(0.4))
    after = faultodds.price_steps(TWO_FAULTS, failed.situation)
    assert [(one.name, one.expected_cost) for one in after] == [("mend_b", 20.0), ("", 100.0)]


def test_situations_follow_bayes_rule() -> None:
    start = faultodds.start_of(TWO_FAULTS)
    assert start.belief == pytest.approx((0.6, 0.4, 0.0))
    assert faultodds.possible_steps(TWO_FAULTS) == (
        Step("test", "look"),
        Step("repair", "mend_a"),
        Step("repair", "mend_b"),
        Step("hand_over"),
    )
    a, b = faultodds.results_of(TWO_FAULTS, start, Step("test", "look"))
    assert (a.outcome, a.probability, b.outcome, b.probability) == ("a", pytest.approx(0.6), "b", pytest.approx(0.4))
    assert a.situation == Situation((1.0, 0.0, 0.0), tests_done=("look",))
    assert faultodds.step_cost(TWO_FAULTS, None, Step("repair", "mend_b")) == 20
    assert faultodds.cheapest_end(TWO_FAULTS) == Step("hand_over")
    assert faultodds.results_of(TWO_FAULTS, None, Step("hand_over")) == ()


def test_repairs_in_order_cost_what_they_cost_by_hand() -> None:
    for order in (faultodds.p_over_c_order(TWO_FAULTS), faultodds.best_repair_order(TWO_FAULTS)):
        assert order.repairs == ("mend_a", "mend_b")
        assert order.expected_cost == pytest.approx(18, rel=1e-12)
        assert order.best
        assert order.end.kind == "hand_over"
        assert order.probability_left == pytest.approx(0, abs=1e-12)
    assert faultodds.priced_repair_order(TWO_FAULTS, ["mend_b", "mend_a"]).expected_cost == pytest.approx(26, rel=1e-12)
    assert faultodds.priced_repair_order(TWO_FAULTS, ["mend_a"]).expected_cost == pytest.approx(10 + 0.4 * 100)
    with pytest.raises(faultodds.ArgumentError, match="mend_a|repairs"):
        faultodds.priced_repair_order(TWO_FAULTS, ["mend_a", "mend_a"])


def policy_trees_of(problem: TroubleshootingProblem) -> dict[str, faultodds.PolicyTree]:
    return {
        "greedy": faultodds.greedy_policy_tree(problem, min_probability=0),
        "look ahead": faultodds.look_ahead_policy_tree(problem, 2, min_probability=0),
        "fixed": faultodds.fixed_order_policy_tree(
            problem, [test.name for test in problem.tests], repair_at=0.7, min_probability=0
        ),
        "optimal": faultodds.optimal_policy_tree(problem).policy_tree,
    }


def test_all_policy_trees_for_two_faults_test_first_and_then_repair() -> None:
    for policy_tree in policy_trees_of(TWO_FAULTS).values():
        start = policy_tree.nodes[0]
        assert (start.kind, start.name) == ("test", "look")
        assert policy_tree.expected_cost() == start.expected_cost == pytest.approx(15, rel=1e-12)
        assert {one.hypothesis: one.probability for one in start.leading} == pytest.approx({"A": 0.6, "B": 0.4})
        followed = {branch.outcome: policy_tree.nodes[branch.node] for branch in start.branches}
        assert {outcome: node.name for outcome, node in followed.items()} == {"a": "mend_a", "b": "mend_b"}
        assert followed["b"].probability == pytest.approx(0.4)
        assert sum(node.probability for node in policy_tree.nodes if not node.branches) == pytest.approx(1)
        assert faultodds.expected_cost(TWO_FAULTS, policy_tree) == pytest.approx(15, rel=1e-12)


def test_a_fixed_order_repairs_what_is_probable_enough() -> None:
    # Fault A has 0.6, which is enough for the repair at 0.5: then the repairs come first, 10 + 0.4 x 20 = 18.
    policy_tree = faultodds.fixed_order_policy_tree(TWO_FAULTS, ["look"])
    assert [node.name for node in policy_tree.nodes if node.kind == "repair"] == ["mend_a", "mend_b"]
    assert policy_tree.expected_cost() == pytest.approx(18, rel=1e-12)


def test_a_policy_written_in_python_is_followed() -> None:
    def repairs_by_number(situation: Situation) -> Step:
        left = [one.name for one in reversed(TWO_FAULTS.repairs) if one.name not in situation.repairs_done]
        return Step("repair", left[0])

    policy_tree = faultodds.follow(TWO_FAULTS, repairs_by_number)
    assert [node.name for node in policy_tree.nodes if node.kind == "repair"] == ["mend_b", "mend_a"]
    assert policy_tree.expected_cost() == pytest.approx(26, rel=1e-12)
    with pytest.raises(ZeroDivisionError):
        faultodds.follow(TWO_FAULTS, lambda _: Step("test", str(1 // 0)))
    with pytest.raises(faultodds.UnknownName, match="mend_a"):
        faultodds.follow(TWO_FAULTS, lambda _: Step("repair", "mend"))


def random_problem(seed: int, *, hypotheses: int = 3, tests: int = 2, repairs: int = 3) -> TroubleshootingProblem:
    """Tests and repairs that err, checks that say cured too often, and a cover that two of them share."""
    numbers = random.Random(seed)

    def chance() -> float:
        return round(numbers.uniform(0.05, 0.95), 2)

    sees = [[chance() for _ in range(hypotheses)] for _ in range(tests)]
    return TroubleshootingProblem(
        hypotheses=tuple(f"h{i}" for i in range(hypotheses)),
        weights=tuple(numbers.uniform(0.1, 1) for _ in range(hypotheses)),
        set_ups=(SetUp("cover", 4.0),),
        tests=tuple(
            TestAction(
                f"t{i}",
                numbers.uniform(1, 6),
                ("no", "yes"),
                tuple((1 - p, p) for p in row),
                ("cover",) if i == 0 else (),
            )
            for i, row in enumerate(sees)
        ),
        repairs=tuple(
            RepairAction(
                f"r{i}",
                numbers.uniform(5, 30),
                tuple(chance() if h == i % hypotheses else 0.0 for h in range(hypotheses)),
                set_ups=("cover",) if i == 1 else (),
                verification=Verification(2.0, 0.1),
            )
            for i in range(repairs)
        ),
        ends=EndCosts(hand_over=60.0, comeback=90.0),
    )


def min_cost(
    problem: TroubleshootingProblem, weights: tuple[float, ...], cured: float, done: frozenset[str], open_: bool
) -> float:
    """The least expected cost over all policies, in proportion to the weights: every step, every outcome, no bounds."""
    total = sum(weights) + cured
    if total <= 0:
        return 0.0
    assert problem.ends.hand_over is not None
    assert problem.ends.comeback is not None
    best = total * problem.ends.hand_over
    for action in itertools.chain[Any](problem.tests, problem.repairs):
        if action.name in done:
            continue
        covered = bool(action.set_ups)
        price = action.cost + (4.0 if covered and not open_ else 0.0)
        now = (done | {action.name}, open_ or covered)
        if isinstance(action, TestAction):
            cost = total * price + sum(
                min_cost(problem, tuple(w * row[o] for w, row in zip(weights, action.table, strict=True)), 0.0, *now)
                for o in range(len(action.outcomes))
            )
        else:
            mended = sum(w * p for w, p in zip(weights, action.success, strict=True))
            left = [w * (1 - p) for w, p in zip(weights, action.success, strict=True)]
            wrongly = action.verification.false_cured
            cost = total * (price + action.verification.cost) + sum(left) * wrongly * problem.ends.comeback
            cost += min_cost(problem, tuple(w * (1 - wrongly) for w in left), 0.0, *now)
            assert mended + sum(left) == pytest.approx(total)
        best = min(best, cost)
    return best


@pytest.mark.parametrize("seed", range(8))
def test_the_best_policy_tree_costs_as_little_as_the_best_of_all_policies(seed: int) -> None:
    problem = random_problem(seed)
    least = min_cost(problem, problem.weights, 0.0, frozenset(), False) / sum(problem.weights)
    found = faultodds.optimal_policy_tree(problem)
    assert found.optimal
    assert found.upper_bound == found.policy_tree.expected_cost() == pytest.approx(least, rel=1e-8)
    assert found.lower_bound <= least * (1 + 1e-8)
    for policy_tree in policy_trees_of(problem).values():
        assert faultodds.expected_cost(problem, policy_tree) == pytest.approx(policy_tree.expected_cost(), rel=1e-9)
        assert policy_tree.expected_cost() >= least * (1 - 1e-9)


def test_a_search_can_be_stopped_and_then_says_how_good_it_is() -> None:
    problem = random_problem(1, hypotheses=8, tests=10, repairs=8)
    seen: list[faultodds.Progress] = []

    def five(progress: faultodds.Progress) -> bool:
        seen.append(progress)
        return len(seen) < 5

    found = faultodds.optimal_policy_tree(problem, keep_going=five)
    assert (len(seen), found.steps, found.optimal) == (5, 5, False)
    assert found.lower_bound < found.upper_bound == pytest.approx(found.policy_tree.expected_cost())
    assert [one.lower_bound for one in seen] == sorted(one.lower_bound for one in seen)
    assert not faultodds.optimal_policy_tree(problem, seconds=1e-6).optimal
    with pytest.raises(faultodds.ArgumentError, match="seconds"):
        faultodds.optimal_policy_tree(problem, seconds=0)
    with pytest.raises(ZeroDivisionError):
        faultodds.optimal_policy_tree(problem, keep_going=lambda progress: bool(progress.done // 0))


def test_time_limits_stop_policy_trees() -> None:
    problem = random_problem(1, hypotheses=8, tests=10, repairs=8)
    with pytest.raises(faultodds.Stopped), faultodds.time_limit(1e-6):
        faultodds.look_ahead_policy_tree(problem, 2)
    with faultodds.time_limit(1e-6):
        assert faultodds.optimal_policy_tree(problem).stopped  # the best found so far, with its bounds
        assert faultodds.best_repair_order(problem).expected_cost > 0
    with pytest.raises(faultodds.Stopped) as caught, faultodds.time_limit(0.1):
        faultodds.weigh_steps(problem, depth=6)
    assert caught.value.code == "time_limit"


def test_a_flag_stops_planning_and_progress_is_told() -> None:
    problem = random_problem(1, hypotheses=8, tests=10, repairs=8)
    seen: list[faultodds.Progress] = []
    enough = threading.Event()

    def watch(progress: faultodds.Progress) -> None:
        seen.append(progress)
        if len(seen) == 3:
            enough.set()

    with faultodds.stopping(flag=enough, progress=watch):
        found = faultodds.optimal_policy_tree(problem)
    assert found.stopped
    assert not found.optimal
    assert [one.done for one in seen[:3]] == [1, 2, 3]
    assert {(one.of, one.total) for one in seen} == {("situations", None)}
    assert all(one.lower_bound <= one.upper_bound for one in seen)  # type: ignore[operator]
    with pytest.raises(faultodds.Stopped) as caught, faultodds.stopping(flag=enough):
        faultodds.look_ahead_policy_tree(problem, 4)
    assert caught.value.code == "stopped"
    with pytest.raises(ZeroDivisionError), faultodds.stopping(progress=lambda progress: progress.done // 0):
        faultodds.optimal_policy_tree(problem)
    with pytest.raises(TypeError, match="is_set"):
        faultodds.stopping(flag=True)  # type: ignore[arg-type]


def test_policy_trees_beyond_their_size_are_refused() -> None:
    with pytest.raises(faultodds.TooLarge, match="nodes"):
        faultodds.greedy_policy_tree(TWO_FAULTS, max_nodes=4)
    assert len(faultodds.greedy_policy_tree(TWO_FAULTS, max_nodes=5)) == 5  # the test, two repairs, two ends


class Interrupted(Exception):  # noqa: N818 - stands for KeyboardInterrupt
    """What the signal handler of the next test raises, as that of Ctrl-C raises KeyboardInterrupt."""


@pytest.mark.skipif(not hasattr(signal, "setitimer"), reason="timers that send signals are POSIX")
def test_signals_stop_a_search_that_would_go_on_for_long() -> None:
    problem = random_problem(1, hypotheses=12, tests=14, repairs=12)
    problem = dataclasses.replace(problem, ends=EndCosts(hand_over=400.0, comeback=500.0))

    def interrupt(*_: object) -> None:
        raise Interrupted

    before = signal.signal(signal.SIGALRM, interrupt)
    try:
        signal.setitimer(signal.ITIMER_REAL, 0.2)
        with pytest.raises(Interrupted):
            faultodds.optimal_policy_tree(problem, max_steps=10_000_000, max_situations=100_000_000)
    finally:
        signal.setitimer(signal.ITIMER_REAL, 0)
        signal.signal(signal.SIGALRM, before)


def test_a_repair_can_leave_another_fault() -> None:
    # By hand: A, and A with B. Mending A (10) cures the one and leaves B, which mend_b (20) cures:
    # 10 + P(A and B) x 20 = 10 + 0.25 x 20 = 15.
    problem = TroubleshootingProblem(
        hypotheses=("A", "B", "A and B"),
        weights=(0.75, 0.0, 0.25),
        repairs=(
            RepairAction("mend_a", 10.0, (1.0, 0.0, 1.0), becomes={"A and B": "B"}),
            RepairAction("mend_b", 20.0, (0.0, 1.0, 1.0), becomes={"A and B": "A"}),
        ),
        ends=EndCosts(hand_over=100.0),
    )
    assert faultodds.best_repair_order(problem).expected_cost == pytest.approx(15, rel=1e-12)
    assert faultodds.optimal_policy_tree(problem).upper_bound == pytest.approx(15, rel=1e-12)
    with pytest.raises(faultodds.UnknownName, match="hypothesis"):
        faultodds.start_of(
            dataclasses.replace(problem, repairs=(RepairAction("r", 1.0, (1.0, 1.0, 1.0), becomes={"A": "C"}),))
        )


def test_what_is_wrong_with_a_problem_is_said_with_its_place() -> None:
    def wrong(**changed: Any) -> TroubleshootingProblem:
        return dataclasses.replace(TWO_FAULTS, **changed)

    for problem, place in [
        (wrong(weights=(1.0,)), "weights"),
        (wrong(ends=EndCosts()), "ends.hand_over"),
        (wrong(ends=EndCosts(hand_over=-1.0)), "ends.hand_over"),
        (wrong(hypotheses=("A", "A")), "stands twice"),
        (wrong(tests=(TestAction("look", 1.0, ("a", "b"), ((1.0,), (0.0, 1.0))),)), "a row of 1"),
        (wrong(tests=(TestAction("look", 1.0, ("a", "b"), ((0.5, 0.6), (0.0, 1.0))),)), "table"),
        (wrong(repairs=(RepairAction("r", math.inf, (1.0, 1.0)),)), "cost"),
    ]:
        with pytest.raises(faultodds.ArgumentError, match=place) as raised:
            faultodds.price_steps(problem)
        assert raised.value.argument
    with pytest.raises(faultodds.UnknownName) as unknown:
        faultodds.fixed_order_policy_tree(TWO_FAULTS, ["loock"])
    assert (unknown.value.kind, unknown.value.name, unknown.value.nearest) == ("test", "loock", ("look",))
    with pytest.raises(TypeError, match="TroubleshootingProblem"):
        faultodds.start_of("problem")  # type: ignore[arg-type]
    with pytest.raises(faultodds.ArgumentError, match="belief"):
        faultodds.price_steps(TWO_FAULTS, Situation((0.5, 0.4, 0.0)))
    policy_tree = faultodds.greedy_policy_tree(TWO_FAULTS)
    cut = dataclasses.replace(policy_tree, nodes=faultodds.Records(policy_tree.nodes[:1]))
    with pytest.raises(faultodds.ArgumentError, match="branches"):
        faultodds.expected_cost(TWO_FAULTS, cut)


def test_policy_trees_are_values() -> None:
    policy_tree = faultodds.greedy_policy_tree(TWO_FAULTS)
    assert pickle.loads(pickle.dumps(policy_tree)) == policy_tree == copy.deepcopy(policy_tree)
    problem = lamp_problem()
    assert pickle.loads(pickle.dumps(problem)) == problem
    assert faultodds.greedy_policy_tree(pickle.loads(pickle.dumps(problem))) == faultodds.greedy_policy_tree(problem)


def test_policy_trees_are_tables() -> None:
    pytest.importorskip("pandas")
    policy_tree = faultodds.greedy_policy_tree(TWO_FAULTS)
    frame = policy_tree.to_frame()
    assert len(frame) == len(policy_tree)
    assert list(frame["expected_cost"]) == [node.expected_cost for node in policy_tree.nodes]
    assert frame["branches"][0] == {branch.outcome: branch.node for branch in policy_tree.nodes[0].branches}


def test_policy_trees_are_tables_only_with_pandas(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pandas", None)
    with pytest.raises(ImportError, match="pip install pandas"):
        faultodds.greedy_policy_tree(TWO_FAULTS).to_frame()


def lamp_case() -> faultodds.Case:
    case = faultodds.Case(faultodds.Solver(faultodds.read_model(MODELS / "tutorial.json")))
    case.add_finding("dark", "present")
    return case


def lamp_problem() -> faultodds.CaseProblem:
    return faultodds.problem_of(lamp_case())


def test_the_problem_of_a_case_says_what_the_model_says() -> None:
    case = lamp_case()
    made = faultodds.problem_of(case)
    model = case.model()
    assert made.hand_over == "cycle_shop"
    assert made.problem.ends.hand_over == 24
    assert {test.name for test in made.problem.tests} <= set(model.with_role("test"))
    assert {repair.name for repair in made.problem.repairs} == {"replace_battery", "clean_switch", "replace_bulb"}
    assert len(made.texts.tests) == len(made.problem.tests)
    assert made.texts.currency == "EUR"
    bulb = next(repair for repair in made.problem.repairs if repair.name == "replace_bulb")
    # 3 minutes at 48 EUR an hour, and 2.50 EUR for the bulb.
    assert bulb.cost == pytest.approx(3 / 60 * 48 + 2.5)
    assert faultodds.problem_of(case, repairs_done=["replace_bulb"]).problem.repairs == tuple(
        repair for repair in made.problem.repairs if repair.name != "replace_bulb"
    )
    one = faultodds.problem_of(
        case,
        components=["bulb"],
        tests=["bulb_continuity"],
        means=faultodds.Means(labour_rate=0),
        ends=faultodds.EndCosts(hand_over=7),
    )
    assert (one.problem.ends.hand_over, one.hand_over) == (7, None)
    assert [test.name for test in one.problem.tests] == ["bulb_continuity"]
    # The model says of the test: it detects a blown bulb with 0.99 and gives false alarm with 0.01.
    rows = dict(zip(one.problem.hypotheses, one.problem.tests[0].table, strict=False))
    assert rows["bulb: blown"] == pytest.approx((0.01, 0.99))
    with pytest.raises(faultodds.UnknownName, match="replace_bulb"):
        faultodds.problem_of(case, repairs_done=["replace_bulbs"])
    with pytest.raises(faultodds.ArgumentError, match="assumption"):
        faultodds.problem_of(case, assumption="two")  # type: ignore[arg-type]


def test_hypotheses_are_the_posteriors_of_a_case_with_one_fault() -> None:
    # By hand, see pump_case: P(faulty | noise) = 9/14.
    found = faultodds.hypotheses_of(pump_case())
    assert (found.components, found.assumption, found.assumed, found.left_out) == (
        ("pump",),
        "one_fault",
        pytest.approx(1),
        pytest.approx(0, abs=1e-12),
    )
    assert [[fault.state for fault in one.faults] for one in found.list] == [["faulty"], []]
    assert [one.probability for one in found.list] == pytest.approx([9 / 14, 5 / 14], rel=1e-12)


def svg_texts(page: str) -> Iterator[str]:
    return (text for text in ET.fromstring(page.encode()).itertext() if text.strip())


def test_policy_trees_draw_themselves(tmp_path: Path) -> None:
    policy_tree = faultodds.look_ahead_policy_tree(lamp_problem())
    pages = faultodds.write_flow_chart_svg(policy_tree)
    assert pages
    drawn = "".join("".join("".join(svg_texts(page)).split()) for page in pages)
    labels = [node.label for node in policy_tree.nodes if node.kind in ("test", "repair", "hand_over")]
    assert [label for label in labels if "".join(label.split()) not in drawn] == []
    ET.fromstring(f"<div>{policy_tree._repr_html_()}</div>".encode())
    assert policy_tree._repr_svg_().count("<svg") == 1
    assert len(flow_chart.shown(policy_tree)) <= max(flow_chart.MOST_NODES, len(policy_tree))
    files = faultodds.write_flow_chart(policy_tree, tmp_path / "lamp.svg")
    assert [file.read_text(encoding="utf-8") for file in files] == list(pages)
    for ending in ("html", "dot", "md", "json"):
        (file,) = faultodds.write_flow_chart(policy_tree, tmp_path / f"lamp.{ending}", min_probability=0.01)
        assert file.stat().st_size > 0
    assert json.loads((tmp_path / "lamp.json").read_text(encoding="utf-8"))
    (file,) = faultodds.write_flow_chart(policy_tree, str(tmp_path / "chart"), format="markdown")
    assert file.read_text(encoding="utf-8") == faultodds.write_flow_chart_markdown(policy_tree)
    with pytest.raises(faultodds.ArgumentError, match=r"\.pdf"):
        faultodds.write_flow_chart(policy_tree, tmp_path / "lamp.pdf")
    with pytest.raises(OSError, match="nowhere"):
        faultodds.write_flow_chart(policy_tree, tmp_path / "nowhere" / "lamp.dot")


def test_folding_keeps_the_start_and_its_cost() -> None:
    policy_tree = faultodds.look_ahead_policy_tree(lamp_problem())
    short = faultodds.folded(policy_tree, 0.05)
    assert len(short) < len(policy_tree)
    assert short.expected_cost() == policy_tree.expected_cost()
    assert any(node.kind == "ask_again" for node in short.nodes)
    with pytest.raises(faultodds.ArgumentError):
        faultodds.expected_cost(short.problem, short)


def pump_case() -> faultodds.Case:
    """P(faulty) = 0.1; noise from the pump 0.8 or from elsewhere 0.05; a repair does its work with 0.9.

    P(noise) = 0.1 x (1 - 0.2 x 0.95) + 0.9 x 0.05 = 0.081 + 0.045 = 0.126, P(faulty | noise) = 9/14.
    """
    noise = {"leak": 0.05, "causes": [{"of": "pump", "strength": 0.8}]}
    smell = {"leak": 0.01, "causes": [{"of": "pump", "strength": 0.3}]}
    model = {
        "format": "faultodds-model",
        "format_version": 1,
        "name": "pump",
        "labour_rate": 60,
        "components": [{"name": "pump", "states": ["sound", "faulty"], "prior": 0.1}],
        "symptoms": [
            {"name": "noise", "complaint": True, "noisy_or": noise},
            {"name": "smell", "noisy_or": smell},
        ],
        "repairs": [{"name": "new_pump", "component": "pump", "success": 0.9, "minutes": 30, "money": 80}],
    }
    case = faultodds.Case(faultodds.Solver(faultodds.FaultModel.from_dict(model)))
    case.add_finding("noise", "present")
    return case


def test_the_books_after_a_repair_are_those_by_hand() -> None:
    # Noise again after the repair: no fault 0.9 x 0.05 = 0.045; mended, and the noise comes from elsewhere as before
    # 0.9 x 0.1 x 0.05 = 0.0045; not mended 0.1 x 0.081 = 0.0081. Together 0.0576 of 0.126: 16/35. The pump is
    # faulty now with 0.0081 / 0.0576 = 9/64.
    case = pump_case()
    repaired = faultodds.after_repair(case, "new_pump")
    assert repaired.repairs == ("new_pump",)
    assert repaired.complaint == {"noise": ("present",)}
    assert repaired.current.posterior("pump")["faulty"] == pytest.approx(0.1 * 9 / 14, rel=1e-12)
    assert repaired.current.posterior(repaired.check)["still_there"] == pytest.approx(16 / 35, rel=1e-12)
    repaired.current.add_finding(repaired.check, "still_there")
    assert repaired.current.posterior("pump")["faulty"] == pytest.approx(9 / 64, rel=1e-12)
    assert case.posterior("pump")["faulty"] == pytest.approx(9 / 14, rel=1e-12)
    assert set(repaired.past) <= set(repaired.current.model())
    copied = pickle.loads(pickle.dumps(repaired))
    assert copied.current.posterior("pump")["faulty"] == pytest.approx(9 / 64, rel=1e-12)
    again = faultodds.after_repair(repaired, "new_pump")
    assert again.repairs == ("new_pump", "new_pump")
    assert again.current.posterior("pump")["faulty"] == pytest.approx(0.1 * 9 / 64, rel=1e-12)
    with pytest.raises(faultodds.UnknownName, match="new_pump"):
        faultodds.after_repair(case, "new_pomp")
    with pytest.raises((TypeError, RuntimeError)):
        faultodds.after_repair("case", "new_pump")  # type: ignore[arg-type]


def test_weights_of_evidence_are_those_by_hand() -> None:
    # The odds go from 1:9 to 9:5, by a factor of 16.2.
    evidence = faultodds.weigh_evidence(pump_case(), "pump")
    (noise,) = evidence.findings
    assert (evidence.prior, evidence.posterior) == (pytest.approx(0.1), pytest.approx(9 / 14))
    for bits in (evidence.total_bits, noise.alone_bits, noise.left_out_bits, noise.in_order_bits):
        assert bits == pytest.approx(math.log2(16.2), rel=1e-12)
    assert (evidence.states, noise.variable) == (("faulty",), "noise")
    assert "pump" in evidence.text
    assert faultodds.weigh_evidence(pump_case(), "pump", "sound").total_bits == pytest.approx(-math.log2(16.2))
    with pytest.raises(faultodds.ArgumentError):
        faultodds.weigh_evidence(pump_case(), "pump", ["sound", "faulty"])


def test_a_conflict_is_what_the_probabilities_say() -> None:
    # By hand: P(no smell) = 0.9 x 0.99 + 0.1 x 0.99 x 0.7 = 0.9603; both: 0.045 x 0.99 + 0.081 x 0.99 x 0.7.
    case = pump_case()
    case.add_finding("smell", "absent")
    both = 0.045 * 0.99 + 0.081 * 0.99 * 0.7
    found = faultodds.conflict(case)
    assert found.bits == pytest.approx(math.log2(0.126 * 0.9603 / both), rel=1e-9)
    assert [one.variable for one in found.findings] == ["noise", "smell"]
    assert all(one.with_rest_bits == pytest.approx(found.bits) for one in found.findings)
    assert found.rare_cause is not None
    assert pickle.loads(pickle.dumps(found)) == found


def test_estimates_by_sampling_agree_with_the_exact_answers_within_their_errors() -> None:
    case = lamp_case()
    estimates = faultodds.sample_posteriors(case.model(), case.findings(), samples=20_000, seed=7)
    exact = {(one.variable, one.state): one.probability for one in case.posteriors()}
    assert {(one.variable, one.state) for one in estimates.estimates} == set(exact)
    for one in estimates.estimates:
        # 5 standard errors: by chance once in a million estimates (normal distribution).
        assert abs(one.estimate - exact[one.variable, one.state]) <= 5 * one.standard_error + 1e-12
    assert abs(estimates.log_evidence.value - case.log_evidence()) < 5 * estimates.log_evidence.standard_error
    assert 0 < estimates.effective_samples < 20_000
    assert any(one.standard_error > 0 for one in estimates.estimates)
    assert faultodds.sample_posteriors(case.model(), case.findings(), samples=20_000, seed=7) == estimates
    bulb = estimates.of_variable("bulb")
    assert sum(estimate.value for estimate in bulb.values()) == pytest.approx(1)
    with pytest.raises(KeyError):
        estimates.of_variable("bulbs")
    with pytest.raises(faultodds.ArgumentError, match="samples"):
        faultodds.sample_posteriors(case.model(), samples=0)
    with pytest.raises(faultodds.Stopped), faultodds.time_limit(1e-6):
        faultodds.sample_posteriors(case.model(), case.findings())


def test_plots_of_costs_show_the_numbers() -> None:
    pytest.importorskip("matplotlib").use("agg")
    from faultodds import plots

    steps = faultodds.price_steps(TWO_FAULTS)
    ax = plots.plot_steps(steps, currency="EUR")
    assert [label.get_text() for label in ax.get_yticklabels()] == [one.label for one in steps]
    assert [text.get_text() for text in ax.texts] == [f"{one.expected_cost:.2f}" for one in steps]
    widths = [bar.get_width() for bar in ax.patches]
    assert widths == pytest.approx([one.step_cost for one in steps] + [o.expected_cost - o.step_cost for o in steps])
    plots.plot_steps({"now": steps, "later": faultodds.price_steps(TWO_FAULTS, depth=1)}, most=2)
    with pytest.raises(faultodds.ArgumentError):
        plots.plot_steps({})
    # Under the best policy tree a case costs 1 + 10 (with 0.6) or 1 + 20: more than 11 is paid with 0.4.
    ax = plots.plot_policy_tree_costs({"best": faultodds.optimal_policy_tree(TWO_FAULTS).policy_tree})
    (line,) = ax.get_lines()
    assert list(line.get_xdata()) == pytest.approx([0, 11, 21])
    assert list(line.get_ydata()) == pytest.approx([1, 0.4, 0], abs=1e-12)
    with pytest.raises(faultodds.ArgumentError, match="folded"):
        plots.plot_policy_tree_costs({"folded": faultodds.folded(faultodds.greedy_policy_tree(lamp_problem()), 0.1)})
