# SPDX-License-Identifier: BSD-3-Clause
"""C++ and Python have the same names, members and defaults; the exceptions are listed with their reasons."""

from __future__ import annotations

import dataclasses
import inspect
import subprocess
import sys
import typing
from pathlib import Path
from typing import Any

import pytest

pytest.importorskip("clang.cindex", reason="libclang is not installed")

import faultodds  # noqa: E402
import faultodds.members  # noqa: E402
from faultodds import _core, records  # noqa: E402

BINDINGS = Path(__file__).parents[2] / "bindings"
sys.path.append(str(BINDINGS))  # last: the package beside the generator is not the installed one

from generator import exceptions  # noqa: E402
from generator.described_calls import FUNCTIONS  # noqa: E402
from generator.described_records import OPTIONS, RECORDS  # noqa: E402
from generator.headers import Headers, read_headers  # noqa: E402
from generator.members import ADDED, Schema, class_name, is_record  # noqa: E402
from generator.rules import Hidden, Own  # noqa: E402


@pytest.fixture(scope="module")
def headers() -> Headers:
    return read_headers()


def spelt(name: str) -> str:
    """A name in Python: `from` is a word that Python keeps for itself."""
    return f"{name}_" if name == "from" else name


def test_what_is_generated_is_up_to_date() -> None:
    command = [sys.executable, str(BINDINGS / "generate.py"), "--check"]
    done = subprocess.run(command, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_enumerations_have_the_same_values(headers: Headers) -> None:
    for name, one in headers.enumerations.items():
        if name not in exceptions.NOT_IN_PYTHON:
            assert typing.get_args(getattr(records, name)) == tuple(value for value, _ in one.values), name


def test_records_have_the_same_members(headers: Headers) -> None:
    checked = 0
    for name, one in headers.records.items():
        if one.is_class or name in exceptions.NOT_IN_PYTHON or name in OPTIONS:
            continue
        said = RECORDS[name].fields if name in RECORDS else {}
        made = getattr(faultodds, name)
        known = {field.name for field in dataclasses.fields(made)} | set(vars(made))
        for field in one.fields:
            rule = said.get(field.name)
            if isinstance(rule, Hidden):
                assert rule.reason
                continue
            own = rule.name if isinstance(rule, Own) and rule.name else field.name
            assert spelt(own) in known, f"{name}.{field.name}"
            checked += 1
        for member in one.members:
            own = getattr(made, member.name, None)
            assert callable(own) or isinstance(own, property), f"{name}.{member.name}()"
    assert checked > 200


def test_a_variable_is_one_of_the_roles() -> None:
    kinds = typing.get_args(typing.get_type_hints(records.Variable)["what"])
    assert tuple(kind.__name__.lower() for kind in kinds) == typing.get_args(records.Role)


def test_records_are_immutable(headers: Headers) -> None:
    for name, one in headers.records.items():
        if not one.is_class and name not in exceptions.NOT_IN_PYTHON and name not in OPTIONS:
            assert getattr(faultodds, name).__dataclass_params__.frozen, name


def callers(headers: Headers, options: str) -> list[Any]:
    """The functions of Python whose C++ takes these options last or inside of others."""
    around = {options} | {name for name in OPTIONS for field in headers.records[name].fields if field.type == options}
    found = [
        getattr(faultodds, name)
        for name in FUNCTIONS
        for one in headers.functions[name]
        if any(name in parameter.type for parameter in one.parameters for name in around)
    ]
    return [*found, faultodds.SolverOptions] if options == "SolverOptions" else found


def test_options_have_the_same_defaults(headers: Headers) -> None:
    # What C++ itself says at run time, against the signatures that Python shows.
    checked = 0
    for options, values in _core._option_defaults().items():
        for function in callers(headers, options):
            shown = inspect.signature(function).parameters
            for name, value in values.items():
                if name not in shown or shown[name].default is inspect.Parameter.empty:
                    continue
                other = [inner for inner in _core._option_defaults().values() if name in inner and inner[name] != value]
                if other and not any(inner[name] == value for inner in other if inner is not values):
                    continue  # said otherwise by the options around these
                given = type(value)() if shown[name].default is None and dataclasses.is_dataclass(value) else None
                assert (given or shown[name].default) == value, f"{function.__name__}({name})"
                checked += 1
    assert checked > 60


def test_every_option_is_an_argument(headers: Headers) -> None:
    for options, said in OPTIONS.items():
        names = _core._option_defaults()[options]
        for field in headers.records[options].fields:
            if field.type in OPTIONS or isinstance(said.fields.get(field.name), Hidden):
                continue
            assert said.renamed.get(field.name, field.name) in names, f"{options}.{field.name}"


def test_every_function_is_in_python(headers: Headers) -> None:
    left = exceptions.FUNCTIONS_NOT_IN_PYTHON
    missing = [name for name in headers.functions if name not in left and not callable(getattr(faultodds, name, None))]
    assert missing == []
    assert [name for name in left if name not in headers.functions or hasattr(faultodds, name)] == []


SAID_OTHERWISE = {
    "after_repair": {"current"},  # before: a Case or a Repaired
    "answer_cases": {"rows"},  # findings, columns and likelihoods
    "read_model": {"policy"},  # normalise
    "weigh_evidence": {"claim"},  # variable and states
    "fixed_order_policy_tree": {"order"},  # tests and repair_at
}
"""Parameters that Python takes apart."""


def test_functions_have_the_same_parameters(headers: Headers) -> None:
    for name in FUNCTIONS:
        shown = set(inspect.signature(getattr(faultodds, name)).parameters)
        one = headers.functions[name][FUNCTIONS[name].overload]
        for parameter in one.parameters:
            kind = parameter.type.removeprefix("const ").rstrip(" &")
            if kind in OPTIONS or kind in ("Stop", "FlowChartTexts") or parameter.name in SAID_OTHERWISE.get(name, ()):
                continue
            assert {"current": "case"}.get(parameter.name, spelt(parameter.name)) in shown, f"{name}({parameter.name})"


def test_every_member_of_a_class_is_in_python(headers: Headers) -> None:
    left = exceptions.MEMBERS_NOT_IN_PYTHON
    checked = 0
    for name, one in headers.records.items():
        if not one.is_class or name in left:
            continue
        kind = getattr(faultodds, name)
        known = set(dir(kind)).union(*(vars(base).get("__annotations__", ()) for base in kind.__mro__))
        for member in {made.name for made in one.members if f"{name}.{made.name}" not in left}:
            assert member in known, f"{name}.{member}"
            checked += 1
    assert checked > 35


def test_no_exception_is_out_of_date(headers: Headers) -> None:
    known = {**headers.records, **headers.enumerations}
    assert [name for name in exceptions.NOT_IN_PYTHON if name not in known] == []
    for name in exceptions.MEMBERS_NOT_IN_PYTHON:
        owner, _, member = name.partition(".")
        assert owner in headers.records, name
        assert not member or any(one.name == member for one in headers.records[owner].members), name


def test_the_builder_takes_every_member_of_model_files() -> None:
    schema = Schema()
    builder = faultodds.ModelBuilder
    singular = {"components": "component", "symptoms": "symptom", "tests": "test", "variables": "unclassified"}
    singular |= {"repairs": "repair", "hand_overs": "hand_over", "potentials": "potential", "tools": "term"}
    singular |= {"skills": "term", "cautions": "caution", "conditions": "condition"}
    for place in ADDED:
        part = singular.get(place, place)
        adder = {"tools": "tool", "skills": "skill", "variables": "variable"}.get(place, part)
        assert callable(getattr(builder, f"add_{adder}")), place
        members = typing.get_type_hints(getattr(faultodds.members, class_name(part)))
        whole = schema.parts[part]
        while whole:
            assert set(whole.get("properties", {})) - {"name"} <= set(members), place
            whole = schema.parts.get(whole.get("$ref", "").rsplit("/", 1)[-1], {})
    for place, member in schema.whole["properties"].items():
        if is_record(schema.resolved(member)) and place not in ADDED:
            assert callable(getattr(builder, place)), place
