# SPDX-License-Identifier: BSD-3-Clause
"""The same work by this library and by general-purpose ones, in one run, on one core.

    python benchmarks/peers.py --json OUT [NETWORK...]

NETWORK: a *.bif.gz file, or the name of one in the folder FAULTODDS_NETWORKS; all in that folder where none is given.
The work: a walk of up to 12 random findings on leaves, entered one by one, changed, and taken back, with the posteriors
of all variables read at every step (benchmarks/walk.hpp); "full" enters all findings of a step at once, "incremental"
changes one. And on alarm the gains of all its leaves as tests about all its roots.

This library's times come from the program faultodds_peer_loop, which runs the loop in C++, since its calls take
microseconds: "in place" reads the posteriors where they are, "case" copies them out of the class Case. Each peer runs
in a process of its own, which is stopped after the limit.
"""

from __future__ import annotations

import argparse
import gzip
import json
import math
import multiprocessing
import os
import subprocess
import sys
import tempfile
import time
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

import numpy as np
from peer_libraries import PEERS

LOOP = Path(__file__).parents[1] / "build" / "release" / "benchmarks" / "faultodds_peer_loop"
WAYS = ("full", "incremental")


def findings_along(walk: list[tuple[str, str | None]]) -> list[dict[str, str]]:
    """Return the findings after each step."""
    findings: dict[str, str] = {}
    along = []
    for name, state in walk:
        findings.pop(name, None)
        if state is not None:
            findings[name] = state
        along.append(dict(findings))
    return along


def largest_difference(found: list[Any], right: list[list[float]]) -> float:
    """Return the largest difference of two probabilities."""
    return max(float(np.max(np.abs(np.asarray(a).ravel() - np.asarray(b)))) for a, b in zip(found, right, strict=True))


def time_walk(peer: Any, ours: dict[str, Any], end: float, report: dict[str, Any]) -> None:
    """Fill in the mean seconds of a step, for as many steps as the time allows, and the agreement of the answers."""
    along = findings_along(ours["walk"])
    for way in WAYS:
        peer.full({})
        taken = 0.0
        for step, findings in enumerate(along):
            began = time.perf_counter()
            answers = getattr(peer, way)(findings)
            taken += time.perf_counter() - began
            difference = largest_difference(answers, ours["posteriors"][step])
            report["difference"] = max(report.get("difference", 0.0), difference)
            report[way] = taken / (step + 1)
            report[f"{way}_steps"] = step + 1
            if time.perf_counter() > end:
                break


def entropy(probabilities: Any) -> float:
    """Return the entropy in bits."""
    positive = np.asarray(probabilities).ravel()
    positive = positive[positive > 0.0]
    return float(-(positive * np.log2(positive)).sum())


def gains(
    peer: Any, tests: list[str], targets: list[str], variables: dict[str, list[str]], kind: str
) -> dict[str, float]:
    """What a user writes: H(targets) less what is left of it after each outcome, weighed with the outcomes."""
    order = list(variables)

    def uncertainty(findings: dict[str, str]) -> float:
        if kind == "joint":
            return entropy(peer.joint(targets, findings))
        posteriors = peer.full(findings)
        return sum(entropy(posteriors[order.index(target)]) for target in targets)

    before = uncertainty({})
    outcomes = {test: np.array(peer.full({})[order.index(test)]) for test in tests}
    result = {}
    for test in tests:
        result[test] = before
        for state, probability in zip(variables[test], outcomes[test], strict=True):
            if probability > 0.0:
                result[test] -= float(probability) * uncertainty({test: state})
    return result


def run_peer(name: str, path: str, job: str, ours: dict[str, Any], limit: float, results: Connection) -> None:
    """In a process of its own: sends what it has measured, or what went wrong."""
    report: dict[str, Any] = {}
    try:
        peer = PEERS[name](path, list(map(tuple, ours["variables"])))
        report["version"] = peer.version
        if job == "walk":
            time_walk(peer, ours, time.perf_counter() + 0.4 * limit, report)
        else:
            variables = dict(ours["variables"])
            began = time.perf_counter()
            found = gains(peer, ours["tests"], ours["targets"], variables, job)
            report["seconds"] = time.perf_counter() - began
            right = ours["ranking"][job]["gain_bits"]
            report["difference"] = max(abs(found[test] - right[test]) for test in right)
    except ImportError as error:
        report["skipped"] = f"not installed ({error})"
    except Exception as error:  # whatever a peer throws is what is reported
        report["skipped"] = f"{type(error).__name__}: {error}"[:200]
    results.send(report)


def ask_peer(name: str, path: str, job: str, ours: dict[str, Any], limit: float) -> dict[str, Any]:
    """Run a peer in a process that is stopped after the limit."""
    context = multiprocessing.get_context("spawn")
    receiver, sender = context.Pipe(duplex=False)
    process = context.Process(target=run_peer, args=(name, path, job, ours, limit, sender))
    process.start()
    sender.close()
    report: dict[str, Any] = {"skipped": f"took longer than {limit:g} s"}
    if receiver.poll(limit):
        try:
            report = receiver.recv()
        except EOFError:
            report = {"skipped": "ended without an answer"}
    process.kill()
    process.join()
    return report


def run_loop(loop: Path, path: str, *arguments: str) -> dict[str, Any]:
    """Return what this library's program prints."""
    done = subprocess.run([loop, path, *arguments], capture_output=True, text=True, check=False)
    if done.returncode != 0:
        return {"skipped": done.stderr.strip() or f"ended with {done.returncode}"}
    answer: dict[str, Any] = json.loads(done.stdout)
    return answer


