"""Invented models of a given size for growth.py, and a vehicle with findings on each. All numbers are drawn."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from typing import Any

import faultodds
from faultodds import Finding


@dataclass(frozen=True)
class Vehicle:
    """A model and what was found; `changed` is the last finding with the other state."""

    model: faultodds.FaultModel
    findings: tuple[Finding, ...]
    changed: Finding
    width: float = 0.0
    """log2 of the largest table of the whole model's junction tree; 0 where the case has a plan of its own."""


def two_layers(
    draw: random.Random, *, components: int, effects: int, causes: int, abnormal: int, normal: int
) -> Vehicle:
    """Components, and noisy-OR effects of `causes` components each.

    The abnormal findings are, as far as there are enough, effects of the components 0 and 1, which are the ones at
    fault; the normal findings are any others.
    """
    builder = faultodds.ModelBuilder("layers")
    for index in range(components):
        builder.add_component(f"c{index}", prior=draw.uniform(0.005, 0.05))
    of_faults = []
    others = []
    for index in range(effects):
        chosen = draw.sample(range(components), causes)
        links = [{"of": f"c{cause}", "strength": draw.uniform(0.2, 0.95)} for cause in chosen]
        builder.add_symptom(f"e{index}", noisy_or={"causes": links, "leak": draw.uniform(0.001, 0.02)})
        (of_faults if min(chosen) <= 1 else others).append(f"e{index}")
    draw.shuffle(of_faults)
    draw.shuffle(others)
    order = of_faults + others
    seen = [Finding(name, "present") for name in order[:abnormal]]
    rest = order[abnormal:]
    draw.shuffle(rest)
    seen += [Finding(name, "absent") for name in rest[:normal]]
    return Vehicle(builder.build(), tuple(seen), Finding(seen[-1].variable, "present"))


def grid(draw: random.Random, *, rows: int, columns: int, findings: int) -> Vehicle:
    """Variables of two states in a grid, each hanging on the one above and the one to its left."""
    builder = faultodds.ModelBuilder("grid")
    for row in range(rows):
        for column in range(columns):
            parents = [f"v{r}_{c}" for r, c in ((row - 1, column), (row, column - 1)) if r >= 0 and c >= 0]
            builder.add_variable(f"v{row}_{column}", states=["no", "yes"], **_table(draw, parents))
    model = builder.build()
    places = draw.sample([(r, c) for r in range(rows) for c in range(columns)], findings)
    seen = [Finding(f"v{row}_{column}", draw.choice(("no", "yes"))) for row, column in places]
    other = {"no": "yes", "yes": "no"}[str(seen[-1].state)]
    width = math.log2(faultodds.estimate_cost(model).largest_clique)
    return Vehicle(model, tuple(seen), Finding(seen[-1].variable, other), width)


def _table(draw: random.Random, parents: list[str]) -> dict[str, Any]:
    if not parents:
        return {"prior": draw.uniform(0.1, 0.9)}

    values: list[float] = []
    for _ in range(2 ** len(parents)):
        yes = draw.uniform(0.1, 0.9)
        values += [1.0 - yes, yes]
    return {"table": {"given": parents, "values": values}}
