# SPDX-License-Identifier: BSD-3-Clause
"""Writes generated/records.hpp and .cpp: C++ records to Python and back, enumerations as text, options."""

from __future__ import annotations

from generator.described_records import OPTIONS
from generator.headers import Enumeration, Record
from generator.translation import Member, Translation

NOTE = (
    "// Written by bindings/generate.py from include/faultodds and bindings/generator: not to be changed by hand.\n"
    "// SPDX-License-Identifier: BSD-3-Clause\n"
)
RECORD_NAMES = "const Names& in, const {}& one"


def given_members(translation: Translation, record: Record) -> list[Member]:
    """Members that only the caller of the conversion knows."""
    return [one for one in translation.members(record) if one.argument]


def _signature(translation: Translation, record: Record) -> str:
    more = "".join(f", const py::object& {one.give}" for one in given_members(translation, record))
    return f"py::object to_python({RECORD_NAMES.format(record.name)}{more})"


def header(translation: Translation) -> str:
    """The declarations."""
    lines = [NOTE + "// Records, enumerations and options, to Python and from it.\n#pragma once\n"]
    declared = [*translation.records, *translation.options, *translation.enumerations]
    needed = {one.header for one in declared}
    lines += [f'#include "{name}"' for name in sorted(needed)]
    lines += ['#include "names.hpp"\n', "namespace faultodds::python {\n"]
    for enumeration in translation.enumerations:
        lines.append(f"[[nodiscard]] py::object to_python(const Names& in, {enumeration.name} value);")
        lines.append(f"void read(const Names& in, py::handle value, const char* argument, {enumeration.name}& into);")
    lines.append("")
    for record in translation.records:
        lines.append(f"[[nodiscard]] {_signature(translation, record)};")
        if translation.described(record).takes:
            lines.append(f"void read(const Names& in, py::handle record, const char* argument, {record.name}& into);")
            lines.append(
                f'[[nodiscard]] inline const char* record_name(const {record.name}*) {{ return "{record.name}"; }}'
            )
    lines.append("")
    lines += [
        f"void read_options(const Names& in, const py::dict& given, {one.name}& into);"
        for one in translation.options
        if one.name in OPTIONS
    ]
    lines.append("\n/// The defaults of options in C++, as {options: {name: value}}.")
    lines.append("[[nodiscard]] py::dict option_defaults();")
    lines += ["\n}  // namespace faultodds::python\n", '#include "values.hpp"  // templates over all of these\n']
    return "\n".join(lines)


def source(translation: Translation) -> str:
    """The bodies."""
    lines = [NOTE + '// Records, enumerations and options, to Python and from it.\n#include "generated/records.hpp"\n']
    lines.append('#include "record_kind.hpp"\n')
    lines.append("namespace faultodds::python {\n")
    lines += [_enumeration(one) for one in translation.enumerations]
    for record in translation.records:
        lines.append(_give(translation, record))
        if translation.described(record).takes:
            lines.append(_take(translation, record))
    lines += [_options(translation, one) for one in translation.options]
    lines.append(_defaults(translation))
    lines.append("}  // namespace faultodds::python\n")
    return "\n".join(lines)


def _enumeration(one: Enumeration) -> str:
    names = [name for name, _ in one.values]
    cases = "".join(f'    case {one.name}::{name}:\n      return py::str("{name}");\n' for name in names)
    reads = "".join(
        f'  if (text == "{name}") {{\n    into = {one.name}::{name};\n    return;\n  }}\n' for name in names
    )
    listed = f"{', '.join(names[:-1])} or {names[-1]}"
    return f"""py::object to_python(const Names&, {one.name} value) {{
  switch (value) {{
{cases}  }}
  return py::none();
}}

void read(const Names&, py::handle value, const char* argument, {one.name}& into) {{
  const std::string text = name_of(value, argument);
{reads}  throw ArgumentError(argument, "got \\"" + text + '"', "give {listed}");
}}
"""


def _within(translation: Translation, record: Record, text: str, names: str = "one") -> str:
    """The names that hold within a record about a variable, or with lists of its own."""
    about = translation.described(record).about
    if about:
        return text.replace("(in, ", f"(in.about({names}.{about}), ", 1)
    if record.name == "TroubleshootingProblem":
        return text.replace("(in, ", f"(in.about({names}), ", 1)
    return text


def _give(translation: Translation, record: Record) -> str:
    values = []
    for member in translation.members(record):
        made = member.give
        if made.startswith(("to_python(in, ", "table_of(in, ")):
            made = _within(translation, record, made)
        elif not member.argument and not made.startswith(("variable_", "state_", "name_at", "marked_names")):
            made = f"to_python(in, {made})"
        values.append(f'{{"{member.name}", {made}}}')
    used = any("in" in one.replace("(", " ").replace(",", " ").replace(".", " ").split() for one in values)
    signature = _signature(translation, record)
    if not used:
        signature = signature.replace("const Names& in", "const Names&")
    if not values:
        signature = signature.replace("& one", "&")
    made = f"{{{', '.join(values)}}}"
    return f'{signature} {{\n  static RecordKind kind("{record.name}");\n  return kind({made});\n}}\n'


def _take(translation: Translation, record: Record) -> str:
    lines = [f'  require_kind(record, "{record.name}", argument);']
    members = sorted(translation.members(record), key=lambda one: _place(record, one))
    lines += [f"  {one.take};" for one in members if one.take]
    body = "\n".join(lines)
    names = ("in", "into") if len(lines) > 1 else ("", "")
    taken = f"py::handle record, const char* argument, {record.name}& {names[1]}"
    signature = f"void read(const Names& {names[0]}, {taken})"
    return f"{signature} {{\n{body}\n}}\n"


def _place(record: Record, member: Member) -> int:
    """C++ order, since what is read later may depend on what was read before."""
    names = [one.name for one in record.fields]
    return names.index(member.declared) if member.declared in names else -1


def _options(translation: Translation, options: Record) -> str:
    lines = [
        f'  if (const py::object value = option(given, "{one.name}")) {{ {one.take}; }}'
        for one in translation.keywords(options)
    ]
    body = "\n".join(lines)
    return (
        f"void read_options(const Names& in, const py::dict& given, {options.name}& into) {{\n"
        f"  static_cast<void>(in);\n{body}\n}}\n"
    )


def _defaults(translation: Translation) -> str:
    lines = ["  py::dict defaults;", "  const Names in;"]
    for options in translation.options:
        lines.append(f"  {{\n    const {options.name} made;\n    py::dict values;")
        lines += [f'    values["{one.name}"] = to_python(in, made.{one.way});' for one in translation.keywords(options)]
        lines.append(f'    defaults["{options.name}"] = values;\n  }}')
    body = "\n".join(lines)
    return f"py::dict option_defaults() {{\n{body}\n  return defaults;\n}}\n"
