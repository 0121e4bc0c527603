# SPDX-License-Identifier: BSD-3-Clause
"""Plots for notebooks and papers, told apart by hatching and labels, so that they read in black and white.

Needs matplotlib, which is only imported here.
"""

from __future__ import annotations

import textwrap
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from faultodds.display import percent
from faultodds.errors import ArgumentError

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from faultodds.records import LeadingFaults, PolicyTree, PricedSteps, Ranking, Step, TestForecast

_FILLS: tuple[dict[str, Any], ...] = (
    {"facecolor": "#333333", "hatch": ""},
    {"facecolor": "white", "hatch": "////"},
    {"facecolor": "#bbbbbb", "hatch": ""},
    {"facecolor": "white", "hatch": "...."},
    {"facecolor": "#eeeeee", "hatch": "xxxx"},
    {"facecolor": "white", "hatch": "----"},
)
_LINES: tuple[dict[str, Any], ...] = (
    {"linestyle": "-", "linewidth": 1.8},
    {"linestyle": "--", "linewidth": 1.3},
    {"linestyle": ":", "linewidth": 1.8},
    {"linestyle": "-.", "linewidth": 1.0},
)
_ROW_INCHES = 0.2
_LABEL_SPACE = 1.18
_LABEL_LETTERS = 38
_LINES_OF_A_LABEL = 2


def _axes(ax: Axes | None, rows: int) -> Axes:
    if ax is not None:
        return ax
    import matplotlib.pyplot as plt

    _, made = plt.subplots(figsize=(7.5, 1.3 + _ROW_INCHES * rows), layout="constrained")
    return made


def plot_faults(series: Mapping[str, LeadingFaults] | LeadingFaults, *, most: int = 10, ax: Axes | None = None) -> Axes:
    """Fault probabilities as bars; several series (such as before and after a finding) side by side.

    series: fault probabilities, or {title: fault probabilities}, at most six of them. Shown are the `most` faults that
    are most probable in any of them, in the order in which they first appear; if a series does not hold a fault,
    there is no bar. Returns the axes. Raises ArgumentError.
    """
    named: dict[str, LeadingFaults] = dict(series) if isinstance(series, Mapping) else {"": series}
    if not 1 <= len(named) <= len(_FILLS):
        raise ArgumentError(f"series: {len(named)} of them; give 1 to {len(_FILLS)}", "series")
    labels = _most_probable(named, most)
    ax = _axes(ax, len(labels) * max(len(named), _LINES_OF_A_LABEL))
    height = 0.8 / len(named)
    longest = 0.0
    for index, ((title, faults), fill) in enumerate(zip(named.items(), _FILLS, strict=False)):
        known = {(fault.component, fault.state): fault.probability for fault in faults}
        places = [row + (index - (len(named) - 1) / 2) * height for row, key in enumerate(labels) if key in known]
        values = [known[key] for key in labels if key in known]
        bars = ax.barh(places, values, height=height * 0.9, edgecolor="black", linewidth=0.8, label=title, **fill)
        ax.bar_label(bars, labels=[percent(value) for value in values], padding=3, fontsize=8)
        longest = max([longest, *values])
    ax.set_yticks(range(len(labels)), [_wrapped(label) for label in labels.values()], fontsize=9)
    ax.invert_yaxis()
    ax.set_xlim(0, _LABEL_SPACE * longest or 1)
    ax.set_xlabel("probability")
    if len(named) > 1:
        _place_legend(ax)
    return _tidied(ax)


def _most_probable(named: Mapping[str, LeadingFaults], most: int) -> dict[tuple[str, str], str]:
    labels: dict[tuple[str, str], str] = {}
    best: dict[tuple[str, str], float] = {}
    for faults in named.values():
        for fault in faults:
            key = (fault.component, fault.state)
            labels.setdefault(key, f"{fault.label}: {fault.state_label}")
            best[key] = max(best.get(key, 0.0), fault.probability)
    chosen = set(sorted(best, key=lambda key: -best[key])[:most])
    return {key: label for key, label in labels.items() if key in chosen}


def plot_ranking(ranking: Ranking, *, most: int = 8, ax: Axes | None = None) -> Axes:
    """The first `most` tests of a ranking as bars of bits per unit of money; gain and cost are written beside them.

    Returns the axes. Raises ArgumentError if the ranking holds no tests.
    """
    tests = ranking.tests[:most]
    if not tests:
        raise ArgumentError("ranking: it holds no tests; there is nothing to draw", "ranking")
    ax = _axes(ax, 2 * len(tests))
    values = [test.gain_per_cost for test in tests]
    bars = ax.barh(range(len(tests)), values, height=0.7, edgecolor="black", facecolor="#bbbbbb")
    money = f" {ranking.currency}" if ranking.currency else ""
    notes = [f"{test.gain_bits:.3g} bits for {test.cost:.2f}{money}" for test in tests]
    ax.bar_label(bars, labels=notes, padding=3, fontsize=8)
    ax.set_yticks(range(len(tests)), [_wrapped(test.label) for test in tests], fontsize=9)
    ax.invert_yaxis()
    ax.set_xlim(0, 1.45 * max(values))
    ax.set_xlabel(f"expected information gain, bits per{money or ' unit of cost'}")
    return _tidied(ax)


def plot_forecast(forecast: TestForecast, *, ax: Axes | None = None) -> Axes:
    """What each outcome of a test would do to the leading faults. Returns the axes.

    Raises ArgumentError if the ranking was made without effects, or has too many outcomes to be told apart.
    """
    series = {
        f"{outcome.label} ({percent(outcome.probability)})": outcome.leading
        for outcome in forecast.outcomes
        if outcome.leading
    }
    if not series:
        raise ArgumentError("forecast: it holds no effects; rank the tests with effects=True", "forecast")
    ax = plot_faults(series, ax=ax)
    _place_legend(ax, f"if “{forecast.label}” gives")
    return ax


