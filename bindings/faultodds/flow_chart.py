# SPDX-License-Identifier: BSD-3-Clause
"""Policy trees as flow charts in files and notebooks."""

from __future__ import annotations

from collections.abc import Callable
from os import PathLike, fspath
from pathlib import Path
from typing import Literal, TypeAlias

from faultodds.calls.planning import folded
from faultodds.calls.report import (
    write_flow_chart_dot,
    write_flow_chart_html,
    write_flow_chart_json,
    write_flow_chart_markdown,
    write_flow_chart_svg,
)
from faultodds.errors import ArgumentError
from faultodds.records import PolicyTree

FlowChartFormat: TypeAlias = Literal["svg", "html", "dot", "markdown", "json"]

MOST_NODES = 40
"""Nodes of a policy tree that notebooks draw; what is reached most seldom is folded first."""

_FORMAT_OF_ENDING: dict[str, FlowChartFormat] = {
    ".svg": "svg",
    ".html": "html",
    ".htm": "html",
    ".dot": "dot",
    ".md": "markdown",
    ".json": "json",
}
_WRITERS: dict[str, Callable[[PolicyTree], str]] = {
    "html": write_flow_chart_html,
    "dot": write_flow_chart_dot,
    "markdown": write_flow_chart_markdown,
    "json": write_flow_chart_json,
}


def write_flow_chart(
    policy_tree: PolicyTree,
    path: str | PathLike[str],
    *,
    format: FlowChartFormat | None = None,  # noqa: A002 - the word that everybody looks for
    min_probability: float = 0.0,
) -> tuple[Path, ...]:
    """Write a policy tree as a flow chart and return the files: one, or for SVG one for each A4 page.

    format: None for what the ending says (.svg, .html, .dot, .md, .json). Pages of an SVG after the first get their
    number before the ending. min_probability: steps that are reached with less are left out ("ask again"). Raises
    ArgumentError for other endings, and OSError if a file cannot be written.
    """
    file = Path(fspath(path))
    chosen = _FORMAT_OF_ENDING.get(file.suffix.lower()) if format is None else format
    if min_probability > 0:
        policy_tree = folded(policy_tree, min_probability)
    if chosen == "svg":
        pages = write_flow_chart_svg(policy_tree)
        files = [file, *(file.with_name(f"{file.stem}-{page}{file.suffix}") for page in range(2, len(pages) + 1))]
        for page_file, page in zip(files, pages, strict=True):
            page_file.write_text(page, encoding="utf-8")
        return tuple(files)
    if chosen not in _WRITERS:
        found = f'the ending is "{file.suffix}"' if format is None else f'got "{format}"'
        argument = "path" if format is None else "format"
        raise ArgumentError(f"{argument}: {found}; give svg, html, dot, markdown (.md) or json", argument)
    file.write_text(_WRITERS[chosen](policy_tree), encoding="utf-8")
    return (file,)


def shown(policy_tree: PolicyTree) -> PolicyTree:
    """Return the policy tree with what is reached most seldom folded, until notebooks can show it."""
    if len(policy_tree) <= MOST_NODES:
        return policy_tree
    reached = sorted((node.probability for node in policy_tree.nodes), reverse=True)
    return folded(policy_tree, reached[MOST_NODES])


def first_page(policy_tree: PolicyTree) -> str:
    """Return the first page of the chart as SVG."""
    return write_flow_chart_svg(shown(policy_tree))[0]


def pages_html(policy_tree: PolicyTree) -> str:
    """Return all pages of the chart, one below the other."""
    pages = write_flow_chart_svg(shown(policy_tree))
    return "".join(f"<div>{page[page.index('<svg') :]}</div>" for page in pages)
