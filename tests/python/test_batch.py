# SPDX-License-Identifier: BSD-3-Clause
"""Many cases at once: every kind of table, and each row as a case by itself, bit for bit."""

from __future__ import annotations

import math
import subprocess
import sys
import textwrap
from pathlib import Path
from typing import Any

import faultodds
import numpy as np
import pandas as pd
import pytest

MODELS = Path(__file__).parents[2] / "models"

# By hand: P(faulty) = 0.1, P(present | faulty) = 0.8, P(present | sound) = 0.05; the light is never on while the pump
# is sound. P(present) = 0.08 + 0.045 = 0.125, P(faulty | present) = 0.64, P(faulty | absent) = 0.02 / 0.875.
TEXT = {"noise": ["present", "absent", None], "light": [None, None, "on"]}


@pytest.fixture
def solver() -> faultodds.Solver:
    model = {
        "format": "faultodds-model",
        "format_version": 1,
        "name": "pump",
        "components": [{"name": "pump", "states": ["sound", "faulty"], "prior": 0.1}],
        "symptoms": [
            {"name": "noise", "states": ["absent", "present"], "table": {"given": ["pump"], "rows": rows(0.05, 0.8)}},
            {"name": "light", "states": ["off", "on"], "table": {"given": ["pump"], "rows": rows(0.0, 0.5)}},
        ],
    }
    return faultodds.Solver(faultodds.FaultModel.from_dict(model))


def rows(sound: float, faulty: float) -> list[dict[str, Any]]:
    return [{"when": {"pump": "sound"}, "p": sound}, {"when": {"pump": "faulty"}, "p": faulty}]


def check_by_hand(answers: faultodds.CaseAnswers) -> None:
    assert answers.columns == (("pump", "sound"), ("pump", "faulty"))
    np.testing.assert_allclose(answers.posterior("pump")[:, 1], [0.64, 0.02 / 0.875, 1.0], rtol=1e-14)
    np.testing.assert_allclose(answers.log_evidence, np.log([0.125, 0.875, 0.05]), rtol=1e-14)


def test_a_mapping_of_columns(solver: faultodds.Solver) -> None:
    check_by_hand(faultodds.answer_cases(solver, TEXT))
    check_by_hand(faultodds.answer_cases(solver, {"noise": [1, 0, -1], "light": np.array([-1, -1, 1], np.int8)}))


def test_a_data_frame_of_state_names(solver: faultodds.Solver) -> None:
    frame = pd.DataFrame(TEXT)
    check_by_hand(faultodds.answer_cases(solver, frame))
    check_by_hand(faultodds.answer_cases(solver, frame.astype("category")))
    check_by_hand(faultodds.answer_cases(solver, frame.astype("string")))


def test_an_arrow_table(solver: faultodds.Solver) -> None:
    arrow = pytest.importorskip("pyarrow")
    table = arrow.table(TEXT)
    check_by_hand(faultodds.answer_cases(solver, table))
    check_by_hand(faultodds.answer_cases(solver, table.to_batches()[0]))
    check_by_hand(faultodds.answer_cases(solver, arrow.table({n: c.dictionary_encode() for n, c in columns_of(table)})))
    check_by_hand(faultodds.answer_cases(solver, arrow.table({"noise": [1, 0, None], "light": [None, None, 1]})))


def columns_of(table: Any) -> list[tuple[str, Any]]:
    return list(zip(table.column_names, table.columns, strict=True))


@pytest.mark.parametrize("kind", [np.int32, np.int64, np.int8])
def test_an_array_of_positions(solver: faultodds.Solver, kind: type) -> None:
    array = np.array([[1, -1], [0, -1], [-1, 1]], kind)
    check_by_hand(faultodds.answer_cases(solver, array, columns=["noise", "light"]))
    check_by_hand(faultodds.answer_cases(solver, np.asfortranarray(array), columns=["noise", "light"]))
    check_by_hand(faultodds.answer_cases(solver, array[:, ::-1], columns=["light", "noise"], threads=2))


def test_an_impossible_row_is_the_only_one_without_an_answer(solver: faultodds.Solver) -> None:
    answers = faultodds.answer_cases(solver, {"pump": ["sound", "sound"], "light": ["on", "off"]})
    assert answers.log_evidence[0] == -math.inf
    assert np.isnan(answers.probabilities[0]).all()
    assert answers.posterior("pump")[1].tolist() == [1.0, 0.0]


