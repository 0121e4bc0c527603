# SPDX-License-Identifier: BSD-3-Clause
"""Fault models in Python: made from files, texts, dictionaries and the builder; read; compared; refused."""

from __future__ import annotations

import dataclasses
import json
import pickle
from pathlib import Path
from typing import Any

import faultodds
import pytest
from package_models import car_start, depends, plain_model, two_states

MODELS = Path(__file__).parents[2] / "models"


def members(**lists: Any) -> dict[str, Any]:
    return {"format": "faultodds-model", "format_version": 1, "name": "small", **lists}


def test_a_file_a_text_and_a_dictionary_give_equal_models() -> None:
    path = MODELS / "tutorial.json"
    from_file = faultodds.read_model(path)
    assert from_file == faultodds.read_model(str(path))
    assert from_file == faultodds.FaultModel.from_json(path.read_text(encoding="utf-8"))
    assert from_file == faultodds.FaultModel.from_dict(json.loads(path.read_text(encoding="utf-8")))


@pytest.mark.parametrize("path", sorted(MODELS.glob("*.json")), ids=lambda path: path.stem)
def test_every_model_survives_dictionaries_and_files(path: Path, tmp_path: Path) -> None:
    if path.name.endswith(".schema.json"):
        pytest.skip("the schema is not a model")
    model = faultodds.read_model(path)
    assert faultodds.FaultModel.from_dict(model.to_dict()) == model
    for ending in ("json", "json.gz"):
        assert faultodds.write_model(model, tmp_path / f"copy.{ending}") == ()
        assert faultodds.read_model(tmp_path / f"copy.{ending}") == model


def test_a_format_that_loses_something_says_so(tmp_path: Path) -> None:
    lost = faultodds.write_model(car_start(), tmp_path / "car.bif")
    assert lost
    assert all(isinstance(sentence, str) for sentence in lost)
    again = faultodds.read_model(tmp_path / "car.bif")
    assert list(again) == list(car_start())
    assert again.role("fuel") == "unclassified"


def test_reading_the_model_by_names() -> None:
    model = car_start()
    assert len(model) == model.size() == 4
    assert list(model) == ["fuel", "plugs", "start", "gauge"]
    assert "fuel" in model
    assert "diesel" not in model
    assert model.role("gauge") == "test"
    assert model.states("gauge") == ("full", "half", "empty")
    assert model.parents("start") == ("fuel", "plugs")
    assert model.children("fuel") == ("start", "gauge")
    assert model.with_role("component") == ("fuel", "plugs")
    order = model.topological_order()
    assert all(order.index(parent) < order.index(name) for name in model for parent in model.parents(name))
    assert model["gauge"] == model.variable("gauge")
    assert model["gauge"].test.work.minutes == 0.1
    assert model["gauge"].test.procedure == "Read the fuel gauge with the ignition on."
    assert model["start"].symptom.complaint
    assert model.header().title == "Car start"
    assert model.header().labour_rate == 60


def test_a_variable_holds_what_belongs_to_its_role_alone() -> None:
    model = car_start()
    for variable in model.variables():
        assert variable.role == model.role(variable.name) == type(variable.what).__name__.lower()
        assert getattr(variable, variable.role) is variable.what
    assert model["fuel"].component == faultodds.Component(system="", remainder=False)
    assert model["fuel"].question == ""
    assert model["gauge"].question == model["gauge"].test.question
    assert pickle.loads(pickle.dumps(model["gauge"])) == model["gauge"]
    for other in ("context", "symptom", "test"):
        with pytest.raises(faultodds.ArgumentError, match=f"fuel: its role is component, not {other}; ") as refused:
            getattr(model["fuel"], other)
        assert (refused.value.code, refused.value.argument) == ("wrong_role", "fuel")


def test_a_frame_of_variables_has_the_columns_of_all_roles() -> None:
    rows = car_start().variables().rows()
    kinds = (faultodds.Context, faultodds.Component, faultodds.Symptom, faultodds.Test)
    members = {member.name for kind in kinds for member in dataclasses.fields(kind)}
    assert all(list(row) == list(rows[0]) and members < set(row) for row in rows)
    assert [row["role"] for row in rows] == ["component", "component", "symptom", "test"]
    assert [row["complaint"] for row in rows] == [None, None, True, None]
    assert [row["remainder"] for row in rows] == [False, False, None, None]


def test_what_a_test_reveals_survives_every_way_in_and_out() -> None:
    model = (
        faultodds.ModelBuilder("codes")
        .add_component("pump", prior=0.1)
        .add_symptom("code_a", noisy_or={"causes": [{"of": "pump", "strength": 0.5}]})
        .add_test("read", examines={"component": "pump", "detects": 0.5, "false_alarm": 0.1}, reveals=("code_a",))
        .build()
    )
    assert model["read"].test.reveals == ("code_a",)
    assert model["code_a"].what == faultodds.Symptom(question="", complaint=False, code="", conditions=())
    assert model.to_dict()["tests"][0]["reveals"] == ["code_a"]
    assert faultodds.FaultModel.from_dict(model.to_dict()) == model
    case = faultodds.Case(faultodds.Solver(model))
    case.add_finding("code_a", "present")
    (left,) = faultodds.rank_tests(case).left_out
    assert (left.test, left.gain_bits) == ("read", None)


