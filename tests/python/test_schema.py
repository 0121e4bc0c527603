# SPDX-License-Identifier: BSD-3-Clause
"""The JSON Schema of the model format: it accepts every model, and it and the reader refuse the same damage."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

jsonschema = pytest.importorskip("jsonschema")

MODELS = Path(__file__).parents[2] / "models"
SCHEMA = json.loads((MODELS / "fault-model.schema.json").read_text(encoding="utf-8"))
VALIDATOR = jsonschema.Draft202012Validator(SCHEMA)
MODEL_FILES = sorted(path for path in MODELS.glob("*.json") if not path.name.endswith(".schema.json"))
TUTORIAL = json.loads((MODELS / "tutorial.json").read_text(encoding="utf-8"))

Model = dict[str, Any]
Damage = Callable[[Model], Any]


def named(model: Model, list_name: str, name: str) -> Model:
    found: Model = next(item for item in model[list_name] if item["name"] == name)
    return found


def battery(model: Model) -> Model:
    return named(model, "components", "battery")


def switch(model: Model) -> Model:
    return named(model, "components", "switch")


def dark(model: Model) -> Model:
    return named(model, "symptoms", "dark")


def voltage(model: Model) -> Model:
    return named(model, "tests", "battery_voltage")


def spread(model: Model) -> Model:
    """Give the voltage a spread for each outcome; the first of them."""
    spreads: list[Model] = [{"outcome": name, "normal": {"mean": 2, "sd": 0.2}} for name in ("good", "low", "none")]
    voltage(model)["reading"]["spreads"] = spreads
    return spreads[0]


def reshape(model: Model, **shape: Model) -> None:
    first = spread(model)
    del first["normal"]
    first.update(shape)


def look(model: Model) -> Model:
    return named(model, "tests", "work_switch")


def read(model: Model) -> object:
    """The model as the reader of the package takes it; the test is skipped where the package is not installed."""
    faultodds = pytest.importorskip("faultodds")
    return faultodds.FaultModel.from_dict(model)


def assert_reader_refuses(model: Model) -> None:
    faultodds = pytest.importorskip("faultodds")
    with pytest.raises(faultodds.ModelError):
        faultodds.FaultModel.from_dict(model)


def damaged(damage: Damage) -> Model:
    model = copy.deepcopy(TUTORIAL)
    damage(model)
    assert model != TUTORIAL
    return model


# What the schema can see, and the reader refuses too.
SEEN_BY_BOTH: dict[str, Damage] = {
    "no format": lambda m: m.pop("format"),
    "another format": lambda m: m.update(format="something-else"),
    "no version": lambda m: m.pop("format_version"),
    "a later version": lambda m: m.update(format_version=2),
    "version as text": lambda m: m.update(format_version="1"),
    "no name": lambda m: m.pop("name"),
    "misspelt member": lambda m: m.update(titel="x"),
    "title is a number": lambda m: m.update(title=7),
    "authors are text": lambda m: m.update(authors="me"),
    "invented is text": lambda m: m.update(invented_data="yes"),
    "labour rate below zero": lambda m: m.update(labour_rate=-1),
    "tools are an object": lambda m: m.update(tools={"name": "x"}),
    "tool without name": lambda m: m["tools"][0].pop("name"),
    "caution with description": lambda m: m["cautions"][0].update(description="x"),
    "component is text": lambda m: m["components"].append("pump"),
    "empty name": lambda m: battery(m).update(name=""),
    "no states": lambda m: battery(m).update(states=[]),
    "a state is a number": lambda m: battery(m)["states"].append(3),
    "a state without name": lambda m: battery(m)["states"].append({"label": "x"}),
    "context without states": lambda m: m["context"][0].pop("states"),
    "no table": lambda m: battery(m).pop("prior"),
    "two tables": lambda m: battery(m).update(unweighted=True),
    "prior above one": lambda m: named(m, "components", "bulb").update(prior=1.5),
    "prior below zero": lambda m: battery(m)["prior"].update(low=-0.1),
    "prior is text": lambda m: battery(m).update(prior="0.1"),
    "prior is null": lambda m: battery(m).update(prior=None),
    "prior holds text": lambda m: battery(m).update(prior=[0.5, "0.3", 0.2]),
    "code of a component": lambda m: battery(m).update(code="P0171"),
    "system of a test": lambda m: voltage(m).update(system="supply"),
    "a component that reveals": lambda m: battery(m).update(reveals=["dark"]),
    "reveals one symptom twice": lambda m: voltage(m).update(reveals=["dark", "dark"]),
    "reveals text": lambda m: voltage(m).update(reveals="dark"),
    "a component with a precondition": lambda m: battery(m).update(only_when={"weather": "wet"}),
    "a precondition that is text": lambda m: voltage(m).update(only_when="wet"),
    "a precondition without a state": lambda m: voltage(m).update(only_when={"weather": []}),
    "ruled out by text": lambda m: voltage(m).update(not_when="wet"),
    "a precondition that is a number": lambda m: voltage(m).update(only_when={"weather": 1}),
    "cost of a symptom": lambda m: dark(m).update(minutes=3),
    "complaint is a number": lambda m: dark(m).update(complaint=2),
    "table without parents": lambda m: switch(m)["table"].pop("given"),
    "table without rows": lambda m: switch(m)["table"].pop("rows"),
    "rows and values": lambda m: switch(m)["table"].update(values=[0.99, 0.01, 0.9, 0.1]),
    "values and otherwise": lambda m: switch(m).update(
        table={"given": ["weather"], "values": [0.99, 0.01, 0.9, 0.1], "otherwise": 0.1}
    ),
    "values hold text": lambda m: switch(m).update(table={"given": ["weather"], "values": [0.99, 0.01, "0.9", 0.1]}),
    "value above one": lambda m: switch(m).update(table={"given": ["weather"], "values": [0.99, 0.01, 1.1, -0.1]}),
    "parent twice": lambda m: switch(m)["table"]["given"].append("weather"),
    "row without when": lambda m: switch(m)["table"]["rows"][0].pop("when"),
    "row without p": lambda m: switch(m)["table"]["rows"][0].pop("p"),
    "row with more": lambda m: switch(m)["table"]["rows"][0].update(q=1),
    "when lists nothing": lambda m: switch(m)["table"]["rows"][0]["when"].update(weather=[]),
    "when holds a number": lambda m: switch(m)["table"]["rows"][0]["when"].update(weather=1),
    "causes missing": lambda m: dark(m)["noisy_or"].pop("causes"),
    "cause without strength": lambda m: dark(m)["noisy_or"]["causes"][0].pop("strength"),
    "cause with effect": lambda m: dark(m)["noisy_or"]["causes"][0].update(effect={}),
    "strength above one": lambda m: dark(m)["noisy_or"]["causes"][1].update(strength=1.1),
    "strength is a list": lambda m: dark(m)["noisy_or"]["causes"][0].update(strength=[0, 1]),
    "condition is text": lambda m: dark(m)["noisy_or"]["causes"][0].update(only_when="wet"),
    "leak above one": lambda m: dark(m)["noisy_or"].update(leak=2),
    "detection missing": lambda m: look(m)["examines"].pop("detects"),
    "false alarm missing": lambda m: look(m)["examines"].pop("false_alarm"),
    "false alarm above one": lambda m: look(m)["examines"].update(false_alarm=1.2),
    "minutes below zero": lambda m: voltage(m).update(minutes=-1),
    "money is text": lambda m: voltage(m).update(money="3"),
    "tool twice": lambda m: voltage(m).update(tools=["multimeter", "multimeter"]),
    "cautions are text": lambda m: voltage(m).update(cautions="battery"),
    "limit without outcome": lambda m: voltage(m)["reading"]["limits"][0].pop("outcome"),
    "limit is text": lambda m: voltage(m)["reading"]["limits"][0].update(below="1 V"),
    "difference is a number": lambda m: voltage(m)["reading"].update(difference=1),
    "gauge error is text": lambda m: voltage(m)["reading"].update(gauge_error="1 %"),
    "gauge error of zero": lambda m: voltage(m)["reading"].update(gauge_error=0),
    "gauge error below zero": lambda m: voltage(m)["reading"].update(gauge_error={"fixed": -1, "share": 0.1}),
    "gauge error in percent": lambda m: voltage(m)["reading"].update(gauge_error={"share": 2}),
    "gauge error of nothing": lambda m: voltage(m)["reading"].update(gauge_error={}),
    "gauge error of a range": lambda m: voltage(m)["reading"].update(gauge_error={"from": 1}),
    "range is text": lambda m: voltage(m)["reading"].update(at_least="0 V"),
    "spread without outcome": lambda m: spread(m).pop("outcome"),
    "spread without shape": lambda m: spread(m).pop("normal"),
    "spread of two shapes": lambda m: spread(m).update(uniform={"from": 0, "to": 1}),
    "normal without sd": lambda m: spread(m)["normal"].pop("sd"),
    "normal with sd zero": lambda m: spread(m)["normal"].update(sd=0),
    "normal with median": lambda m: spread(m)["normal"].update(median=1),
    "lognormal below zero": lambda m: reshape(m, lognormal={"median": -1, "log_sd": 0.1}),
    "uniform without end": lambda m: reshape(m, uniform={"from": 1}),
    "access needs text": lambda m: m["access"][0].update(needs="bench"),
    "repair without component": lambda m: m["repairs"][0].pop("component"),
    "repair mends nothing": lambda m: m["repairs"][0].update(mends=[]),
    "partial is a number": lambda m: m["repairs"][0].update(partial=0.2),
    "partial by number": lambda m: m["repairs"][0].update(partial={"dead": 0.2}),
    "partial above one": lambda m: m["repairs"][0].update(mends=["low"], partial={"dead": {"low": 1.2}}),
    "condition without name": lambda m: m.update(conditions=[{"label": "hot"}]),
    "condition with needs": lambda m: m.update(conditions=[{"name": "hot", "needs": ["lamp_open"]}]),
    "condition at some time": lambda m: m.update(conditions=[{"name": "hot", "at_start": 1}]),
    "conditions of a test are text": lambda m: voltage(m).update(conditions="hot"),
    "wait below zero": lambda m: voltage(m).update(wait_minutes=-1),
    "wait of a symptom": lambda m: dark(m).update(wait_minutes=1),
    "context cost without when": lambda m: voltage(m).update(by_context=[{"minutes": 1}]),
    "context cost of every context": lambda m: voltage(m).update(by_context=[{"when": {}, "minutes": 1}]),
    "context cost of nothing": lambda m: voltage(m).update(by_context=[{"when": {"weather": "wet"}}]),
    "context cost with tools": lambda m: voltage(m).update(
        by_context=[{"when": {"weather": "wet"}, "minutes": 1, "tools": ["load"]}]
    ),
    "hand-over without fee": lambda m: m.update(hand_overs=[{"name": "shop"}]),
    "hand-over with minutes": lambda m: m.update(hand_overs=[{"name": "shop", "money": 1, "minutes": 3}]),
    "verification is a list": lambda m: m.update(verification=[]),
    "verification above one": lambda m: m.update(verification={"false_still_there": 1.1}),
    "verification of a repair": lambda m: m["repairs"][0].update(verification={"mends": []}),
    "comeback of nothing": lambda m: m.update(comeback={}),
    "live with it for nothing said": lambda m: m.update(live_with={"source": "x"}),
    "success above one": lambda m: m["repairs"][0].update(success=1.01),
    "order twice": lambda m: m.update(order=["dark", "dark"]),
    "potential without values": lambda m: m.update(potentials=[{"scope": ["dark"]}]),
    "potential below zero": lambda m: m.update(potentials=[{"scope": ["dark"], "values": [1, -1]}]),
    "count of zero": lambda m: count_hidden(m, {"at_least": {"count": 0, "of": ["bulb"]}}),
    "count of a half": lambda m: count_hidden(m, {"at_least": {"count": 0.5, "of": ["bulb"]}}),
    "any of nothing": lambda m: count_hidden(m, {"any": []}),
    "input without states": lambda m: count_hidden(m, {"all": [{"of": "bulb"}]}),
    "unweighted is false": lambda m: count_hidden(m, {"unweighted": False}),
}

# What depends on other places of the file: only the reader can see it.
SEEN_BY_THE_READER: dict[str, Damage] = {
    "unknown state": lambda m: battery(m)["prior"].update(worn=0.1),
    "unknown parent": lambda m: switch(m)["table"].update(given=["wether"]),
    "unknown cause": lambda m: dark(m)["noisy_or"]["causes"][0].update(of="batery"),
    "unknown tool": lambda m: voltage(m)["tools"].append("hammer"),
    "unknown access": lambda m: voltage(m).update(access=["moon"]),
    "row missing": lambda m: switch(m)["table"]["rows"].pop(),
    "rows overlap": lambda m: switch(m)["table"]["rows"][0]["when"].update(weather=["dry", "wet"]),
    "too few values": lambda m: switch(m).update(table={"given": ["weather"], "values": [0.99, 0.01]}),
    "wrong sum": lambda m: battery(m).update(prior=[0.5, 0.3, 0.1]),
    "sum above one": lambda m: battery(m)["prior"].update(low=0.99),
    "too few numbers": lambda m: battery(m).update(prior=[0.5, 0.5]),
    "one number for three states": lambda m: battery(m).update(prior=0.5),
    "name twice": lambda m: battery(m).update(name="bulb"),
    "limits overlap": lambda m: voltage(m)["reading"]["limits"][0].update(below=2),
    "limit out of range": lambda m: voltage(m)["reading"].update(at_least=2),
    "range reversed": lambda m: voltage(m)["reading"].update(at_least=20, at_most=10),
    "gauge error of two zeros": lambda m: voltage(m)["reading"].update(gauge_error={"fixed": 0, "share": 0}),
    "same instrument without error": lambda m: (
        voltage(m)["reading"].pop("gauge_error", None),
        voltage(m)["reading"].update(same_instrument=True),
    ),
    "spread of an unknown outcome": lambda m: spread(m).update(outcome="godo"),
    "spread missing": lambda m: (spread(m), voltage(m)["reading"]["spreads"].pop()),
    "uniform reversed": lambda m: reshape(m, uniform={"from": 1, "to": 0}),
    "reveals a component": lambda m: voltage(m).update(reveals=["battery"]),
    "reveals an unknown symptom": lambda m: voltage(m).update(reveals=["drak"]),
    "a component as precondition": lambda m: voltage(m).update(only_when={"battery": "dead"}),
    "an unknown state as precondition": lambda m: voltage(m).update(only_when={"weather": "moist"}),
    "ruled out by a component": lambda m: voltage(m).update(not_when={"battery": "dead"}),
    "itself as precondition": lambda m: voltage(m).update(only_when={"battery_voltage": "low"}),
    "cycle": lambda m: count_hidden(m, {"any": ["loop"]}),
    "unknown condition": lambda m: voltage(m).update(conditions=["hot"]),
    "cost by a component": lambda m: voltage(m).update(by_context=[{"when": {"battery": "dead"}, "minutes": 1}]),
    "partial from sound": lambda m: m["repairs"][0].update(mends=["low"], partial={"sound": {"low": 0.1}}),
    "partial and success above one": lambda m: m["repairs"][0].update(partial={"dead": {"low": 0.5}}),
    "conditions that exclude each other": lambda m: (
        m.update(conditions=[{"name": "hot", "group": "lamp"}, {"name": "cold", "group": "lamp"}]),
        voltage(m).update(conditions=["hot", "cold"]),
    ),
    "no comeback": lambda m: (
        m.pop("comeback", None),
        m["repairs"][0].update(verification={"false_cured": 0.1}),
    ),
    "repair of a test": lambda m: m["repairs"][0].update(component="work_switch"),
    "incomplete order": lambda m: m.update(order=["dark"]),
}

# Other ways to say something right: both accept them.
ACCEPTED: dict[str, Damage] = {
    "prior as a list": lambda m: battery(m).update(prior=[0.84, 0.12, 0.04]),
    "prior with the first state": lambda m: battery(m).update(prior={"sound": 0.84, "low": 0.12, "dead": 0.04}),
    "rounded prior": lambda m: battery(m).update(prior=[0.3333, 0.3333, 0.3333]),
    "otherwise": lambda m: switch(m)["table"].update(rows=[], otherwise=0.1),
    "values": lambda m: switch(m).update(table={"given": ["weather"], "values": [0.99, 0.01, 0.9, 0.1]}),
    "noisy-MAX": lambda m: (
        voltage(m).pop("table"),
        voltage(m).update(
            noisy_max={"leak": {"low": 0.01}, "causes": [{"of": "battery", "effect": {"dead": {"none": 0.9}}}]}
        ),
    ),
    "condition": lambda m: dark(m)["noisy_or"]["causes"][1].update(only_when={"weather": ["wet"]}, source="s"),
    "detection by state": lambda m: look(m)["examines"].update(component="battery", detects={"dead": 1}),
    "any": lambda m: count_hidden(m, {"any": ["bulb", {"of": "battery", "is": "dead"}]}),
    "all": lambda m: count_hidden(m, {"all": ["bulb", {"of": "battery", "is": ["low", "dead"]}]}),
    "at least": lambda m: count_hidden(m, {"at_least": {"count": 2, "of": ["bulb", "switch", "battery"]}}),
    "reveals a symptom": lambda m: voltage(m).update(reveals=["dark"]),
    "ruled out": lambda m: voltage(m).update(not_when={"weather": "wet", "work_switch": ["bad"]}),
    "preconditions": lambda m: voltage(m).update(
        only_when={"weather": "wet", "work_switch": ["good"], "dark": ["present"]}
    ),
    "repair that only eases": lambda m: m["repairs"][0].update(mends=[], partial={"dead": {"low": 0.5}}),
    "condition by group": lambda m: (
        m.update(conditions=[{"name": "hot", "group": "lamp", "at_start": True, "minutes": 1, "wait_minutes": 9}]),
        voltage(m).update(conditions=["hot"]),
    ),
    "cost by context": lambda m: voltage(m).update(
        by_context=[{"when": {"weather": ["wet", "dry"]}, "minutes": 9, "wait_minutes": 0, "money": 1}]
    ),
    "ends of a case": lambda m: m.update(
        hand_overs=[{"name": "shop", "label": "shop", "money": 20, "wait_minutes": 60, "tells": "all", "source": "s"}],
        verification={"label": "ride", "minutes": 5, "false_cured": 0.05, "conditions": [], "source": "s"},
        comeback={"minutes": 10},
        live_with={"money": 50},
    ),
    "difference": lambda m: voltage(m)["reading"].update(difference=True),
    "gauge error": lambda m: voltage(m)["reading"].update(gauge_error=0.02, same_instrument=True),
    "gauge error by share": lambda m: voltage(m)["reading"].update(gauge_error={"fixed": 0.01, "share": 0.005}),
    "range": lambda m: voltage(m)["reading"].update(at_least=-1, at_most=30),
    "normal spreads": lambda m: spread(m),
    "lognormal spread": lambda m: reshape(m, lognormal={"median": 1, "log_sd": 0.1}),
    "uniform spread": lambda m: reshape(m, uniform={"from": 1, "to": 2}),
    "mends one": lambda m: m["repairs"][0].update(mends="dead"),
    "potential": lambda m: m.update(potentials=[{"scope": ["dark"], "values": [1, 2]}]),
    "plain variable": lambda m: m.update(variables=[{"name": "v", "states": ["only"], "prior": [1]}]),
    "no schema line": lambda m: m.pop("$schema"),
}


def count_hidden(model: Model, table: Model) -> None:
    model["hidden"] = [{"name": "loop", "states": ["no", "yes"], **table}]


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_there_are_models() -> None:
    assert {"tutorial.json", "low-power-petrol.json"} <= {path.name for path in MODEL_FILES}


@pytest.mark.parametrize("path", MODEL_FILES, ids=lambda path: path.stem)
def test_every_model_fits(path: Path) -> None:
    VALIDATOR.validate(json.loads(path.read_text(encoding="utf-8")))


def test_every_member_explains_itself() -> None:
    """An editor shows titles and descriptions: each member of the model, of tests and of repairs has one."""

    def explained(schema: Model) -> bool:
        if "title" in schema or "description" in schema or "const" in schema:
            return True
        return "$ref" in schema and explained(SCHEMA["$defs"][schema["$ref"].rsplit("/", 1)[-1]])

    members = dict(SCHEMA["properties"])
    for kind in ("variable", "symptom", "test", "reading", "spread", "noisy_or", "noisy_max", "table"):
        members.update({f"{kind}.{name}": value for name, value in SCHEMA["$defs"][kind]["properties"].items()})
    assert [name for name, schema in members.items() if not explained(schema)] == []


@pytest.mark.parametrize("damage", SEEN_BY_BOTH.values(), ids=SEEN_BY_BOTH.keys())
def test_the_schema_refuses_damage(damage: Damage) -> None:
    assert not VALIDATOR.is_valid(damaged(damage))


@pytest.mark.parametrize("damage", SEEN_BY_BOTH.values(), ids=SEEN_BY_BOTH.keys())
def test_the_reader_refuses_what_the_schema_refuses(damage: Damage) -> None:
    assert_reader_refuses(damaged(damage))


@pytest.mark.parametrize("damage", SEEN_BY_THE_READER.values(), ids=SEEN_BY_THE_READER.keys())
def test_the_reader_sees_more(damage: Damage) -> None:
    model = damaged(damage)
    assert VALIDATOR.is_valid(model)
    assert_reader_refuses(model)


@pytest.mark.parametrize("change", ACCEPTED.values(), ids=ACCEPTED.keys())
def test_schema_and_reader_accept_the_same(change: Damage) -> None:
    model = damaged(change)
    assert list(VALIDATOR.iter_errors(model)) == []
    read(model)