def plot_steps(
    series: Mapping[str, PricedSteps] | PricedSteps, *, currency: str = "", most: int = 12, ax: Axes | None = None
) -> Axes:
    """Expected cost to the end of the case of each step that could come next, side by side, the cheapest first.

    The dark part is the step itself, the light part what is expected to follow. series: steps, or {title: steps} (such
    as before and after a finding), at most six of them. Shown are the `most` steps that are cheapest in any of them.
    currency: for the axis. Returns the axes. Raises ArgumentError.
    """
    named: dict[str, PricedSteps] = dict(series) if isinstance(series, Mapping) else {"": series}
    if not 1 <= len(named) <= len(_FILLS):
        raise ArgumentError(f"series: {len(named)} of them; give 1 to {len(_FILLS)}", "series")
    labels, best = _cheapest(named, most)
    if not labels:
        raise ArgumentError("series: it holds no steps; there is nothing to draw", "series")
    ax = _axes(ax, len(labels) * max(len(named), _LINES_OF_A_LABEL))
    height = 0.8 / len(named)
    for index, ((title, steps), fill) in enumerate(zip(named.items(), _FILLS[1:] + _FILLS[:1], strict=False)):
        known = {one.step: one for one in steps}
        shown = [(row, known[step]) for row, step in enumerate(labels) if step in known]
        places = [row + (index - (len(named) - 1) / 2) * height for row, _ in shown]
        own = [one.step_cost for _, one in shown]
        rest = [one.expected_cost - one.step_cost for _, one in shown]
        edge: dict[str, Any] = {"height": height * 0.9, "edgecolor": "black", "linewidth": 0.8}
        ax.barh(places, own, facecolor="#333333", label="the step itself" if index == 0 else None, **edge)
        bars = ax.barh(places, rest, left=own, label=title or "what follows", **edge, **fill)
        ax.bar_label(bars, labels=[f"{one.expected_cost:.2f}" for _, one in shown], padding=3, fontsize=8)
    ax.set_yticks(range(len(labels)), [_wrapped(label) for label in labels.values()], fontsize=9)
    ax.invert_yaxis()
    ax.set_xlim(0, _LABEL_SPACE * best or 1)
    ax.set_xlabel("expected cost to the end of the case" + (f", {currency}" if currency else ""))
    _place_legend(ax)
    return _tidied(ax)


def _cheapest(named: Mapping[str, PricedSteps], most: int) -> tuple[dict[Step, str], float]:
    """The steps to show with their labels, the cheapest first, and the highest cost among them."""
    labels: dict[Step, str] = {}
    least: dict[Step, float] = {}
    highest: dict[Step, float] = {}
    for steps in named.values():
        for one in steps:
            labels.setdefault(one.step, one.label)
            least[one.step] = min(least.get(one.step, one.expected_cost), one.expected_cost)
            highest[one.step] = max(highest.get(one.step, 0.0), one.expected_cost)
    chosen = sorted(least, key=lambda step: least[step])[:most]
    return {step: labels[step] for step in chosen}, max((highest[step] for step in chosen), default=0.0)


def plot_policy_tree_costs(
    policy_trees: Mapping[str, PolicyTree], *, currency: str = "", ax: Axes | None = None
) -> Axes:
    """What a case costs under each of several policies: the probability that more than so much is paid in the end.

    policy_trees: {title: policy tree}, at most four, each followed to the end. Returns the axes. Raises ArgumentError.
    """
    if not 1 <= len(policy_trees) <= len(_LINES):
        raise ArgumentError(f"policy_trees: {len(policy_trees)} of them; give 1 to {len(_LINES)}", "policy_trees")
    ax = _axes(ax, 12)
    for (title, policy_tree), line in zip(policy_trees.items(), _LINES, strict=False):
        costs = sorted(_costs_of_cases(policy_tree))
        paid = [0.0]
        left = [1.0]
        for cost, probability in costs:
            paid.append(cost)
            left.append(left[-1] - probability)
        label = f"{title} (expected {policy_tree.expected_cost():.2f})"
        ax.step(paid, left, where="post", color="black", label=label, **line)
    ax.set_ylim(0, 1.02)
    ax.set_xlim(left=0)
    ax.set_ylabel("probability that it costs more")
    ax.set_xlabel("cost of the whole case" + (f", {currency}" if currency else ""))
    _place_legend(ax)
    return _tidied(ax)


def _costs_of_cases(policy_tree: PolicyTree) -> list[tuple[float, float]]:
    """(cost of the whole case, probability) of each way through the policy tree."""
    paid = [0.0] * len(policy_tree.nodes)
    ends = []
    for place, node in enumerate(policy_tree.nodes):
        paid[place] += node.step_cost
        if node.kind == "ask_again":
            raise ArgumentError("policy_trees: one is folded; give it whole", "policy_trees")
        if not node.branches:
            ends.append((paid[place], node.probability))
        for branch in node.branches:
            paid[branch.node] = paid[place]
    return ends


def _wrapped(label: str) -> str:
    return textwrap.fill(label, _LABEL_LETTERS, max_lines=_LINES_OF_A_LABEL, placeholder=" …")


def _place_legend(ax: Axes, title: str | None = None) -> None:
    ax.legend(
        title=title,
        title_fontsize=9,
        fontsize=8,
        frameon=False,
        loc="lower left",
        bbox_to_anchor=(0, 1),
        borderaxespad=0.2,
        alignment="left",
    )


def _tidied(ax: Axes) -> Axes:
    for side in ("top", "right"):
        ax.spines[side].set_visible(False)
    return ax
