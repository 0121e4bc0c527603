# SPDX-License-Identifier: BSD-3-Clause
"""Writes the modules of records: immutable dataclasses with the comments of C++ as their documentation."""

from __future__ import annotations

import re
import textwrap

from generator.described_records import RECORDS, SEQUENCES
from generator.headers import Enumeration, Record
from generator.rules import Inline
from generator.translation import DescriptionError, Member, Translation

WIDTH = 120
LICENCE = "# SPDX-License-Identifier: BSD-3-Clause\n"
NOTE = "Written by bindings/generate.py from include/faultodds: not to be changed by hand."
ROOMS = ("model", "io", "inference", "ranking", "evidence", "planning", "work", "report", "job")
ROOM_TITLES = {
    "model": "What a fault model says",
    "io": "Model files",
    "inference": "Findings and posteriors",
    "ranking": "Tests in rank order, and what leads",
    "evidence": "Weights of evidence, and what findings have to do with one another",
    "planning": "Planning problems and policy trees",
    "work": "Costs, and the means at hand",
    "report": "Flow charts and reports",
    "job": "One vehicle from complaint to end",
}
BY_HAND = {
    "Records": "sequence",
    "Posteriors": "posteriors",
    "StateProbability": "posteriors",
    "Finding": "posteriors",
    "JointPosterior": "posteriors",
    "JointProbability": "posteriors",
    "TableRow": "results",
    "ConflictOfFinding": "results",
    "Explanation": "results",
    "Explanations": "results",
    "SampledPosteriors": "results",
    "StateEstimate": "results",
    "Repaired": "results",
}


def room_of(header: str) -> str:
    """The room that a header belongs to; what decides is split further."""
    parts = header.split("/")
    return parts[2] if parts[1] == "decision" else parts[1]


def from_cpp(text: str) -> str:
    """A comment of C++ in the words of Python."""
    text = re.sub(r"\b([Tt])hrows\b", lambda found: ("R" if found[1] == "T" else "r") + "aises", text)
    text = re.sub(r"\bstd::nullopt\b", "None", text)
    text = re.sub(r"(^|: |; )nothing: ", r"\1None: ", text)
    return text.replace("true:", "True:").replace("`current`", "`case`")


def docstring(paragraphs: list[str], indent: str) -> str:
    """A docstring within the width of the sources."""
    text = [from_cpp(one) for one in paragraphs if one]
    if text[0].startswith('"'):
        text[0] = f"Gives {text[0]}"
    inside = "\n\n".join(
        textwrap.fill(one, WIDTH - len(indent), break_long_words=False, break_on_hyphens=False) for one in text
    )
    first, *rest = inside.split("\n")
    if len(first) + len(indent) + 3 > WIDTH or (not rest and len(first) + len(indent) + 6 > WIDTH):
        inside = textwrap.fill(text[0], WIDTH - len(indent) - 6, break_long_words=False, break_on_hyphens=False)
        inside = "\n\n".join([inside, *(_filled(one, indent) for one in text[1:])])
    lines = inside.split("\n")
    quoted = "\n".join([lines[0], *(f"{indent}{line}".rstrip() for line in lines[1:])])
    quote = 'r"""' if "\\" in quoted else '"""'
    end = f'\n{indent}"""' if "\n" in quoted else '"""'
    closing = " " if quoted.endswith('"') and "\n" not in quoted else ""
    return f"{indent}{quote}{quoted}{closing}{end}"


def _filled(text: str, indent: str) -> str:
    return textwrap.fill(text, WIDTH - len(indent), break_long_words=False, break_on_hyphens=False)


def sentence(text: str) -> str:
    """The text with a full stop."""
    return text if not text or text.endswith((".", ":", "!", "?")) else f"{text}."


def member_lines(members: list[Member]) -> list[str]:
    """What is said of members, a line each."""
    return [sentence(f"{one.name}: {one.doc}") for one in members if one.doc]