def compare(name: str, path: str, options: argparse.Namespace) -> dict[str, Any]:
    """Measure one network; posteriors and walk, which only serve the comparison, stay out of the report."""
    ours = run_loop(options.loop, path, str(options.seconds))
    report: dict[str, Any] = {
        "network": name,
        "faultodds": {k: v for k, v in ours.items() if k in {"seconds", "skipped"}},
    }
    if "skipped" in ours:
        return report
    report["steps"] = len(ours["walk"])
    report["peers"] = {peer: ask_peer(peer, path, "walk", ours, options.limit) for peer in PEERS}
    if name == "alarm":
        report["ranking"] = compare_ranking(path, ours, options)
    return report


def compare_ranking(path: str, ours: dict[str, Any], options: argparse.Namespace) -> dict[str, Any]:
    """Measure the gains of all leaves about all roots."""
    ranking = run_loop(options.loop, path, str(options.seconds), "--ranking")
    ours = {**ours, "ranking": ranking, "tests": ranking["tests"], "targets": ranking["targets"]}
    result: dict[str, Any] = {}
    for kind in ("joint", "per_component"):
        result[kind] = {"faultodds": {"seconds": ranking[kind]["seconds"]}}
        for peer in PEERS:
            result[kind][peer] = ask_peer(peer, path, kind, ours, options.limit)
    return result


def ratio(peer: dict[str, Any], ours: dict[str, Any], way: str) -> float | None:
    """Return how many times as long a peer takes."""
    best = ours["seconds"].get("in_place", ours["seconds"]["case"])
    return peer[way] / best[way] if way in peer else None


def shown(milliseconds: float) -> str:
    """Return four digits."""
    return f"{milliseconds:.4g}"


def print_network(report: dict[str, Any]) -> None:
    """Print the times on one network."""
    ours = report["faultodds"]
    if "skipped" in ours:
        print(f"{report['network']:12} faultodds: {ours['skipped']}")
        return
    for way in WAYS:
        times = {place: seconds[way] for place, seconds in ours["seconds"].items()}
        text = ", ".join(f"{place} {shown(1e3 * seconds)} ms" for place, seconds in times.items())
        print(f"{report['network']:12} {way:11} faultodds {text}")
        for name, peer in report["peers"].items():
            if way not in peer:
                print(f"{'':24} {name}: {peer.get('skipped', 'no time left')}")
                continue
            print(
                f"{'':24} {name} {shown(1e3 * peer[way])} ms ({peer[f'{way}_steps']} steps): "
                f"{ratio(peer, ours, way):.0f} times; largest difference {peer['difference']:.1e}"
            )
    for kind, result in report.get("ranking", {}).items():
        own = result["faultodds"]["seconds"]
        print(f"{report['network']:12} gains of all leaves about all roots, {kind}: faultodds {shown(1e3 * own)} ms")
        for name in PEERS:
            peer = result[name]
            if "seconds" in peer:
                print(
                    f"{'':24} {name} {shown(1e3 * peer['seconds'])} ms: {peer['seconds'] / own:.0f} times; "
                    f"largest difference {peer['difference']:.1e} bits"
                )
            else:
                print(f"{'':24} {name}: {peer['skipped']}")
    sys.stdout.flush()


def geometric_means(reports: list[dict[str, Any]]) -> dict[str, dict[str, float]]:
    """Print and return the mean ratios, by peer and way."""
    means: dict[str, dict[str, float]] = {}
    for name in PEERS:
        for way in WAYS:
            pairs = [(r["peers"][name], r["faultodds"]) for r in reports if name in r.get("peers", {})]
            ratios = [found for peer, ours in pairs if (found := ratio(peer, ours, way)) is not None]
            if ratios:
                mean = math.exp(sum(map(math.log, ratios)) / len(ratios))
                means.setdefault(name, {})[way] = mean
                print(f"geometric mean over {len(ratios)} networks, {way}: {mean:.0f} times {name}")
    return means


def network_files(names: list[str]) -> list[Path]:
    """Return the files of the networks named, or of all, the smallest first."""
    folder = os.environ.get("FAULTODDS_NETWORKS")
    if not names:
        if folder is None:
            sys.exit("name networks, or set FAULTODDS_NETWORKS to a folder of *.bif.gz")
        return sorted(Path(folder).glob("*.bif.gz"), key=lambda path: path.stat().st_size)
    return [Path(name) if Path(name).exists() else Path(folder or ".") / f"{name}.bif.gz" for name in names]


def main() -> None:
    """Measure, print, write."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("networks", nargs="*", metavar="NETWORK")
    parser.add_argument("--json", type=Path, required=True, metavar="OUT", help="where the report goes")
    parser.add_argument("--loop", type=Path, default=LOOP, help="the program faultodds_peer_loop")
    parser.add_argument("--limit", type=float, default=120.0, help="seconds for a peer on a network (120)")
    parser.add_argument("--seconds", type=float, default=0.5, help="spent on each of this library's times (0.5)")
    options = parser.parse_args()
    for variable in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
        os.environ[variable] = "1"
    reports = []
    for file in network_files(options.networks):
        with tempfile.NamedTemporaryFile(suffix=".bif") as plain:
            plain.write(gzip.decompress(file.read_bytes()))
            plain.flush()
            reports.append(compare(file.name.removesuffix(".bif.gz"), plain.name, options))
        print_network(reports[-1])
    means = geometric_means(reports)
    options.json.write_text(
        json.dumps({"networks": reports, "geometric_means": means}, indent=1) + "\n", encoding="utf-8"
    )


if __name__ == "__main__":
    main()