def test_likelihoods(solver: faultodds.Solver) -> None:
    weights = [[0.1, 0.4], [math.nan, math.nan]]
    answers = faultodds.answer_cases(solver, {}, likelihoods={"noise": weights})
    alone = faultodds.Case(solver)
    alone.add_likelihood("noise", [0.1, 0.4])
    assert answers.posterior("pump")[0].tolist() == list(alone.posterior("pump").values())
    assert answers.posterior("pump")[1].tolist() == pytest.approx([0.9, 0.1])


def test_every_row_is_a_case_by_itself_bit_for_bit() -> None:
    solver = faultodds.Solver(faultodds.read_model(MODELS / "tutorial.json"))
    model = solver.model()
    observed = [*model.with_role("symptom"), *model.with_role("test")]
    random = np.random.default_rng(1)
    positions = np.stack([random.integers(-1, len(model.states(name)), 40) for name in observed], axis=1)
    answers = faultodds.answer_cases(solver, positions, columns=observed, variables=model, threads=2)
    for row, found in enumerate(positions):
        alone = faultodds.Case(solver)
        try:
            alone.add(
                faultodds.Finding(name, model.states(name)[place])
                for name, place in zip(observed, found, strict=True)
                if place >= 0
            )
        except faultodds.ImpossibleFindings:
            assert answers.log_evidence[row] == -math.inf
            continue
        assert answers.log_evidence[row] == alone.log_evidence()
        for name in model:
            assert answers.posterior(name)[row].tolist() == list(alone.posterior(name).values())


def test_a_data_frame_of_answers(solver: faultodds.Solver) -> None:
    frame = faultodds.answer_cases(solver, TEXT, variables=["pump", "light"]).to_frame()
    assert frame[("pump", "faulty")].tolist() == pytest.approx([0.64, 0.02 / 0.875, 1.0])
    assert list(frame.columns.names) == ["variable", "state"]


def test_wrong_input_is_named(solver: faultodds.Solver) -> None:
    with pytest.raises(faultodds.UnknownName, match=r"no state \"presnt\"; did you mean \"present\""):
        faultodds.answer_cases(solver, {"noise": ["presnt"]})
    with pytest.raises(faultodds.UnknownName, match=r"^row 2: ") as caught:
        faultodds.answer_cases(solver, {"noise": ["present", None, "presnt"]})
    assert (caught.value.code, caught.value.name, caught.value.nearest) == ("unknown_name", "presnt", ("present",))
    with pytest.raises(faultodds.UnknownName, match="no variable is named"):
        faultodds.answer_cases(solver, {"noize": ["present"]})
    with pytest.raises(faultodds.ArgumentError, match=r'row 1, "noise": state 2'):
        faultodds.answer_cases(solver, {"noise": [1, 2]})
    with pytest.raises(faultodds.ArgumentError, match=r'row 0, "noise": -2'):
        faultodds.answer_cases(solver, {"noise": [-2, 1]})
    with pytest.raises(faultodds.ArgumentError, match="columns of the same length"):
        faultodds.answer_cases(solver, {"noise": [0], "light": [0, 1]})
    with pytest.raises(faultodds.ArgumentError, match="give rows by the 1 columns named"):
        faultodds.answer_cases(solver, np.zeros((2, 2), int), columns=["noise"])
    with pytest.raises(TypeError, match="a number is never taken as a name"):
        faultodds.answer_cases(solver, {"noise": [0.5]})
    with pytest.raises(TypeError, match="give a mapping, a data frame"):
        faultodds.answer_cases(solver, [[0]])
    with pytest.raises(KeyError):
        faultodds.answer_cases(solver, {"noise": [0]}).posterior("noise")


def test_a_time_limit_stops_it() -> None:
    solver = faultodds.Solver(faultodds.read_model(MODELS / "low-power-petrol.json"))
    observed = solver.model().with_role("symptom")
    random = np.random.default_rng(2)
    positions = random.integers(0, 2, (200_000, len(observed)))
    for threads in (1, 2):
        with pytest.raises(faultodds.Stopped), faultodds.time_limit(0.2):
            faultodds.answer_cases(solver, positions, columns=observed, threads=threads)


def test_without_numpy_only_this_function_is_missing() -> None:
    script = """
        import sys
        sys.modules["numpy"] = None
        import faultodds
        solver = faultodds.Solver(faultodds.ModelBuilder("m").add_component("pump", prior=0.25).build())
        try:
            faultodds.answer_cases(solver, {"pump": ["sound"]})
        except ImportError:
            print("no numpy")
        """
    done = subprocess.run([sys.executable, "-c", textwrap.dedent(script)], capture_output=True, text=True, check=False)
    assert done.stdout.strip() == "no numpy", done.stderr