class Module:
    """One module of records, for one room."""

    def __init__(self, translation: Translation, room: str) -> None:
        self.translation = translation
        self.room = room
        self.records = [one for one in translation.records if room_of(one.header) == room]
        self.enumerations = [one for one in translation.enumerations if room_of(one.header) == room]

    def names(self) -> list[str]:
        """What the module defines."""
        made = [*(one.name for one in self.enumerations), *(one.name for one in self.records)]
        return made + [name for name, (of, _) in SEQUENCES.items() if of in made]

    def text(self, home: dict[str, str]) -> str:
        """The module. home: the module of each name."""
        body = "\n\n\n".join([*map(self._enumeration, self.enumerations), *map(self._record, self._ordered())])
        used = set(re.findall(r"\b[A-Z]\w+\b", re.sub(r'"""(.|\n)*?"""', "", body)))
        imports = []
        for module in dict.fromkeys(home.values()):
            wanted = sorted(name for name in used if home.get(name) == module)
            if wanted and module != self.room:
                imports.append(f"from faultodds.records.{module} import {', '.join(wanted)}")
        typing = sorted(used & {"Any", "ClassVar", "Literal", "TypeAlias"})
        head = [LICENCE + f'"""{ROOM_TITLES[self.room]}.\n\n{NOTE}\n"""\n', "from __future__ import annotations\n"]
        abstract = sorted(used & {"Iterable", "Mapping"})
        if abstract:
            head.append(f"from collections.abc import {', '.join(abstract)}")
        head.append("from dataclasses import dataclass" + (", field" if "field(" in body else ""))
        if typing:
            head.append(f"from typing import {', '.join(typing)}")
        return "\n".join([*head, "", *sorted(imports), "", "", body, ""])

    def _ordered(self) -> list[Record]:
        """Records in an order in which defaults and bases are there before they are used."""
        done: list[Record] = []
        left = list(self.records)
        names = {one.name for one in left}
        while left:
            for record in left:
                needed = {
                    found
                    for member in self.translation.members(record)
                    for found in re.findall(r"\w+", member.type)
                    if found in names and found != record.name
                }
                if needed <= {one.name for one in done}:
                    done.append(record)
                    left.remove(record)
                    break
            else:
                raise ValueError(f"records in a circle: {[one.name for one in left]}")
        return done

    def _enumeration(self, one: Enumeration) -> str:
        values = ", ".join(f'"{name}"' for name, _ in one.values)
        said = [one.doc or "One of these."] + [f"{name}: {doc}." for name, doc in one.values if doc]
        return f"{one.name}: TypeAlias = Literal[{values}]\n" + docstring(said, "")

    def _record(self, record: Record) -> str:
        said = self.translation.described(record)
        members = self.translation.members(record)
        bases = [name for name in (said.base, "ListsAsTuples" if said.any_list else "") if name]
        base = f"({', '.join(bases)})" if bases else ""
        lines = ["@dataclass(frozen=True)", f"class {record.name}{base}:"]
        if not record.doc:
            raise DescriptionError(f"{record.name}: needs a comment in {record.header}")
        about = [record.doc, " ".join(member_lines(members))]
        lines += [docstring(about, "    "), ""]
        if record.name.startswith("Test"):
            lines += ["    __test__: ClassVar[bool] = False  # not a test case, whatever pytest makes of the name", ""]
        lines += [f"    {self._member(record, one)}" for one in members]
        for declared in record.fields:
            if isinstance(said.fields.get(declared.name), Inline):
                lines += ["", self._rebuilt(declared.name, declared.type)]
        made = "\n".join(lines)
        for name, (of, doc) in SEQUENCES.items():
            if of == record.name:
                made += f'\n\n\nclass {name}(Records[{of}]):\n    """{doc}"""\n\n    __slots__ = ()'
        return made

    def _rebuilt(self, name: str, kind: str) -> str:
        within = self.translation.members(self.translation.headers.records[kind])
        values = ", ".join(f"self.{one.name}" for one in within)
        return (
            f"    @property\n    def {name}(self) -> {kind}:\n"
            f'        """The {name} by itself."""\n        return {kind}({values})'
        )

    def _member(self, record: Record, member: Member) -> str:
        said = self.translation.described(record)
        options = []
        default = member.default
        if default is not None:
            if default == "{}":
                options.append("default_factory=dict")
            elif default.endswith("()") and default != "()":
                options.append(f"default_factory={default.removesuffix('()')}")
            else:
                options.append(f"default={default}")
        if member.name in said.quiet:
            options.append("repr=False")
        if member.type.startswith("Mapping"):
            options.append("hash=False")
        if member.name in said.columns:
            options.append(f'metadata={{"column": "{said.columns[member.name]}"}}')
        plain = len(options) == 1 and options[0].startswith("default=")
        if not options:
            return f"{member.name}: {member.type}"
        if plain:
            return f"{member.name}: {member.type} = {default}"
        return f"{member.name}: {member.type} = field({', '.join(options)})"


def bases() -> dict[str, str]:
    """Classes of records/behaviour.py that records build on."""
    return {"ListsAsTuples": "behaviour", **{said.base: "behaviour" for said in RECORDS.values() if said.base}}


def face(homes: dict[str, str]) -> str:
    """records/__init__.py: all records in one place."""
    about = (
        "Results as plain records.\n\n"
        "One rule serves all results: a result is a sequence of frozen records, one record is one row, `to_frame()` "
        "gives\nthe same rows as a pandas data frame (pandas is only needed, and only imported, there). Variables and "
        "states appear by\ntheir names; labels, for people, stand beside them.\n\n"
        f"{NOTE}\n"
    )
    lines = [LICENCE + f'"""{about}"""\n']
    for module in dict.fromkeys(homes.values()):
        names = sorted(name for name, home in homes.items() if home == module)
        lines.append(f"from faultodds.records.{module} import {', '.join(names)}")
    listed = ",\n".join(f'    "{name}"' for name in sorted(homes))
    return "\n".join([*lines, "", f"__all__ = [\n{listed},\n]", ""])
