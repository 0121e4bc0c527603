# SPDX-License-Identifier: BSD-3-Clause
"""Fault models put together in Python, member by member, with the checks and messages of model files."""

from __future__ import annotations

import json
import math
import numbers
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, Any

from faultodds.errors import ModelError, Problem

if TYPE_CHECKING:
    from typing_extensions import Self, Unpack

    from faultodds._core import FaultModel
    from faultodds.members import (
        AccessMembers,
        CautionMembers,
        ComebackMembers,
        ComponentMembers,
        ConditionMembers,
        ContextMembers,
        HandOverMembers,
        HeaderMembers,
        HiddenMembers,
        LiveWithMembers,
        PotentialMembers,
        RepairMembers,
        SymptomMembers,
        TermMembers,
        TestMembers,
        UnclassifiedMembers,
        VerificationMembers,
    )


class ModelBuilder:
    """Puts a fault model together; the keyword arguments are the members of model files (see models/README.md).

    Every `add_...` returns the builder, so that calls can be chained. Nothing is checked before `build`, which then
    lists every problem at once.

        model = (
            faultodds.ModelBuilder("torch", title="Weak torch", currency="EUR", labour_rate=60)
            .add_component("battery", states=["sound", "weak"], prior=0.2)
            .add_symptom("no_light", complaint=True, noisy_or={"causes": [{"of": "battery", "strength": 0.9}]})
            .add_test("voltage", minutes=2, examines={"component": "battery", "detects": 0.95, "false_alarm": 0.02})
            .build()
        )
    """

    def __init__(self, name: str, **members: Unpack[HeaderMembers]) -> None:
        self._members: dict[str, Any] = {"format": "faultodds-model", "format_version": 1, "name": name, **members}

    def _add(self, where: str, name: str, members: Mapping[str, Any]) -> Self:
        self._members.setdefault(where, []).append({"name": name, **members})
        return self

    def add_context(self, name: str, **members: Unpack[ContextMembers]) -> Self:
        """Adds a fact known beforehand that shifts priors."""
        return self._add("context", name, members)

    def add_component(self, name: str, **members: Unpack[ComponentMembers]) -> Self:
        """Adds a part or system that can be faulty; its first state is the sound one."""
        return self._add("components", name, members)

    def add_hidden(self, name: str, **members: Unpack[HiddenMembers]) -> Self:
        """Adds an intermediate variable that nobody observes."""
        return self._add("hidden", name, members)

    def add_symptom(self, name: str, **members: Unpack[SymptomMembers]) -> Self:
        """Adds something noticed at no cost: the complaint, a smell, a stored trouble code."""
        return self._add("symptoms", name, members)

    def add_test(self, name: str, **members: Unpack[TestMembers]) -> Self:
        """Adds something one can do; its states are the outcomes, the first one the good one."""
        return self._add("tests", name, members)

    def add_variable(self, name: str, **members: Unpack[UnclassifiedMembers]) -> Self:
        """Adds an unclassified variable, as plain networks have them."""
        return self._add("variables", name, members)

    def add_repair(self, name: str, **members: Unpack[RepairMembers]) -> Self:
        """Adds an action that makes a component sound with some probability."""
        return self._add("repairs", name, members)

    def add_access(self, name: str, **members: Unpack[AccessMembers]) -> Self:
        """Adds opening work, paid once and shared by the tests and repairs behind it."""
        return self._add("access", name, members)

    def add_condition(self, name: str, **members: Unpack[ConditionMembers]) -> Self:
        """Adds how the vehicle must stand for some work: engine cold, a second person at hand."""
        return self._add("conditions", name, members)

    def add_hand_over(self, name: str, **members: Unpack[HandOverMembers]) -> Self:
        """Adds a specialist to whom the vehicle can be given."""
        return self._add("hand_overs", name, members)

    def add_tool(self, name: str, **members: Unpack[TermMembers]) -> Self:
        """Adds a tool that tests and repairs may need."""
        return self._add("tools", name, {"label": name, **members})

    def add_skill(self, name: str, **members: Unpack[TermMembers]) -> Self:
        """Adds a skill level, above those added before."""
        return self._add("skills", name, {"label": name, **members})

    def add_caution(self, name: str, **members: Unpack[CautionMembers]) -> Self:
        """Adds a caution that is shown before the steps that name it."""
        return self._add("cautions", name, {"label": name, **members})

    def add_potential(self, **members: Unpack[PotentialMembers]) -> Self:
        """Adds a table of weights over several variables, as Markov networks have them."""
        self._members.setdefault("potentials", []).append(dict(members))
        return self

    def verification(self, **members: Unpack[VerificationMembers]) -> Self:
        """Says how it is checked after a repair whether the complaint is gone."""
        self._members["verification"] = dict(members)
        return self

    def comeback(self, **members: Unpack[ComebackMembers]) -> Self:
        """Says what it costs when a vehicle leaves as cured and is not."""
        self._members["comeback"] = dict(members)
        return self

    def live_with(self, **members: Unpack[LiveWithMembers]) -> Self:
        """Says what it costs to leave the complaint as it is."""
        self._members["live_with"] = dict(members)
        return self

    def to_dict(self) -> dict[str, Any]:
        """The members so far as a model file would hold them; unchecked."""
        members: dict[str, Any] = json.loads(json_text(self._members))
        return members

    def build(self, *, normalise: bool = False) -> FaultModel:
        """The model. normalise: scale rows of any positive sum. Raises ModelError listing every problem."""
        from faultodds._core import FaultModel

        return FaultModel.from_dict(self._members, normalise=normalise)


def json_text(members: object) -> str:
    """JSON text of the members of a model file; numpy's numbers and arrays become plain ones.

    Raises ModelError, with the place, for what JSON cannot hold.
    """
    if not isinstance(members, Mapping):
        raise TypeError(f"members: got {type(members).__qualname__} {members!r:.60}; give a dictionary")
    return json.dumps(_plain(members, ""), ensure_ascii=False)


def _plain(value: object, place: str) -> Any:
    if value is None or isinstance(value, bool | str):
        return value
    if isinstance(value, numbers.Real):
        return _plain_number(value, place)
    if isinstance(value, Mapping):
        return {_member_name(key, place): _plain(item, _below(place, str(key))) for key, item in value.items()}
    if hasattr(value, "tolist"):
        return _plain(value.tolist(), place)
    if isinstance(value, Iterable) and not isinstance(value, bytes | bytearray | memoryview):
        return [_plain(item, _below(place, _item_name(item, index))) for index, item in enumerate(value)]
    raise _refusal(
        place, f"{type(value).__qualname__} {value!r:.60}", "give text, a number, true or false, a list or a dictionary"
    )


def _plain_number(value: numbers.Real, place: str) -> int | float:
    if isinstance(value, numbers.Integral):
        return int(value)
    if not math.isfinite(value):
        raise _refusal(place, f"the number {float(value)}", "give a finite number")
    return float(value)


def _member_name(key: object, place: str) -> str:
    if not isinstance(key, str):
        raise _refusal(place, f"{type(key).__qualname__} {key!r:.60} as the name of a member", "give a name as text")
    return str(key)


def _item_name(item: object, index: int) -> str:
    name = item.get("name") if isinstance(item, Mapping) else None
    return name if isinstance(name, str) else f"{index}"


def _below(place: str, name: str) -> str:
    return f"{place}.{name}" if place else name


def _refusal(place: str, found: str, remedy: str) -> ModelError:
    problem = Problem(place, found, remedy)
    return ModelError(str(problem), [problem])
