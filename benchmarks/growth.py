# SPDX-License-Identifier: BSD-3-Clause
"""How the time of one case grows with its size: slopes fitted to measured times.

    python benchmarks/growth.py [--quick] [--json OUT] [--plot FOLDER]

Every point is measured on several invented models, drawn from seeds, in three ways:

compile     from the model to log P(findings): the solver, the junction tree of the case, one sweep
posteriors  all findings entered anew, the posteriors of all variables read; the tree is there
changed     one finding changed to and fro, the posteriors of all variables read

Times are processor time of one core, as a Python program sees them: the records that hold the answers included. A point
is the median over the models, each of them the median of its repetitions. A slope is that of the straight line of least
squares (numpy.polyfit) through the larger half of the points, where what grows outweighs what does not: of log time on
log size for a power, of log2 time on the size itself for an exponential. Needs NumPy, and matplotlib for the pictures.
"""

from __future__ import annotations

import argparse
import gc
import json
import random
import statistics
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import faultodds
import numpy as np
from growth_models import Vehicle, band, two_layers

WAYS = ("compile", "posteriors", "changed")
FEWEST_FITTED = 4
LEAST_SECONDS = 0.002
"""A shorter piece of work is repeated within one measurement."""


@dataclass(frozen=True)
class Study:
    """One size that grows while the others stay."""

    name: str
    title: str
    size: str
    symbol: str
    exponential: bool
    sizes: tuple[int, ...]
    quick_sizes: tuple[int, ...]
    vehicle: Callable[[int, random.Random], Vehicle]


STUDIES = (
    Study(
        "findings",
        "Findings, all but eight of them normal",
        "findings",
        "n",
        False,
        (16, 24, 32, 48, 64, 96, 128, 192, 256, 384),
        (16, 32, 64),
        lambda n, draw: two_layers(draw, components=100, effects=400, causes=3, abnormal=8, normal=n - 8),
    ),
    Study(
        "abnormal",
        "Abnormal findings that share causes, beside 24 normal ones",
        "abnormal findings",
        "a",
        True,
        (4, 6, 8, 10, 12, 14, 16),
        (4, 6, 8),
        lambda n, draw: two_layers(draw, components=60, effects=200, causes=8, abnormal=n, normal=24),
    ),
    Study(
        "components",
        "Components, each with two effects, and 20 findings",
        "components",
        "n",
        False,
        (50, 100, 200, 400, 800, 1600),
        (50, 100, 200),
        lambda n, draw: two_layers(draw, components=n, effects=2 * n, causes=3, abnormal=6, normal=14),
    ),
    Study(
        "causes",
        "Causes of an effect, among 120 components, and 20 findings",
        "causes of an effect",
        "c",
        False,
        (3, 4, 6, 8, 12, 16, 24, 32, 48, 64),
        (3, 6, 12),
        lambda n, draw: two_layers(draw, components=120, effects=120, causes=n, abnormal=6, normal=14),
    ),
    Study(
        "width",
        "Width of the junction tree: 30 variables, each depending on those before it",
        "width (variables of the largest table, less one)",
        "w",
        True,
        (2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14),
        (3, 6, 9),
        lambda n, draw: band(draw, length=30, width=n, findings=6),
    ),
)


def seconds_of(work: Callable[[], object], repetitions: int) -> float:
    """Processor seconds of one piece of work: the median of the repetitions."""
    work()
    rounds = 1
    times: list[float] = []
    while len(times) < repetitions:
        before = time.process_time()
        for _ in range(rounds):
            work()
        taken = time.process_time() - before
        if taken < LEAST_SECONDS and not times:
            rounds *= 2
            continue
        times.append(taken / rounds)
    return statistics.median(times)


def compiled(vehicle: Vehicle) -> faultodds.Case:
    """From the model to log P(findings)."""
    case = faultodds.Case(faultodds.Solver(vehicle.model))
    case.add(vehicle.findings)
    case.log_evidence()
    return case


def times_of(vehicle: Vehicle, repetitions: int) -> dict[str, float]:
    """Return the seconds of each way."""
    case = compiled(vehicle)
    turn = 0

    def anew() -> object:
        case.take_back_to(0)
        case.add(vehicle.findings)
        return case.posteriors()

    def changed() -> object:
        nonlocal turn
        turn = 1 - turn
        case.change(vehicle.changed if turn else vehicle.findings[-1])
        return case.posteriors()

    works: tuple[Callable[[], object], ...] = (lambda: compiled(vehicle), anew, changed)
    return {way: seconds_of(work, repetitions) for way, work in zip(WAYS, works, strict=True)}


