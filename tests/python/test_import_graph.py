# SPDX-License-Identifier: BSD-3-Clause
"""The modules of the package import one another in one direction: data know nothing of their display."""

from __future__ import annotations

import ast
from graphlib import TopologicalSorter
from pathlib import Path

PACKAGE = Path(__file__).parents[2] / "bindings" / "faultodds"
DISPLAY = {"faultodds.display", "faultodds.flow_chart", "faultodds.network_picture", "faultodds.plots"}


def module_name(path: Path) -> str:
    parts = ["faultodds", *path.relative_to(PACKAGE).with_suffix("").parts]
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def annotations_alone(tree: ast.Module) -> set[ast.AST]:
    """What stands under `if TYPE_CHECKING`, which no program runs."""
    blocks = [
        node
        for node in ast.walk(tree)
        if isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
    ]
    return {inner for block in blocks for inner in ast.walk(block)}


def imports(path: Path, known: set[str]) -> set[str]:
    """The modules of the package that a module imports, at its head or inside a function."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    skipped = annotations_alone(tree)
    found: set[str] = set()
    for node in ast.walk(tree):
        if node in skipped:
            continue
        if isinstance(node, ast.Import):
            found |= {name.name for name in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module:
            inner = {f"{node.module}.{name.name}" for name in node.names} & known
            found |= inner or {node.module}
    return found & known


def graph() -> dict[str, set[str]]:
    paths = {module_name(path): path for path in PACKAGE.rglob("*.py")}
    known = {*paths, "faultodds._core"}
    made = {name: imports(path, known) for name, path in paths.items()}
    return {name: found - {name} for name, found in made.items()}


def test_no_modules_import_one_another_in_a_circle() -> None:
    order = list(TopologicalSorter(graph()).static_order())
    assert len(order) > 20
    assert order[-1] == "faultodds"


def test_records_and_functions_know_nothing_of_their_display() -> None:
    for name, found in graph().items():
        if name.startswith(("faultodds.records", "faultodds.calls")) or name == "faultodds.batch":
            assert not found & DISPLAY, name


def test_the_compiled_part_knows_nothing_of_display() -> None:
    for path in PACKAGE.parent.glob("**/*.cpp"):
        text = path.read_text(encoding="utf-8")
        for module in DISPLAY:
            assert f'"{module}"' not in text, path
