# SPDX-License-Identifier: BSD-3-Clause
"""General-purpose libraries as peers.py sees them: the posteriors of all variables given findings, and joints.

Findings are {variable: state}. A library that is not installed raises ImportError when its class is made.
"""

from __future__ import annotations

from typing import Any

import numpy as np

Findings = dict[str, str]
Variables = list[tuple[str, list[str]]]


class PyAgrum:
    """pyAgrum: lazy propagation in a junction tree, in C++."""

    name = "pyAgrum"

    def __init__(self, path: str, variables: Variables) -> None:
        import pyagrum

        self._gum = pyagrum
        self.version: str = pyagrum.__version__
        pyagrum.setNumberOfThreads(1)
        self._network = pyagrum.loadBN(path)
        self._variables = variables
        self._states = {name: {state: place for place, state in enumerate(states)} for name, states in variables}
        self._entered: Findings = {}
        self._tree = self._made()

    def _made(self) -> Any:
        tree = self._gum.LazyPropagation(self._network)
        tree.setNumberOfThreads(1)
        return tree

    def full(self, findings: Findings) -> list[Any]:
        """All findings entered at once."""
        self._tree.setEvidence({name: self._states[name][state] for name, state in findings.items()})
        self._entered = dict(findings)
        return self._read()

    def incremental(self, findings: Findings) -> list[Any]:
        """Only what differs from the findings before."""
        for name in self._entered.keys() - findings.keys():
            self._tree.eraseEvidence(name)
        for name, state in findings.items():
            if name not in self._entered:
                self._tree.addEvidence(name, self._states[name][state])
            elif self._entered[name] != state:
                self._tree.chgEvidence(name, self._states[name][state])
        self._entered = dict(findings)
        return self._read()

    def _read(self) -> list[Any]:
        self._tree.makeInference()
        return [self._tree.posterior(name).toarray() for name, _ in self._variables]

    def joint(self, names: list[str], findings: Findings) -> Any:
        """P(joint states of the variables named | findings)."""
        tree = self._made()
        tree.addJointTarget(set(names))
        tree.setEvidence({name: self._states[name][state] for name, state in findings.items()})
        tree.makeInference()
        return tree.jointPosterior(set(names)).toarray()


class Pgmpy:
    """pgmpy: variable elimination in Python and NumPy; nothing is kept from one query to the next."""

    name = "pgmpy"

    def __init__(self, path: str, variables: Variables) -> None:
        import pgmpy
        from pgmpy.inference import VariableElimination
        from pgmpy.readwrite import BIFReader

        self.version: str = pgmpy.__version__
        self._inference = VariableElimination(BIFReader(path).get_model())
        self._variables = variables

    def full(self, findings: Findings) -> list[Any]:
        """All variables without a finding in one query."""
        asked = [name for name, _ in self._variables if name not in findings]
        factors = self._inference.query(asked, evidence=findings, joint=False, show_progress=False)
        return [self._posterior(name, states, findings, factors) for name, states in self._variables]

    incremental = full

    @staticmethod
    def _posterior(name: str, states: list[str], findings: Findings, factors: dict[str, Any]) -> Any:
        if name in findings:
            return np.array([float(state == findings[name]) for state in states])
        order = [factors[name].get_state_no(name, state) for state in states]
        return factors[name].values[order]

    def joint(self, names: list[str], findings: Findings) -> Any:
        """P(joint states of the variables named | findings)."""
        return self._inference.query(names, evidence=findings, joint=True, show_progress=False).values


PEERS = {kind.name: kind for kind in (PyAgrum, Pgmpy)}