def test_a_precondition_survives_every_way_in_and_out_and_leaves_the_test_out() -> None:
    model = (
        faultodds.ModelBuilder("boost")
        .add_context("induction", states=["natural", "turbo"], prior=0.4)
        .add_component("hose", prior=0.1)
        .add_test("look", minutes=1, examines={"component": "hose", "detects": 0.5, "false_alarm": 0.1})
        .add_test(
            "pull",
            minutes=5,
            examines={"component": "hose", "detects": 0.9, "false_alarm": 0.1},
            only_when={"induction": "turbo", "look": ["good", "bad"]},
            not_when={"induction": ["natural"]},
        )
        .build()
    )
    assert model["pull"].test.only_when == {"induction": ("turbo",), "look": ("good", "bad")}
    assert model["pull"].test.not_when == {"induction": ("natural",)}
    assert model["look"].test.only_when == model["look"].test.not_when == {}
    assert model.to_dict()["tests"][1]["only_when"] == {"induction": "turbo", "look": ["good", "bad"]}
    assert faultodds.FaultModel.from_dict(model.to_dict()) == model
    case = faultodds.Case(faultodds.Solver(model))
    (left,) = faultodds.rank_tests(case).left_out
    assert (left.test, left.reason) == ("pull", "only when induction: turbo; and look: good or bad")
    case.add_finding("induction", "turbo")
    case.add_finding("look", "bad")
    assert [forecast.test for forecast in faultodds.rank_tests(case).tests] == ["pull"]


def test_a_table_written_out_has_the_last_parent_fastest() -> None:
    rows = car_start().written_out("start")
    assert [dict(row.given) for row in rows] == [
        {"fuel": "yes", "plugs": "clean"},
        {"fuel": "yes", "plugs": "foul"},
        {"fuel": "no", "plugs": "clean"},
        {"fuel": "no", "plugs": "foul"},
    ]
    assert [row.probabilities["yes"] for row in rows] == [0.99, 0.01, 0, 0]


def test_rows_that_miss_one_by_rounding_are_scaled_and_listed() -> None:
    model = plain_model({"name": "thirds", "states": ["a", "b", "c"], "prior": [0.3333, 0.3333, 0.3333]})
    (row,) = model.written_out("thirds")
    assert row.probabilities["a"] == pytest.approx(1 / 3, abs=1e-15)
    (scaled,) = model.scaled_rows()
    assert (scaled.variable, scaled.row) == ("thirds", 0)
    assert scaled.sum == pytest.approx(0.9999, abs=1e-12)


def test_rows_beyond_rounding_are_refused_unless_the_caller_asks() -> None:
    variables = [{"name": "a", "states": ["x", "y"], "prior": [0.5, 0.4]}]
    with pytest.raises(faultodds.ModelError, match=r"a.*0\.9"):
        faultodds.FaultModel.from_dict(members(variables=variables))
    scaled = faultodds.FaultModel.from_dict(members(variables=variables), normalise=True)
    assert scaled.written_out("a")[0].probabilities["x"] == pytest.approx(5 / 9, abs=1e-15)


def test_models_are_compared_by_content_and_have_no_hash() -> None:
    assert car_start() == car_start()
    assert car_start() != plain_model(two_states("fuel", 0.02))
    assert car_start() != "car_start"
    with pytest.raises(TypeError, match="unhashable"):
        hash(car_start())


def test_changing_a_dictionary_leaves_the_model_alone() -> None:
    model = car_start()
    changed = model.to_dict()
    changed["components"][0]["prior"] = 0.5
    assert model == car_start()
    assert faultodds.FaultModel.from_dict(changed) != model


def test_numbers_of_numpy_are_numbers() -> None:
    np = pytest.importorskip("numpy")
    prior = np.array([0.25, 0.75])
    with_arrays = plain_model({"name": "a", "states": ("x", "y"), "prior": prior}, two_states("b", np.float64(0.5)))
    assert with_arrays == plain_model({"name": "a", "states": ["x", "y"], "prior": [0.25, 0.75]}, two_states("b", 0.5))
    halves = plain_model({"name": "a", "states": ["x", "y"], "prior": np.array([0.25, 0.75], dtype=np.float32)})
    assert halves.written_out("a")[0].probabilities["x"] == 0.25


@pytest.mark.parametrize(
    ("prior", "place"),
    [
        (float("nan"), r"components\.pump\.prior"),
        ([0.5, float("inf")], r"components\.pump\.prior\.1"),
        ({1: 0.5}, r"components\.pump\.prior"),
        (b"0.5", r"components\.pump\.prior"),
    ],
)
def test_what_a_file_cannot_hold_is_refused_with_its_place(prior: object, place: str) -> None:
    with pytest.raises(faultodds.ModelError, match=place) as caught:
        faultodds.FaultModel.from_dict(members(components=[{"name": "pump", "prior": prior}]))
    assert caught.value.problems[0].remedy


