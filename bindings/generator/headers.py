# SPDX-License-Identifier: BSD-3-Clause
"""What the public headers declare: records, enumerations, functions and classes, with their comments.

Read with libclang, which is needed here alone: building the package takes the files that were written from it.
"""

from __future__ import annotations

import re
import subprocess
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from clang.cindex import Cursor, CursorKind, Index, TranslationUnit

SOURCE = Path(__file__).parents[2]
INCLUDE = SOURCE / "include"
UMBRELLA = "faultodds/faultodds.hpp"
ALSO_PUBLIC = (
    "faultodds/model/work.hpp",
    "faultodds/model/stop.hpp",
    "faultodds/inference/finding.hpp",
    "faultodds/inference/junction_tree/tree_shape.hpp",
    "faultodds/io/model_file.hpp",
    "faultodds/report/flow_chart_texts.hpp",
    "faultodds/report/flow_chart.hpp",
    "faultodds/report/job_report.hpp",
)
"""Headers with public declarations that the umbrella header does not name itself."""


@dataclass(frozen=True)
class Field:
    """A data member: its type as it is written, and its initialiser ("" without one)."""

    name: str
    type: str
    default: str
    doc: str


@dataclass(frozen=True)
class Parameter:
    """A parameter of a function: its type as it is written, and its default ("" without one)."""

    name: str
    type: str
    default: str


@dataclass(frozen=True)
class Function:
    """A function, or a member function."""

    name: str
    header: str
    doc: str
    returns: str
    parameters: tuple[Parameter, ...]


@dataclass(frozen=True)
class Record:
    """A structure or a class; `fields` are its public data members."""

    name: str
    header: str
    doc: str
    fields: tuple[Field, ...]
    members: tuple[Function, ...]
    is_class: bool


@dataclass(frozen=True)
class Enumeration:
    """An enumeration, its values in order with their comments."""

    name: str
    header: str
    doc: str
    values: tuple[tuple[str, str], ...]


@dataclass
class Headers:
    """Everything that the public headers declare in the namespace faultodds itself."""

    records: dict[str, Record] = field(default_factory=dict)
    enumerations: dict[str, Enumeration] = field(default_factory=dict)
    functions: dict[str, list[Function]] = field(default_factory=dict)
    aliases: dict[str, str] = field(default_factory=dict)


def system_folders() -> list[str]:
    """The folders in which the C++ compiler looks for <...>."""
    said = subprocess.run(
        ["c++", "-std=c++20", "-x", "c++", "-E", "-v", "/dev/null"], capture_output=True, text=True, check=True
    ).stderr
    listed = said.split("#include <...> search starts here:")[1].split("End of search list.")[0]
    return [line.strip() for line in listed.splitlines() if line.strip()]


def eigen_folder() -> str:
    """Where Eigen is, as pkg-config knows it or as systems have it."""
    told = subprocess.run(["pkg-config", "--cflags-only-I", "eigen3"], capture_output=True, text=True, check=False)
    return told.stdout.strip().removeprefix("-I") or "/usr/include/eigen3"


def public_headers() -> list[str]:
    """The headers that make the public face, relative to include/."""
    return list(dict.fromkeys([*_named_by(UMBRELLA), *ALSO_PUBLIC]))


def _named_by(umbrella: str) -> Iterator[str]:
    """The headers that an umbrella header names; those that declare nothing themselves name others in turn."""
    text = (INCLUDE / umbrella).read_text(encoding="utf-8")
    for name in re.findall(r'#include "(faultodds/[^"]+)"', text):
        if "namespace faultodds" in (INCLUDE / name).read_text(encoding="utf-8"):
            yield name
        else:
            yield from _named_by(name)


