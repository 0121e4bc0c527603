# SPDX-License-Identifier: BSD-3-Clause
"""Pictures for growth.py: markers and line styles tell the series apart, so that they read in black and white."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import matplotlib as mpl
import matplotlib.ticker
import numpy as np

mpl.use("agg")
import matplotlib.pyplot as plt

STYLES = {
    "compile": {"marker": "s", "markerfacecolor": "black", "linestyle": "-"},
    "posteriors": {"marker": "o", "markerfacecolor": "white", "linestyle": "--"},
    "changed": {"marker": "^", "markerfacecolor": "#999999", "linestyle": ":"},
}


def draw(study: dict[str, Any], file: Path) -> None:
    """Draw the times of a study, from the fastest to the slowest model, and the lines where they were fitted."""
    figure, axes = plt.subplots(figsize=(7.2, 4.8), layout="constrained")
    sizes = np.array([point["size"] for point in study["points"]])
    spaced = np.linspace if study["exponential"] else np.geomspace
    for way, slope in study["slopes"].items():
        along = spaced(*slope["fitted"], 50)
        times = np.array([1e3 * point["seconds"][way] for point in study["points"]])
        below = times - [1e3 * point["fastest"][way] for point in study["points"]]
        above = [1e3 * point["slowest"][way] for point in study["points"]] - times
        style = STYLES[way]
        axes.errorbar(
            sizes,
            times,
            yerr=[below, above],
            color="black",
            linestyle="none",
            marker=style["marker"],
            markerfacecolor=style["markerfacecolor"],
            markersize=6,
            elinewidth=0.7,
            capsize=2,
        )
        fitted = slope["start"] + slope["slope"] * (along if study["exponential"] else np.log2(along))
        axes.plot(along, 1e3 * 2.0**fitted, color="black", linewidth=1.1, linestyle=style["linestyle"])
        axes.plot([], [], color="black", label=f"{way}: {slope['name']}", **style)
    axes.set_yscale("log")
    axes.yaxis.set_major_locator(mpl.ticker.LogLocator(subs=(1.0, 2.0, 5.0)))
    axes.yaxis.set_major_formatter(lambda value, _: f"{value:g}")
    axes.yaxis.set_minor_formatter(mpl.ticker.NullFormatter())
    if not study["exponential"]:
        axes.set_xscale("log")
        axes.set_xticks(sizes, [f"{size:g}" for size in sizes])
        axes.xaxis.set_minor_locator(plt.NullLocator())
    axes.set_xlabel(study["size"])
    axes.set_ylabel("processor time, ms")
    axes.set_title(study["title"], fontsize=11)
    axes.grid(visible=True, which="major", color="#cccccc", linewidth=0.5)
    axes.legend(frameon=True, framealpha=1.0, edgecolor="black", fontsize=9)
    figure.savefig(file, dpi=130)
    plt.close(figure)
