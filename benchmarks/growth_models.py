# SPDX-License-Identifier: BSD-3-Clause
"""Invented models of a given size for growth.py, and a vehicle with findings on each. All numbers are drawn."""

from __future__ import annotations

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
    width: int = 0
    """Width of the whole model's junction tree, as the solver reports it; 0 if each case has a tree of its own."""


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


def band(draw: random.Random, *, length: int, width: int, findings: int) -> Vehicle:
    """Variables of two states in a row, each depending on the `width` ones before it.

    Married parents add no line to that graph and it is chordal, so that its treewidth is `width`: all cliques hold
    width + 1 variables.
    """
    builder = faultodds.ModelBuilder("band")
    for index in range(length):
        parents = [f"v{before}" for before in range(max(0, index - width), index)]
        values: list[float] = []
        for _ in range(2 ** len(parents)):
            yes = draw.uniform(0.1, 0.9)
            values += [1.0 - yes, yes]
        table: dict[str, Any] = {"given": parents, "values": values}
        builder.add_variable(f"v{index}", states=["no", "yes"], **({"table": table} if parents else {"prior": values}))
    model = builder.build()
    seen = [Finding(f"v{place}", draw.choice(("no", "yes"))) for place in draw.sample(range(length), findings)]
    other = {"no": "yes", "yes": "no"}[str(seen[-1].state)]
    return Vehicle(model, tuple(seen), Finding(seen[-1].variable, other), faultodds.estimate_cost(model).width)