def read_headers() -> Headers:
    """Read the public headers. Raises RuntimeError if they do not compile."""
    public = public_headers()
    text = "".join(f'#include "{header}"\n' for header in public)
    arguments = ["-x", "c++", "-std=c++20", "-DEIGEN_DONT_VECTORIZE", f"-I{INCLUDE}", f"-isystem{eigen_folder()}"]
    arguments += [f"-isystem{folder}" for folder in system_folders()]
    unit = Index.create().parse(
        "faces.cpp",
        arguments,
        unsaved_files=[("faces.cpp", text)],
        options=TranslationUnit.PARSE_SKIP_FUNCTION_BODIES,
    )
    # The intrinsics of g++ are known to clang by themselves; nothing of ours uses them.
    told = (found for found in unit.diagnostics if found.severity >= found.Error)
    errors = [str(found) for found in told if "definition of builtin function" not in found.spelling]
    if errors:
        raise RuntimeError("the headers do not compile:\n" + "\n".join(errors[:10]))
    headers = Headers()
    for cursor in _declared(unit.cursor):
        header = _header_of(cursor)
        if header in public:
            _take(headers, cursor, header)
    return headers


def _declared(top: Cursor) -> Iterator[Cursor]:
    for cursor in top.get_children():
        if cursor.kind == CursorKind.NAMESPACE and cursor.spelling == "faultodds":
            yield from cursor.get_children()


def _header_of(cursor: Cursor) -> str:
    file = cursor.location.file
    path = Path(file.name) if file else Path("/")
    return str(path.relative_to(INCLUDE)) if path.is_relative_to(INCLUDE) else ""


def _take(headers: Headers, cursor: Cursor, header: str) -> None:
    name = cursor.spelling
    if cursor.kind in (CursorKind.STRUCT_DECL, CursorKind.CLASS_DECL) and cursor.is_definition():
        headers.records[name] = _record(cursor, header)
    elif cursor.kind == CursorKind.ENUM_DECL and cursor.is_definition():
        values = tuple((one.spelling, comment(one)) for one in cursor.get_children())
        headers.enumerations[name] = Enumeration(name, header, comment(cursor), values)
    elif cursor.kind == CursorKind.TYPE_ALIAS_DECL:
        headers.aliases[name] = cursor.underlying_typedef_type.spelling
    elif cursor.kind == CursorKind.FUNCTION_DECL and not name.startswith("operator"):
        made = _function(cursor, header)
        known = headers.functions.setdefault(name, [])
        types = [one.type for one in made.parameters]
        if all([one.type for one in other.parameters] != types for other in known):
            known.append(made)


def _record(cursor: Cursor, header: str) -> Record:
    fields = []
    members = []
    for child in cursor.get_children():
        if child.access_specifier.name != "PUBLIC":
            continue
        if child.kind == CursorKind.FIELD_DECL:
            fields.append(Field(child.spelling, child.type.spelling, _initialiser(child), comment(child)))
        elif child.kind == CursorKind.CXX_METHOD and not child.spelling.startswith("operator"):
            members.append(_function(child, header))
    is_class = cursor.kind == CursorKind.CLASS_DECL
    return Record(cursor.spelling, header, comment(cursor), tuple(fields), tuple(members), is_class)


def _function(cursor: Cursor, header: str) -> Function:
    parameters = tuple(Parameter(one.spelling, one.type.spelling, _initialiser(one)) for one in cursor.get_arguments())
    return Function(cursor.spelling, header, comment(cursor), cursor.result_type.spelling, parameters)


def _initialiser(cursor: Cursor) -> str:
    tokens = [token.spelling for token in cursor.get_tokens()]
    for start, token in enumerate(tokens):
        if token == "=":
            return " ".join(tokens[start + 1 :])
        if token == "{" and start > 0 and tokens[start - 1] == cursor.spelling:
            return " ".join(tokens[start:])
    return ""


def comment(cursor: Cursor) -> str:
    """The comment of a declaration, its lines joined to paragraphs."""
    lines = [re.sub(r"^\s*///<?\s?", "", line) for line in (cursor.raw_comment or "").splitlines()]
    paragraphs: list[list[str]] = [[]]
    for line in lines:
        if not line.strip() or line.startswith("- "):
            paragraphs.append([])
        if line.strip():
            paragraphs[-1].append(line.strip())
    return "\n\n".join(" ".join(one) for one in paragraphs if one)