def test_every_problem_is_listed_with_place_and_remedy() -> None:
    with pytest.raises(faultodds.ModelError) as caught:
        faultodds.FaultModel.from_dict(
            members(
                components=[{"name": "pump", "prior": 1.5}, {"name": "coil", "priro": 0.1}],
                symptoms=[{"name": "weak", "noisy_or": {"causes": [{"of": "pmup", "strength": 0.9}]}}],
            )
        )
    error = caught.value
    assert len(error.problems) >= 2
    assert all(problem.place and problem.found for problem in error.problems)
    assert str(error) == "\n".join(map(str, error.problems))
    assert error.file == ""


def test_a_file_that_is_wrong_is_named(tmp_path: Path) -> None:
    path = tmp_path / "broken.json"
    path.write_text('{"format": "faultodds-model",', encoding="utf-8")
    with pytest.raises(faultodds.ModelError, match=r"broken\.json") as caught:
        faultodds.read_model(path)
    assert caught.value.file == str(path)


def test_a_file_that_is_not_there_is_an_os_error(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        faultodds.read_model(tmp_path / "absent.json")
    with pytest.raises(TypeError):
        faultodds.read_model(7)  # type: ignore[arg-type]


def test_a_cycle_is_told_as_a_path() -> None:
    around = {"a": "d", "b": "a", "c": "b", "d": "c"}
    with pytest.raises(faultodds.ModelError) as caught:
        plain_model(*(depends(name, {"0": 0.1, "1": 0.9}, parent) for name, parent in around.items()))
    assert "a -> b -> c -> d -> a" in str(caught.value)
    with pytest.raises(faultodds.ModelError, match="itself"):
        plain_model(depends("a", {"0": 0.1, "1": 0.9}, "a"))


def test_unknown_names_offer_the_nearest() -> None:
    with pytest.raises(faultodds.UnknownName) as caught:
        car_start().parents("gague")
    error = caught.value
    assert isinstance(error, KeyError)
    assert (error.kind, error.name, error.owner, error.nearest) == ("variable", "gague", "", ("gauge",))
    assert str(error) == 'no variable is named "gague"; did you mean "gauge"?'
    with pytest.raises(faultodds.ArgumentError, match="component"):
        car_start().with_role("part")  # type: ignore[arg-type]


@pytest.mark.parametrize("name", [0, 1.0, True, None, b"fuel", ("fuel",)])
def test_names_are_text_and_nothing_else(name: Any) -> None:
    model = car_start()
    for call in (model.variable, model.parents, model.children, model.states, model.role, model.__getitem__):
        with pytest.raises(TypeError, match="name as text"):
            call(name)


def test_the_builder_gives_what_the_dictionary_gives() -> None:
    built = (
        faultodds.ModelBuilder("small", currency="EUR", labour_rate=60.0)
        .add_skill("owner")
        .add_tool("meter", label="multimeter")
        .add_caution("hot", text="Let it cool first.")
        .add_access("cover", minutes=5, money=0, cautions=["hot"])
        .add_context("weather", states=["dry", "wet"], prior=0.3)
        .add_component("coil", states=["sound", "weak"], prior=0.05)
        .add_hidden("spark", any=[{"of": "coil", "is": "weak"}], states=["good", "poor"])
        .add_symptom("misfire", noisy_or={"leak": 0.01, "causes": [{"of": "spark", "strength": 0.8}]})
        .add_test(
            "resistance",
            minutes=3,
            money=0,
            access=["cover"],
            tools=["meter"],
            skill="owner",
            examines={"component": "coil", "detects": 0.9, "false_alarm": 0.05},
        )
        .add_repair("replace_coil", component="coil", success=0.97, minutes=20, money=60)
    )
    model = built.build()
    assert model == faultodds.FaultModel.from_dict(built.to_dict())
    assert list(model) == ["weather", "coil", "spark", "misfire", "resistance"]
    assert model["resistance"].test.work.tools == ("meter",)
    assert [term.label for term in model.tools()] == ["multimeter"]
    assert [term.description for term in model.cautions()] == ["Let it cool first."]
    with pytest.raises(faultodds.ModelError, match="noisy"):
        faultodds.ModelBuilder("bad").add_symptom("x", nosy_or={"causes": []}).build()  # type: ignore[call-arg]


def test_estimate_cost_of_a_star() -> None:
    # A root of 10 states with 100 children of 5: 100 cliques of 50 entries, 40 000 bytes in doubles.
    root = {"name": "root", "states": [f"r{i}" for i in range(10)], "prior": [0.1] * 10}
    table = {"given": ["root"], "rows": [{"when": {}, "p": [0.2] * 5}]}
    children = [{"name": f"c{i}", "states": [f"s{j}" for j in range(5)], "table": table} for i in range(100)]
    cost = faultodds.estimate_cost(plain_model(root, *children))
    assert cost.width == 1
    assert cost.largest_clique == 50
    assert cost.entries >= 5000
    assert cost.operations > 0
