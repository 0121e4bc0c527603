# SPDX-License-Identifier: BSD-3-Clause
"""Functions in Python: their arguments, and what calls them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from generator.described_calls import FUNCTIONS
from generator.described_records import OPTIONS
from generator.headers import Function, Parameter
from generator.rules import Called, Count, Named, Table, Variable
from generator.translation import DescriptionError, Translation, item_of, python_name, rule_for, stripped

SUBJECTS = {
    "Case": ("case", "Case"),
    "FaultModel": ("model", "FaultModel"),
    "Solver": ("solver", "Solver"),
    "TroubleshootingProblem": ("problem", "TroubleshootingProblem | CaseProblem"),
}
LEFT_OUT = {"Stop"}
"""Parameters that Python does without: Ctrl-C and time_limit stop the work."""


@dataclass(frozen=True)
class Argument:
    """An argument in Python. declared: the parameter of C++ behind it; options: it goes into their dictionary."""

    name: str
    type: str
    default: str
    doc: str = ""
    keyword: bool = False
    options: bool = False


class Call:
    """A function with the description applied."""

    def __init__(self, translation: Translation, name: str) -> None:
        if name not in translation.headers.functions:
            raise DescriptionError(f"{name}: described, but no public header declares it")
        self.translation = translation
        self.name = name
        self.said: Called = FUNCTIONS[name]
        self.declared: Function = translation.headers.functions[name][self.said.overload]

    def arguments(self) -> list[Argument]:
        """The arguments in Python, in their order."""
        if self.said.signature is not None:
            return self._given(self.said.signature)
        made: list[Argument] = []
        for one in self.parameters():
            kind = stripped(one.type)
            if kind in OPTIONS:
                made += self._options(kind)
            else:
                made.append(self._argument(one))
        return made

    def parameters(self) -> list[Parameter]:
        """The parameters in C++ that Python has something for."""
        return [one for one in self.declared.parameters if stripped(one.type) not in LEFT_OUT]

    def _given(self, signature: Mapping[str, tuple[str, str]]) -> list[Argument]:
        made: list[Argument] = []
        keyword = False
        for name, (kind, default) in signature.items():
            if name == "*":
                keyword = True
            elif kind in OPTIONS:
                made += self._options(kind)
                keyword = True
            else:
                made.append(Argument(name, kind, default, keyword=keyword))
        return made

    def _options(self, kind: str) -> list[Argument]:
        options = self.translation.headers.records[kind]
        by_place = OPTIONS[kind].by_place
        return [
            Argument(
                one.name,
                one.type,
                "" if one.name in by_place else one.default,
                one.doc,
                keyword=one.name not in by_place,
                options=True,
            )
            for one in self.translation.keywords(options)
        ]

    def _argument(self, one: Parameter) -> Argument:
        kind = stripped(one.type)
        if kind in SUBJECTS:
            return Argument(SUBJECTS[kind][0], SUBJECTS[kind][1], "")
        place = f"{self.name}({one.name})"
        rule = rule_for(one.type, self.said.arguments.get(one.name))
        default = self.translation.default(one.type, one.default) if one.default else ""
        annotation = self.translation.python_type(one.type, rule or Count(), argument=True, place=place)
        if default and kind in self.translation.headers.records:
            annotation, default = f"{annotation} | None", "None"
        if rule is None and annotation == "SupportsIndex":
            self._require_count(one.name)
        return Argument(python_name(one.name), annotation, default)

    def _require_count(self, name: str) -> None:
        if name not in ("count", "most", "depth"):
            raise DescriptionError(f"{self.name}({name}): say in bindings/generator/described_calls.py what it is")

    def returns(self) -> str:
        """The annotation of the result."""
        if self.said.returns:
            return self.said.returns
        kind = stripped(self.declared.returns)
        if kind == "void":
            return "None"
        if kind in SUBJECTS and kind != "TroubleshootingProblem":
            return kind
        hand = kind in self.translation.headers.records
        if hand:
            return kind
        if isinstance(self.said.gives, Table):
            return f"{self.said.gives.type}[{item_of(kind)}]"
        return self.translation.python_type(
            kind, rule_for(kind, self.said.gives), argument=False, place=f"{self.name}()"
        )

    def doc(self) -> list[str]:
        """The paragraphs of the docstring."""
        own = self.said.doc
        if own and own[0] not in "+=":
            return [" ".join(part.split()) for part in own.split("\n\n")]
        said = self.declared.doc
        if own.startswith("="):
            said = self.translation.headers.functions[own[1:]][0].doc
        if not said and self.said.overload:
            said = self.translation.headers.functions[self.name][0].doc
        if not said and self.returns() in self.translation.headers.records:
            said = self.translation.headers.records[self.returns()].doc
        if not said:
            raise DescriptionError(f"{self.name}: needs a comment in {self.declared.header}")
        if said.startswith("The same") and len(self.translation.headers.functions[self.name]) > 1 and not own:
            said = self.translation.headers.functions[self.name][0].doc
        paragraphs = said.split("\n\n")
        if own.startswith("+"):
            paragraphs.append(own[1:])
        return paragraphs


def signature(call: Call) -> str:
    """The arguments as a definition has them."""
    parts = []
    star = False
    for one in call.arguments():
        if one.keyword and not star:
            parts.append("*")
            star = True
        parts.append(f"{one.name}: {one.type}" + (f" = {one.default}" if one.default else ""))
    return ", ".join(parts)


def passed(call: Call) -> str:
    """What the definition hands on: its arguments by place, and options as a dictionary of those."""
    plain = [one.name for one in call.arguments() if not one.options]
    if not has_options(call):
        return ", ".join(plain)
    options = ", ".join(f'"{one.name}": {one.name}' for one in call.arguments() if one.options)
    return ", ".join([*plain, f"{{{options}}}"])


def has_options(call: Call) -> bool:
    """Whether some arguments are options."""
    return any(one.options for one in call.arguments())


def stub(call: Call) -> str:
    """What the compiled part declares."""
    parts = [f"{one.name}: {one.type}" for one in call.arguments() if not one.options]
    if has_options(call):
        parts.append("options: dict[str, Any]")
    slash = [*parts, "/"] if parts else []
    return f"def _{call.name}({', '.join(slash)}) -> {call.returns()}: ..."


def binding(call: Call) -> str:
    """C++ that binds a function whose arguments follow from its declaration."""
    parameters, lines, handed, last = [], [], [], []
    subject = ""
    for one in call.declared.parameters:
        kind = stripped(one.type)
        if kind in LEFT_OUT:
            handed.append("subject.stop()" if subject == "Case" else "thread_stop()")
            continue
        if kind in SUBJECTS and not subject:
            subject = kind
            parameters.append(
                {"Case": "HeldCase& held", "TroubleshootingProblem": "py::handle given"}.get(
                    kind, f"const {kind}& subject"
                )
            )
            handed.append({"TroubleshootingProblem": "held.problem"}.get(kind, "subject"))
        elif kind in OPTIONS:
            last.append("const py::dict& options_given")
            lines.append(f"const auto {one.name} = options_from<{kind}>(in, options_given);")
            handed.append(one.name)
        else:
            parameters.append(f"py::handle {one.name}_given")
            lines += _read(call, one)
            handed.append(one.name)
    names = {
        "Case": "const Names in(held.current.model());",
        "FaultModel": "const Names in(subject);",
        "Solver": "const Names in(subject.model());",
        "TroubleshootingProblem": "const HeldProblem held = problem_from(given);\nconst Names in = "
        "held.names().reading();",
        "": "const Names in;",
    }[subject]
    work = f"{call.name}({', '.join(handed)})"
    done = (
        f"const auto made = locked(held, [&](const Case& subject) {{ return {work}; }});"
        if subject == "Case"
        else f"const auto made = unlocked([&] {{ return {work}; }});"
    )
    body = "\n".join([names, *lines, done, f"return {_given(call)};"])
    return f'module.def("_{call.name}", []({", ".join([*parameters, *last])}) {{\n{body}\n}});'


def _read(call: Call, one: Parameter) -> list[str]:
    kind = stripped(one.type)
    item = item_of(kind)
    held = f"std::vector<{item}>" if item else {"std::string_view": "std::string"}.get(kind, kind)
    rule = rule_for(one.type, call.said.arguments.get(one.name))
    take = call.translation.take(rule, f"{one.name}_given", python_name(one.name), one.name)
    if one.default and kind in call.translation.headers.records:
        take = f"if (!{one.name}_given.is_none()) {take}"
    return [f"{held} {one.name}{{}};", f"{take};"]


def _given(call: Call) -> str:
    gives = rule_for(call.declared.returns, call.said.gives)
    if isinstance(gives, Variable):
        return "variable_name(in, made)"
    if isinstance(gives, Named):
        return f"name_at(in, Kind::{gives.kind}, made)"
    if isinstance(gives, Table):
        return "table_of(in, made)"
    return "to_python(in, made)"
