# SPDX-License-Identifier: BSD-3-Clause
"""Write what follows from the public headers: records, functions, options, stub and face of the Python package.

    python bindings/generate.py            # after a change of a header or of bindings/generator
    python bindings/generate.py --check    # exits with 1 if a file is out of date

Needs libclang (the wheel of that name), ruff and clang-format. What is written is committed, and building the package
needs none of these.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

BINDINGS = Path(__file__).parent
sys.path.insert(0, str(BINDINGS))

from generator import cpp_calls, cpp_records, members, python_calls, python_records  # noqa: E402
from generator.headers import read_headers  # noqa: E402
from generator.translation import DescriptionError, Translation  # noqa: E402

PACKAGE = BINDINGS / "faultodds"


def formatted(path: Path, text: str) -> str:
    """The text as the formatter of its language leaves it."""
    if path.suffix in (".hpp", ".cpp"):
        command = ["clang-format", f"--assume-filename={path}"]
    else:
        imports = ["ruff", "check", "--quiet", "--select=I,RUF022", "--fix", f"--stdin-filename={path}", "-"]
        text = _output(imports, text)
        command = ["ruff", "format", "--quiet", f"--stdin-filename={path}", "-"]
    return _output(command, text)


def _output(command: list[str], text: str) -> str:
    tool = Path(sys.executable).with_name(command[0])
    found = str(tool) if tool.exists() else command[0]
    done = subprocess.run([found, *command[1:]], input=text, capture_output=True, text=True, check=False)
    if done.returncode not in (0, 1) or not done.stdout:
        raise RuntimeError(f"{command[0]}: {done.stderr}")
    return done.stdout


def everything() -> dict[Path, str]:
    """All generated files."""
    translation = Translation(read_headers())
    modules = {room: python_records.Module(translation, room) for room in python_records.ROOMS}
    modules = {room: one for room, one in modules.items() if one.names()}
    homes = {name: room for room, one in modules.items() for name in one.names()}
    by_hand = python_records.BY_HAND
    made: dict[Path, str] = {}
    for room, one in modules.items():
        made[PACKAGE / "records" / f"{room}.py"] = one.text({**by_hand, **python_records.bases(), **homes})
    made[PACKAGE / "records" / "__init__.py"] = python_records.face({**by_hand, **homes})
    for room in python_records.ROOMS:
        if python_calls.calls_in(translation, room):
            made[PACKAGE / "calls" / f"{room}.py"] = python_calls.module(translation, room, {**by_hand, **homes})
    classes = (BINDINGS / "generator" / "core_classes.pyi.in").read_text(encoding="utf-8")
    made[PACKAGE / "_core.pyi"] = python_calls.core_stub(translation, classes, {**by_hand, **homes})
    made[PACKAGE / "members.py"] = members.module()
    enumerations = {one.name for one in translation.enumerations}
    shown = sorted(name for name in {**by_hand, **homes} if name not in enumerations)
    made[PACKAGE / "__init__.py"] = python_calls.face(translation, shown)
    generated = BINDINGS / "generated"
    made[generated / "records.hpp"] = cpp_records.header(translation)
    made[generated / "records.cpp"] = cpp_records.source(translation)
    made[generated / "calls.cpp"] = cpp_calls.source(translation)
    return {path: formatted(path, text) for path, text in made.items()}


def main() -> int:
    """Write the files, or check them."""
    try:
        files = everything()
    except DescriptionError as error:
        print(error, file=sys.stderr)
        return 1
    old = [path for path, text in files.items() if not path.exists() or path.read_text(encoding="utf-8") != text]
    if "--check" in sys.argv[1:]:
        for path in old:
            print(f"{path.relative_to(BINDINGS.parent)} is out of date: run python bindings/generate.py")
        return 1 if old else 0
    for path in old:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(files[path], encoding="utf-8")
        print(path.relative_to(BINDINGS.parent))
    return 0


if __name__ == "__main__":
    sys.exit(main())
