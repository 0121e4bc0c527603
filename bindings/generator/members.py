# SPDX-License-Identifier: BSD-3-Clause
"""Writes faultodds/members.py: what ModelBuilder takes, from the schema of model files."""

from __future__ import annotations

import json
from typing import Any

from generator.headers import SOURCE
from generator.python_records import LICENCE, docstring, sentence

SCHEMA = SOURCE / "models" / "fault-model.schema.json"
NOTE = "Written by bindings/generate.py from models/fault-model.schema.json: not to be changed by hand."
PLAIN = {"string": "str", "number": "float", "integer": "int", "boolean": "bool"}
ADDED: tuple[str, ...] = (
    *("skills", "tools", "cautions", "conditions", "access", "context", "components", "hidden", "symptoms", "tests"),
    *("variables", "repairs", "hand_overs", "potentials"),
)
"""Lists of the file, to which members of ModelBuilder add."""


class Schema:
    """The schema of model files as types of Python."""

    def __init__(self) -> None:
        self.whole: dict[str, Any] = json.loads(SCHEMA.read_text(encoding="utf-8"))
        self.parts: dict[str, Any] = self.whole["$defs"]

    def resolved(self, node: dict[str, Any]) -> dict[str, Any]:
        """The part that a reference leads to."""
        if "$ref" not in node:
            return node
        return self.resolved(self.parts[node["$ref"].rsplit("/", 1)[-1]])

    def type_of(self, node: dict[str, Any]) -> str:
        """The annotation of a value; lists may be anything that can be gone through."""
        name = node.get("$ref", "").rsplit("/", 1)[-1]
        found = self.resolved(node)
        if name in self.parts and is_record(found):
            return class_name(name)
        if "oneOf" in found and "properties" not in found:
            return " | ".join(dict.fromkeys(self.type_of(one) for one in found["oneOf"]))
        kind = found.get("type")
        if kind == "array":
            return f"Iterable[{self.type_of(found.get('items', {}))}]"
        if kind == "object":
            items = found.get("additionalProperties")
            return f"Mapping[str, {self.type_of(items) if isinstance(items, dict) else 'Any'}]"
        if "const" in found:
            return type(found["const"]).__name__
        return PLAIN.get(str(kind), "Any")

    def said_of(self, node: dict[str, Any]) -> str:
        """The description of a member, its own or that of the part it refers to."""
        return str(node.get("description") or self.resolved(node).get("description", ""))


def is_record(part: dict[str, Any]) -> bool:
    """Whether a part of the schema is an object with members of its own."""
    return "properties" in part


def class_name(part: str) -> str:
    """The name of the type for a part of the schema."""
    return "".join(word.capitalize() for word in part.split("_")) + "Members"


def module() -> str:
    """The module."""
    schema = Schema()
    records = {name: part for name, part in schema.parts.items() if is_record(part) or "$ref" in part}
    records = {name: part for name, part in records.items() if is_record(schema.resolved(part))}
    lines = [LICENCE + f'"""The members of model files as types: what ModelBuilder takes.\n\n{NOTE}\n"""\n']
    lines += ["from __future__ import annotations\n", "from collections.abc import Iterable, Mapping"]
    lines += ["from typing import Any, TypedDict\n\n"]
    header = {
        name: member
        for name, member in schema.whole["properties"].items()
        if name not in ("$schema", "format", "format_version", "name", "order", *ADDED) and not is_whole(schema, member)
    }
    lines.append(_definition(schema, "HeaderMembers", "TypedDict", header, "the model as a whole"))
    for name, part in records.items():
        base = class_name(part["$ref"].rsplit("/", 1)[-1]) if "$ref" in part else "TypedDict"
        members = {key: one for key, one in part.get("properties", {}).items() if key != "name"}
        about = f"{'an' if name[0] in 'aeio' else 'a'} {name.replace('_', ' ')}"
        lines.append(_definition(schema, class_name(name), base, members, about))
    return "\n\n\n".join(["\n".join(lines[:4]), *lines[4:]]) + "\n"


def is_whole(schema: Schema, member: dict[str, Any]) -> bool:
    """Whether the model has one of this kind: a check after repairs, a comeback."""
    return is_record(schema.resolved(member))


def _definition(schema: Schema, name: str, base: str, members: dict[str, Any], about: str) -> str:
    told = [f"{key}: {schema.said_of(one)}" for key, one in members.items() if schema.said_of(one)]
    text = docstring([f"What a model file says of {about}.", " ".join(map(sentence, told))], "    ")
    plain = all(key.isidentifier() and key not in ("from", "is") for key in members)
    if not plain:
        listed = ", ".join(f'"{key}": "{schema.type_of(one)}"' for key, one in members.items())
        return f'{name} = TypedDict("{name}", {{{listed}}}, total=False)'
    body = "\n".join(f"    {key}: {schema.type_of(one)}" for key, one in members.items())
    return f"class {name}({base}, total=False):\n{text}\n" + (f"\n{body}" if body else "")
