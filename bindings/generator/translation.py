# SPDX-License-Identifier: BSD-3-Clause
"""Records and options as Python has them: the declarations in C++ with the rules applied. Both writers follow it."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from keyword import iskeyword

from generator.described_records import AS_RECORDS, OPTIONS, RECORDS
from generator.exceptions import HAND_WRITTEN, NOT_IN_PYTHON
from generator.headers import Field, Headers, Record
from generator.rules import (
    Count,
    Described,
    Extra,
    Hidden,
    Inline,
    Marked,
    Named,
    Options,
    Own,
    Rule,
    State,
    Table,
    Variable,
)

NUMBER = "SupportsFloat | SupportsIndex"
SIMPLE = {
    "double": ("float", NUMBER),
    "bool": ("bool", "bool"),
    "std::string": ("str", "str"),
    "std::string_view": ("str", "str"),
    "Name": ("str", "str"),
    "std::filesystem::path": ("str", "str"),
}
# What an index of the model is, where nothing else is said. That of a state needs to know of which variable.
INDICES: dict[str, Rule] = {
    "VariableIndex": Variable(),
    "RepairIndex": Named("model_repair"),
    "HandOverIndex": Named("hand_over"),
}
WHOLE = {"std::size_t", "std::uint64_t", "std::int64_t", "std::int32_t", "std::uint32_t", "int", "StateIndex", *INDICES}


class DescriptionError(Exception):
    """The description does not fit the headers."""


@dataclass(frozen=True)
class Member:
    """A member of a record in Python. give, take: C++ that makes it of `one`, and reads `into` from `record`."""

    name: str
    type: str
    doc: str
    give: str
    take: str
    default: str | None
    argument: bool = False
    declared: str = ""


@dataclass(frozen=True)
class Keyword:
    """An option as a keyword argument. way: to the member of the options; take: C++ that reads `value`."""

    name: str
    type: str
    default: str
    doc: str
    take: str
    way: str


def python_name(name: str) -> str:
    """The name in Python: words that Python keeps for itself get an underscore."""
    return f"{name}_" if iskeyword(name) else name


def stripped(cpp: str) -> str:
    """A type without const and references."""
    return re.sub(r"^const | ?&+$|^const ", "", cpp).strip()


def inner(cpp: str, template: str) -> str | None:
    """The argument of a template, or None for another type."""
    found = re.fullmatch(rf"std::{template}<(.*)>", stripped(cpp))
    return found[1].removeprefix("const ").strip() if found else None


def rule_for(cpp: str, said: Rule | None) -> Rule | None:
    """What is said of a value, or what its type says."""
    kind = stripped(cpp)
    return said or INDICES.get(inner(kind, "optional") or item_of(kind) or kind)


def item_of(cpp: str) -> str | None:
    """The type of the entries of a list."""
    return inner(cpp, "vector") or inner(cpp, "span")


class Translation:
    """The headers with the description applied."""

    def __init__(self, headers: Headers) -> None:
        self.headers = headers
        for name in ("StateIndex", *INDICES):
            headers.aliases.pop(name, None)
        options = set(OPTIONS)
        self.records = [
            one
            for one in headers.records.values()
            if not one.is_class
            and one.name not in NOT_IN_PYTHON
            and (one.name not in options or one.name in AS_RECORDS)
        ]
        self.options = [headers.records[name] for name in OPTIONS if name in headers.records]
        self.enumerations = [one for one in headers.enumerations.values() if one.name not in NOT_IN_PYTHON]
        for name in [*RECORDS, *OPTIONS]:
            if name not in headers.records:
                raise DescriptionError(f"{name}: described, but no public header declares it")
        for record in headers.records.values():
            self._require_known(record)

    def described(self, record: Record) -> Described:
        """What is said of a record."""
        if record.name in OPTIONS:
            return Described(OPTIONS[record.name].fields)
        return RECORDS.get(record.name, Described())

    def _require_known(self, record: Record) -> None:
        said = self.described(record)
        names = {one.name for one in record.fields}
        unknown = sorted(set(said.fields) - names)
        if unknown:
            raise DescriptionError(f"{record.name}: described, but not declared: {', '.join(unknown)}")

    def python_type(self, cpp: str, rule: Rule | None, *, argument: bool, place: str) -> str:
        """The annotation of a value of this type. Raises DescriptionError for a whole number without a rule."""
        kind = stripped(self.headers.aliases.get(stripped(cpp), cpp))
        several = "Iterable[{}]" if argument else "tuple[{}, ...]"
        item = item_of(kind)
        if isinstance(rule, Marked):
            return several.format("str")
        if isinstance(rule, Table) and not argument and item:
            return rule.type if rule.type != "Records" else f"Records[{item}]"
        if item == "Gate":
            return "Mapping[str, Iterable[str]]" if argument else "Mapping[str, tuple[str, ...]]"
        if item:
            return several.format(self.python_type(item, rule, argument=argument, place=place))
        maybe = inner(kind, "optional")
        if maybe:
            return f"{self.python_type(maybe, rule, argument=argument, place=place)} | None"
        any_of = inner(kind, "variant")
        if any_of:
            return " | ".join(one.strip() for one in any_of.split(","))
        return self._single_type(kind, rule, argument=argument, place=place)

    def _single_type(self, kind: str, rule: Rule | None, *, argument: bool, place: str) -> str:
        if kind in WHOLE:
            if isinstance(rule, Count):
                return "SupportsIndex" if argument else "int"
            if isinstance(rule, Variable | State | Named):
                return "str"
            raise DescriptionError(f"{place}: say in bindings/generator/described_records.py what this number is")
        if kind in SIMPLE:
            return SIMPLE[kind][argument]
        if kind in self.headers.records or kind in self.headers.enumerations:
            if kind in NOT_IN_PYTHON and kind not in HAND_WRITTEN:
                raise DescriptionError(f"{place}: {kind} is not in Python ({NOT_IN_PYTHON[kind]})")
            if argument and kind == "TroubleshootingProblem":
                return "TroubleshootingProblem | CaseProblem"
            return kind
        raise DescriptionError(f"{place}: no rule for the type {kind}")

    def members(self, record: Record) -> list[Member]:
        """The members of a record in Python, in their order there."""
        said = self.described(record)
        made: list[Member] = [self._extra(one) for one in said.extra if one.after == "-"]
        made = [*made]
        for declared in record.fields:
            made += [replace(one, declared=declared.name) for one in self._members_of(record, said, declared)]
            made += [self._extra(one) for one in said.extra if one.after == declared.name]
        made += [self._extra(one) for one in said.extra if not one.after]
        unknown = [one.name for one in said.extra if one.after not in ("", "-", *(f.name for f in record.fields))]
        if unknown:
            raise DescriptionError(f"{record.name}: {', '.join(unknown)}: comes after a member that is not declared")
        with_defaults = said.takes or record.name in OPTIONS
        return self._defaults(made, said) if with_defaults else [replace(one, default=None) for one in made]

    def _defaults(self, made: list[Member], said: Described) -> list[Member]:
        """Members without a default first: those that are required."""
        needed = [replace(one, default=None) for one in made if one.name in said.required]
        needed.sort(key=lambda one: said.required.index(one.name))
        return needed + [one for one in made if one.name not in said.required]

    def _extra(self, one: Extra) -> Member:
        default = {"str": '""'}.get(one.type, "None" if one.type.endswith("None") else None)
        return Member(one.name, one.type, one.doc, one.give or one.name, "", default, argument=not one.give)

    def _members_of(self, record: Record, said: Described, declared: Field, through: str = "") -> list[Member]:
        rule = rule_for(declared.type, said.fields.get(declared.name))
        place = f"{record.name}.{declared.name}"
        value = f"one.{through}{declared.name}"
        if isinstance(rule, Hidden):
            return []
        if isinstance(rule, Inline):
            within = self.headers.records[declared.type]
            about = self.described(within)
            return [
                member
                for one in within.fields
                for member in self._members_of(within, about, one, f"{through}{declared.name}.")
            ]
        name = python_name(declared.name)
        if isinstance(rule, Own):
            if not rule.give.isidentifier():
                # Rules that are written for `one` serve a record that is inline, too.
                give, take = rule.give, rule.take
                if through:
                    give = re.sub(r"\bone\b", f"one.{through[:-1]}", give)
                    take = re.sub(r"\binto\b", f"into.{through[:-1]}", take)
                return [Member(rule.name or name, rule.type, declared.doc, give, take, rule.default or None)]
            return [Member(rule.name or name, rule.type, declared.doc, rule.give, "", None, argument=True)]
        kind = self.python_type(declared.type, rule, argument=False, place=place)
        if said.any_list:
            kind = re.sub(r"tuple\[(\w+), \.\.\.\]", r"Iterable[\1]", kind)
        default = self.default(declared.type, declared.default)
        member = Member(name, kind, declared.doc, self._give(record, declared, rule, value), "", default)
        member = replace(member, take=self._take(declared, rule, through))
        made = [member]
        label = rule.label if isinstance(rule, Variable | State) else ""
        if label:
            maybe = " | None" if kind.endswith("| None") else ""
            made.append(Member(label, f"str{maybe}", "", self._label(rule, value), "", None))
        return made

    def _give(self, record: Record, declared: Field, rule: Rule | None, value: str) -> str:
        if isinstance(rule, Variable):
            return f"variable_name(in, {value})"
        if isinstance(rule, State):
            owner = value.rsplit(".", 1)[0] + "." + rule.of if rule.of else "in.variable()"
            return f"state_name(in, {owner}, {value})"
        if isinstance(rule, Named):
            return f"name_at(in, Kind::{rule.kind}, {value})"
        if isinstance(rule, Marked):
            return f"marked_names(in, Kind::{rule.kind}, {value})"
        if isinstance(rule, Table):
            more = f', "{rule.type}"' if rule.type != "Records" else ""
            return f"table_of(in, {value}{more})"
        names = {one.name for one in record.fields}
        if declared.name == "label" and "name" in names and not self.described(record).takes:
            return f"to_python(in, {value}.empty() ? {value.removesuffix('label')}name : {value})"
        return f"to_python(in, {value})"

    def _label(self, rule: Rule | None, value: str) -> str:
        if isinstance(rule, State):
            owner = value.rsplit(".", 1)[0] + "." + rule.of if rule.of else "in.variable()"
            return f"state_label(in, {owner}, {value})"
        return f"variable_label(in, {value})"

    def _take(self, declared: Field, rule: Rule | None, through: str) -> str:
        name = python_name(declared.name)
        value, into = f'record.attr("{name}")', f"into.{through}{declared.name}"
        if inner(declared.type, "optional") and isinstance(rule, Variable | State | Named):
            named = self.take(rule, value, name, f"{into}.emplace()", f"into.{through}")
            return f"if (!{value}.is_none()) {named}"
        return self.take(rule, value, name, into, f"into.{through}")

    def take(self, rule: Rule | None, value: str, argument: str, into: str, record: str = "into.") -> str:
        """C++ that reads a Python value."""
        if isinstance(rule, Variable):
            return f'read_variable(in, {value}, "{argument}", {into})'
        if isinstance(rule, State):
            owner = f"{record}{rule.of}" if rule.of else "in.variable()"
            return f'read_state(in, {owner}, {value}, "{argument}", {into})'
        if isinstance(rule, Named):
            return f'read_name(in, Kind::{rule.kind}, {value}, "{argument}", {into})'
        if isinstance(rule, Marked):
            return f'read_marks(in, Kind::{rule.kind}, {value}, "{argument}", {into})'
        return f'read(in, {value}, "{argument}", {into})'

    def default(self, cpp: str, written: str) -> str:
        """A default of C++ in Python; a factory for a record."""
        kind = stripped(self.headers.aliases.get(stripped(cpp), cpp))
        if inner(kind, "optional"):
            return "None"
        if item_of(kind):
            return "()" if item_of(kind) != "Gate" else "{}"
        if written.replace(" ", "") in ("", "{}"):
            empty = {"double": "0.0", "bool": "False", "std::string": '""', "std::string_view": '""'}
            return empty.get(kind, "0" if kind in WHOLE else f"{kind}()")
        value = written.replace(" ", "")
        if value in ("true", "false"):
            return value.capitalize()
        if kind in self.headers.enumerations:
            return f'"{value.rsplit("::", 1)[-1]}"'
        if re.fullmatch(r"\w+\{\}", value):
            return f"{value.removesuffix('{}')}()"
        if value.startswith("{."):
            return f"{kind}({', '.join(f'{name}={text}' for name, text in named_values(written).items())})"
        return number_text(value, whole=kind in WHOLE)

    def keywords(
        self, options: Record, way: str = "", top: Options | None = None, others: dict[str, str] | None = None
    ) -> Iterator[Keyword]:
        """The keyword arguments of options, those of options within them in their place. others: their own defaults."""
        said = OPTIONS[options.name]
        top = top or said
        for field in options.fields:
            declared = replace(field, default=(others or {}).get(field.name, field.default))
            path = f"{way}{declared.name}"
            rule = rule_for(declared.type, said.fields.get(declared.name))
            if path in top.without or isinstance(rule, Hidden):
                continue
            if stripped(declared.type) in OPTIONS:
                within = self.headers.records[declared.type]
                yield from self.keywords(within, f"{path}.", top, named_values(declared.default))
                continue
            yield self._keyword(options, declared, rule, path, top.renamed.get(path, declared.name))

    def _keyword(self, options: Record, declared: Field, rule: Rule | None, path: str, name: str) -> Keyword:
        kind = self.python_type(declared.type, rule, argument=True, place=f"{options.name}.{declared.name}")
        default = self.default(declared.type, declared.default)
        if stripped(declared.type) in self.headers.records:
            kind, default = f"{kind} | None", "None"
        take = self.take(rule, "value", name, f"into.{path}")
        return Keyword(python_name(name), kind, default, declared.doc, take, path)


def named_values(written: str) -> dict[str, str]:
    """The members that `{.a = 1, .b = 2}` gives values to."""
    return dict(re.findall(r"\. (\w+) = ([^,}]*[^,} ])", written))


def number_text(written: str, *, whole: bool) -> str:
    """A constant of C++ as Python writes it. Raises DescriptionError for what is none."""
    plain = re.sub(r"(?<=[0-9])[uUlL]+", "", written.replace("'", "_"))
    if re.fullmatch(r"[0-9_]+", plain):
        return plain if whole else f"{plain}.0"
    if re.fullmatch(r"[0-9.]+(e-?[0-9]+)?", plain):
        return plain
    value = worked_out(ast.parse(plain, mode="eval").body)
    return repr(int(value) if whole else float(value))


def worked_out(node: ast.expr) -> float:
    """The value of a constant expression. Raises DescriptionError for anything else."""
    if isinstance(node, ast.Constant) and isinstance(node.value, int | float):
        return node.value
    if isinstance(node, ast.BinOp):
        left, right = worked_out(node.left), worked_out(node.right)
        if isinstance(node.op, ast.Mult):
            return left * right
        if isinstance(node.op, ast.LShift):
            return int(left) << int(right)
    raise DescriptionError(f"no constant: {ast.unparse(node)}")