def points_of(study: Study, *, quick: bool, models: int, repetitions: int) -> Iterator[dict[str, Any]]:
    """Measure a study, one point a size."""
    for size in study.quick_sizes if quick else study.sizes:
        vehicles = [study.vehicle(size, random.Random(f"{study.name} {size} {seed}")) for seed in range(models)]
        found = [times_of(vehicle, repetitions) for vehicle in vehicles]
        yield {
            "size": statistics.median(vehicle.width or size for vehicle in vehicles),
            "seconds": {way: statistics.median(times[way] for times in found) for way in WAYS},
            "fastest": {way: min(times[way] for times in found) for way in WAYS},
            "slowest": {way: max(times[way] for times in found) for way in WAYS},
        }


def slope_of(study: Study, points: list[dict[str, Any]], way: str) -> dict[str, Any]:
    """Fit the straight line of least squares to the larger half of the points, and name its slope."""
    points = points[-max(FEWEST_FITTED, (len(points) + 1) // 2) :]
    sizes = np.array([point["size"] for point in points])
    times = np.log2([point["seconds"][way] for point in points])
    along = sizes if study.exponential else np.log2(sizes)
    slope, start = (float(value) for value in np.polyfit(along, times, 1))
    left = times - (start + slope * along)
    spread = float(np.sum((along - along.mean()) ** 2))
    error = float(np.sqrt(np.sum(left**2) / (len(points) - 2) / spread))
    explained = 1.0 - float(np.sum(left**2) / np.sum((times - times.mean()) ** 2))
    law = f"2^({slope:.2f} {study.symbol})" if study.exponential else f"{study.symbol}^{slope:.2f}"
    return {
        "name": f"time ~ {law}",
        "slope": slope,
        "standard_error": error,
        "explained": explained,
        "start": start,
        "fitted": [float(sizes[0]), float(sizes[-1])],
        "axes": "log time, size" if study.exponential else "log time, log size",
    }


def measured(study: Study, *, quick: bool, models: int, repetitions: int) -> dict[str, Any]:
    """Return the points and slopes of a study."""
    points = list(points_of(study, quick=quick, models=models, repetitions=repetitions))
    return {
        "name": study.name,
        "title": study.title,
        "size": study.size,
        "exponential": study.exponential,
        "points": points,
        "slopes": {way: slope_of(study, points, way) for way in WAYS},
    }


def print_study(study: dict[str, Any]) -> None:
    """Print the table of a study: times in milliseconds, then the slopes."""
    print(f"\n{study['title']}")
    print(f"  {study['size']:>50}" + "".join(f"{way:>16}" for way in WAYS))
    for point in study["points"]:
        print(f"  {point['size']:50.4g}" + "".join(f"{1e3 * point['seconds'][way]:13.4g} ms" for way in WAYS))
    for way, slope in study["slopes"].items():
        print(f"  {way}: {slope['name']} +- {slope['standard_error']:.2f}, R^2 {slope['explained']:.3f}")


def main() -> None:
    """Run the studies."""
    parser = argparse.ArgumentParser(description="How the time of one case grows with its size.")
    parser.add_argument("--json", type=Path, metavar="OUT", help="write all points and slopes into this file")
    parser.add_argument("--plot", type=Path, metavar="FOLDER", help="draw a picture of each study into this folder")
    parser.add_argument("--quick", action="store_true", help="few and small sizes, to see that it runs")
    parser.add_argument("--only", action="append", choices=[study.name for study in STUDIES], help="this study only")
    options = parser.parse_args()
    models, repetitions = (2, 3) if options.quick else (3, 3)
    gc.disable()
    report = []
    for study in STUDIES:
        if options.only and study.name not in options.only:
            continue
        report.append(measured(study, quick=options.quick, models=models, repetitions=repetitions))
        print_study(report[-1])
        gc.collect()
    if options.json:
        about = {"build": faultodds.build_info(), "models": models, "repetitions": repetitions}
        options.json.write_text(json.dumps({**about, "studies": report}, indent=1) + "\n", encoding="utf-8")
    if options.plot:
        from growth_plots import draw

        options.plot.mkdir(parents=True, exist_ok=True)
        for study_report in report:
            draw(study_report, options.plot / f"growth-{study_report['name']}.png")


if __name__ == "__main__":
    main()
