# SPDX-License-Identifier: BSD-3-Clause
"""Writes generated/calls.cpp: functions whose binding follows from their declaration."""

from __future__ import annotations

from generator.calls import Call, binding
from generator.cpp_records import NOTE
from generator.described_calls import FUNCTIONS
from generator.python_records import ROOMS, room_of
from generator.translation import Translation


def source(translation: Translation) -> str:
    """The file."""
    calls = [one for one in (Call(translation, name) for name in FUNCTIONS) if not one.said.by_hand]
    needed = sorted({one.declared.header for one in calls})
    lines = [NOTE + "// Functions that are bound as their declarations say.", '#include "generated/records.hpp"']
    lines += ['#include "planning.hpp"', *(f'#include "{name}"' for name in needed)]
    lines += ["", "namespace faultodds::python {", "", "namespace {", ""]
    rooms = [room for room in ROOMS if any(room_of(one.declared.header) == room for one in calls)]
    for room in rooms:
        lines.append(f"void bind_{room}_calls(py::module_& module) {{")
        lines += [binding(one) for one in calls if room_of(one.declared.header) == room]
        lines += ["}", ""]
    lines += ["}  // namespace", "", "void bind_calls(py::module_& module) {"]
    lines += [f"bind_{room}_calls(module);" for room in rooms]
    lines += ["}", "", "}  // namespace faultodds::python", ""]
    return "\n".join(lines)
