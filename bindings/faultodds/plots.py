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

    from faultodds.records import LeadingFaults, Ranking, TestForecast

_FILLS: tuple[dict[str, Any], ...] = (
    {"facecolor": "#333333", "hatch": ""},
    {"facecolor": "white", "hatch": "////"},
    {"facecolor": "#bbbbbb", "hatch": ""},
    {"facecolor": "white", "hatch": "...."},
    {"facecolor": "#eeeeee", "hatch": "xxxx"},
    {"facecolor": "white", "hatch": "----"},
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
    are most probable in any of them, in the order in which they first appear; where a series does not hold a fault,
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
    """The first `most` tests of a ranking as bars of bits per unit of money; gain and cost stand beside them.

    Returns the axes. Raises ArgumentError where the ranking holds no tests.
    """
    tests = ranking.tests[:most]
    if not tests:
        raise ArgumentError("ranking: it holds no tests; there is nothing to draw", "ranking")
    ax = _axes(ax, 2 * len(tests))
    values = [test.gain_per_cost for test in tests]
    bars = ax.barh(range(len(tests)), values, height=0.7, edgecolor="black", facecolor="#bbbbbb")
    money = f" {ranking.currency}" if ranking.currency else ""
    notes = [f"{test.gain_bits:.3g} bits for {test.cost:.3g}{money}" for test in tests]
    ax.bar_label(bars, labels=notes, padding=3, fontsize=8)
    ax.set_yticks(range(len(tests)), [_wrapped(test.label) for test in tests], fontsize=9)
    ax.invert_yaxis()
    ax.set_xlim(0, 1.45 * max(values))
    ax.set_xlabel(f"expected information gain, bits per{money or ' unit of cost'}")
    return _tidied(ax)


def plot_forecast(forecast: TestForecast, *, ax: Axes | None = None) -> Axes:
    """What each outcome of a test would do to the leading faults. Returns the axes.

    Raises ArgumentError where the ranking was made without effects, or has too many outcomes to be told apart.
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
