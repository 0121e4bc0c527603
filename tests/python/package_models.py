# SPDX-License-Identifier: BSD-3-Clause
"""Small models that several tests of the Python package share."""

from __future__ import annotations

from typing import Any

import faultodds


def two_states(name: str, p: float, **members: Any) -> dict[str, Any]:
    return {"name": name, "states": ["0", "1"], "prior": p, **members}


def depends(name: str, rows: dict[str, float], parent: str, **members: Any) -> dict[str, Any]:
    """A variable of two states; rows: P(second state) for each state of its one parent."""
    table = {"given": [parent], "rows": [{"when": {parent: state}, "p": p} for state, p in rows.items()]}
    return {"name": name, "states": ["0", "1"], "table": table, **members}


def plain_model(*variables: dict[str, Any]) -> faultodds.FaultModel:
    return faultodds.FaultModel.from_dict(
        {"format": "faultodds-model", "format_version": 1, "name": "small", "variables": list(variables)}
    )


def plain_case(*variables: dict[str, Any]) -> faultodds.Case:
    return faultodds.Case(faultodds.Solver(plain_model(*variables)))


def car_start() -> faultodds.FaultModel:
    """The car-start example of Jensen & Nielsen, Bayesian Networks and Decision Graphs, 2nd ed. 2007, section 2.1."""
    return (
        faultodds.ModelBuilder("car_start", title="Car start", currency="EUR", labour_rate=60, invented_data=False)
        .add_component("fuel", states=["yes", "no"], prior=0.02)
        .add_component("plugs", states=["clean", "foul"], prior=0.04)
        .add_symptom(
            "start",
            states=["yes", "no"],
            complaint=True,
            table={
                "given": ["fuel", "plugs"],
                "rows": [
                    {"when": {"fuel": "yes", "plugs": "clean"}, "p": [0.99, 0.01]},
                    {"when": {"fuel": "yes", "plugs": "foul"}, "p": [0.01, 0.99]},
                    {"when": {"fuel": "no"}, "p": [0, 1]},
                ],
            },
        )
        .add_test(
            "gauge",
            states=["full", "half", "empty"],
            minutes=0.1,
            money=0,
            procedure="Read the fuel gauge with the ignition on.",
            table={
                "given": ["fuel"],
                "rows": [
                    {"when": {"fuel": "yes"}, "p": [0.39, 0.60, 0.01]},
                    {"when": {"fuel": "no"}, "p": [0.001, 0.001, 0.998]},
                ],
            },
        )
        .build()
    )
