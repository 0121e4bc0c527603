# SPDX-License-Identifier: BSD-3-Clause
"""Writes the modules of functions, the face of the package, and the stub of its compiled part."""

from __future__ import annotations

import re

from generator.calls import Call, passed, signature, stub
from generator.described_calls import FUNCTIONS
from generator.face import CLASSES, DOC, ELSEWHERE
from generator.python_records import LICENCE, NOTE, ROOM_TITLES, ROOMS, docstring, room_of, sentence
from generator.translation import Translation

TYPING = ("Any", "Protocol", "SupportsFloat", "SupportsIndex")
ABSTRACT = ("Callable", "Iterable", "Mapping")
LONG = 300
"""Letters from which on a paragraph gets its first sentence as a summary."""


def calls_in(translation: Translation, room: str) -> list[Call]:
    """The functions of a room."""
    made = [Call(translation, name) for name in FUNCTIONS]
    return [one for one in made if room_of(one.declared.header) == room]


def imports(text: str, homes: dict[str, str]) -> list[str]:
    """The imports that a text needs."""
    used = set(re.findall(r"\b[A-Za-z_]\w*\b", re.sub(r'"""(.|\n)*?"""', "", text)))
    lines = []
    for module, names in (("collections.abc", ABSTRACT), ("os", ("PathLike",)), ("typing", TYPING)):
        wanted = [name for name in names if name in used]
        if wanted:
            lines.append(f"from {module} import {', '.join(wanted)}")
    if lines:
        lines.append("")
    if "_core." in text:
        lines.append("from faultodds import _core")
    compiled = [name for name in CLASSES if name in used]
    if compiled and "_core." in text:
        lines.append(f"from faultodds._core import {', '.join(compiled)}")
    records = sorted(name for name in used if name in homes and name not in CLASSES)
    if records:
        lines.append(f"from faultodds.records import {', '.join(records)}")
    return lines


def module(translation: Translation, room: str, homes: dict[str, str]) -> str:
    """The functions of a room."""
    body = "\n\n\n".join(_definition(call) for call in calls_in(translation, room))
    head = [LICENCE + f'"""{ROOM_TITLES[room]}: functions.\n\n{NOTE}\n"""\n', "from __future__ import annotations\n"]
    return "\n".join([*head, *imports(body, homes), "", "", body, ""])


def _definition(call: Call) -> str:
    about = " ".join(sentence(f"{one.name}: {one.doc}") for one in call.arguments() if one.doc)
    paragraphs = [*call.doc(), about] if about else call.doc()
    first = paragraphs[0].split(". ", 1)
    if len(paragraphs) > 1 and len(first) > 1 and len(paragraphs[0]) > LONG:
        paragraphs = [sentence(first[0]), first[1], *paragraphs[1:]]
    hand = f"return _core._{call.name}({passed(call)})"
    text = docstring(paragraphs, "    ")
    return f"def {call.name}({signature(call)}) -> {call.returns()}:\n{text}\n    {hand}"


def core_stub(translation: Translation, classes: str, homes: dict[str, str]) -> str:
    """The stub of the compiled part: its classes, written by hand, and what the functions call."""
    options = translation.keywords(translation.headers.records["SolverOptions"])
    solver = "\n".join(f"        {one.name}: {one.type} = {one.default}," for one in options)
    classes = classes.replace("        {SolverOptions}", solver)
    calls = [stub(Call(translation, name)) for name in sorted(FUNCTIONS)]
    body = "\n".join([classes.removeprefix(LICENCE).rstrip(), "", *calls, ""])
    about = LICENCE + f"# {NOTE}\n# Its classes: bindings/generator/core_classes.pyi.in."
    return "\n".join([about, *_stub_imports(body, homes), "", body])


def _stub_imports(body: str, homes: dict[str, str]) -> list[str]:
    lines = imports(body, homes)
    used = set(re.findall(r"\b[A-Za-z_]\w*\b", body))
    more = {"collections.abc": ("Iterator",), "types": ("TracebackType",), "typing": ("ClassVar", "final")}
    for module_name, names in more.items():
        wanted = [name for name in names if name in used]
        if wanted:
            lines.insert(0, f"from {module_name} import {', '.join(wanted)}")
    lines.insert(0, "from typing_extensions import Buffer, Self")
    return lines


def face(translation: Translation, record_names: list[str]) -> str:
    """The face of the package."""
    functions = {room: [one.name for one in calls_in(translation, room)] for room in ROOMS}
    lines = [LICENCE + f'"""{DOC}"""\n', f"# {NOTE}\n"]
    compiled = [*CLASSES, "__version__", "build_info", "stopping", "time_limit"]
    lines.append(f"from faultodds._core import {', '.join(compiled)}")
    lines.append("from faultodds import display")
    lines += [f"from faultodds.{name} import {', '.join(names)}" for name, names in ELSEWHERE.items()]
    lines += [f"from faultodds.calls.{room} import {', '.join(names)}" for room, names in functions.items() if names]
    lines.append(f"from faultodds.records import {', '.join(record_names)}")
    everything = [*compiled, *record_names]
    everything += [name for names in [*ELSEWHERE.values(), *functions.values()] for name in names]
    listed = ",\n".join(f'    "{name}"' for name in sorted(set(everything)))
    return "\n".join([*lines, "", f"__all__ = [\n{listed},\n]", "", "display.attach()", ""])
