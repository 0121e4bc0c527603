# SPDX-License-Identifier: BSD-3-Clause
"""The network of a fault model as an SVG picture: self-contained, deterministic, readable in black and white.

Layers run from left to right by the longest path from a root, with what nothing depends on in the last one; within a
layer, variables are ordered by the mean place of their neighbours (the barycentre sweeps of Sugiyama, Tagawa & Toda
1981). Roles differ in outline, not in colour.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from html import escape
from textwrap import wrap
from typing import TYPE_CHECKING

from faultodds.errors import ArgumentError

if TYPE_CHECKING:
    from faultodds._core import Case, FaultModel
    from faultodds.records import Role

MOST_VARIABLES = 60
"""A larger network is drawn only when asked for by name: nobody could read it."""

_SWEEPS = 12
_LINE = 14
_PADDING = 12
_BETWEEN = 12
_GAP = 90
_LETTER = 7.0
_MARGIN = 12
_LONGEST_LINE = 28
_MOST_LINES = 2

_OUTLINE: Mapping[Role, str] = {
    "component": 'rx="0" stroke-width="2.5"',
    "context": 'rx="0" stroke-width="1" stroke-dasharray="6 3"',
    "hidden": 'rx="0" stroke-width="1" stroke-dasharray="2 2"',
    "symptom": 'rx="13" stroke-width="1.2"',
    "test": 'rx="6" stroke-width="1.2" stroke-dasharray="9 2 2 2"',
    "unclassified": 'rx="3" stroke-width="1"',
}


def network_svg(model: FaultModel, names: Iterable[str] | None = None, *, case: Case | None = None) -> str:
    """The network as SVG text, from left to right: parents before children.

    names: only these variables and the arcs between them; by default all. case: its findings are drawn filled. Roles
    have outlines of their own: components heavy, symptoms round, tests dash-dotted, context and hidden ones dashed.
    Raises UnknownName; ArgumentError if `names` holds none, or if it is left out and the model is too large.
    """
    chosen = _chosen(model, names)
    parents = {name: [parent for parent in model.parents(name) if parent in chosen] for name in chosen}
    layers = _ordered(_layered(chosen, parents), parents)
    found = {finding.variable for finding in case.findings()} if case is not None else set()
    return _drawn(model, layers, parents, found)


def _chosen(model: FaultModel, names: Iterable[str] | None) -> list[str]:
    if names is None:
        if len(model) > MOST_VARIABLES:
            raise ArgumentError(
                f"names: left out for a model of {len(model)} variables; name those to draw, {MOST_VARIABLES} or fewer "
                "can be read",
                "names",
            )
        return list(model.topological_order())
    wanted = {model.variable(name).name for name in names}
    if not wanted:
        raise ArgumentError("names: holds none; name the variables to draw", "names")
    return [name for name in model.topological_order() if name in wanted]


def _layered(names: Sequence[str], parents: Mapping[str, Sequence[str]]) -> list[list[str]]:
    layer: dict[str, int] = {}
    for name in names:
        layer[name] = max((layer[parent] + 1 for parent in parents[name]), default=0)
    inner = {parent for those in parents.values() for parent in those}
    last = max(layer.values())
    for name in names:
        if parents[name] and name not in inner:
            layer[name] = last
    layers: list[list[str]] = [[] for _ in range(max(layer.values()) + 1)]
    for name in names:
        layers[layer[name]].append(name)
    return layers


def _ordered(layers: list[list[str]], parents: Mapping[str, Sequence[str]]) -> list[list[str]]:
    children: dict[str, list[str]] = {name: [] for name in parents}
    for name, those in parents.items():
        for parent in those:
            children[parent].append(name)
    for sweep in range(_SWEEPS):
        forward = sweep % 2 == 0
        neighbours = parents if forward else children
        place = {name: (index + 0.5) / len(layer) for layer in layers for index, name in enumerate(layer)}
        for layer in layers if forward else reversed(layers):
            means = {
                name: sum(place[other] for other in neighbours[name]) / len(neighbours[name])
                if neighbours[name]
                else place[name]
                for name in layer
            }
            layer.sort(key=lambda name: (means[name], place[name]))
            place.update({name: (index + 0.5) / len(layer) for index, name in enumerate(layer)})
    return layers


def _lines(label: str) -> list[str]:
    return wrap(label, _LONGEST_LINE, max_lines=_MOST_LINES, placeholder=" …") or [label]


def _drawn(
    model: FaultModel, layers: Sequence[Sequence[str]], parents: Mapping[str, Sequence[str]], found: set[str]
) -> str:
    labels = {name: model.variable(name).label for layer in layers for name in layer}
    lines = {name: _lines(label) for name, label in labels.items()}
    row = max(map(len, lines.values())) * _LINE + _PADDING + _BETWEEN
    height = max(len(layer) for layer in layers) * row + 2 * _MARGIN
    left: dict[str, float] = {}
    right: dict[str, float] = {}
    middle: dict[str, float] = {}
    x = float(_MARGIN)
    for layer in layers:
        width = max(len(line) for name in layer for line in lines[name]) * _LETTER + 20
        step = (height - 2 * _MARGIN) / len(layer)
        for index, name in enumerate(layer):
            left[name], right[name] = x, x + width
            middle[name] = _MARGIN + (index + 0.5) * step
        x += width + _GAP
    total = x - _GAP + _MARGIN
    arcs = [
        _arc(right[parent], middle[parent], left[name], middle[name]) for name in labels for parent in parents[name]
    ]
    boxes = [
        _box(model.role(name), labels[name], left[name], right[name] - left[name], middle[name], name in found)
        for name in labels
    ]
    title = escape(model.header().title or model.header().name or "network")
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{total:.0f}" height="{height:.0f}" '
        f'viewBox="0 0 {total:.0f} {height:.0f}" role="img" style="background:white;max-width:none">'
        f"<title>{title}: {len(labels)} variables, {len(arcs)} arcs</title>"
        f'<g fill="none" stroke="#666" stroke-width="0.8">{"".join(arcs)}</g>'
        f'<g font-family="sans-serif" font-size="12" text-anchor="middle">{"".join(boxes)}</g></svg>'
    )


def _arc(x0: float, y0: float, x1: float, y1: float) -> str:
    bend = (x1 - x0) / 2
    return (
        f'<path d="M{x0:.1f} {y0:.1f} C{x0 + bend:.1f} {y0:.1f} {x1 - bend:.1f} {y1:.1f} {x1 - 6:.1f} {y1:.1f}"/>'
        f'<path fill="#666" stroke="none" d="M{x1:.1f} {y1:.1f} l-7 -3 v6 z"/>'
    )


def _box(role: Role, label: str, x: float, width: float, middle: float, found: bool) -> str:
    fill, ink = ("#333", "white") if found else ("white", "black")
    lines = _lines(label)
    height = len(lines) * _LINE + _PADDING
    first = middle + 4 - (len(lines) - 1) * _LINE / 2
    texts = "".join(
        f'<text x="{x + width / 2:.1f}" y="{first + index * _LINE:.1f}" fill="{ink}">{escape(line)}</text>'
        for index, line in enumerate(lines)
    )
    return (
        f"<g><title>{escape(label)} ({role})</title>"
        f'<rect x="{x:.1f}" y="{middle - height / 2:.1f}" width="{width:.1f}" height="{height}" '
        f'fill="{fill}" stroke="black" {_OUTLINE[role]}/>{texts}</g>'
    )
