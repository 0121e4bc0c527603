"""Strategies as flow charts in files and notebooks."""

from __future__ import annotations

from collections.abc import Callable
from os import PathLike, fspath
from pathlib import Path
from typing import Literal, TypeAlias

from faultodds import _core
from faultodds.errors import ArgumentError
from faultodds.records import Strategy

FlowChartFormat: TypeAlias = Literal["svg", "html", "dot", "markdown", "json"]

MOST_NODES = 40
"""Nodes of a strategy that notebooks draw; what is reached most seldom is folded first."""

_FORMAT_OF_ENDING: dict[str, FlowChartFormat] = {
    ".svg": "svg",
    ".html": "html",
    ".htm": "html",
    ".dot": "dot",
    ".md": "markdown",
    ".json": "json",
}
_WRITERS: dict[str, Callable[[Strategy], str]] = {
    "html": _core.write_flow_chart_html,
    "dot": _core.write_flow_chart_dot,
    "markdown": _core.write_flow_chart_markdown,
    "json": _core.write_flow_chart_json,
}


def write_flow_chart(
    strategy: Strategy,
    path: str | PathLike[str],
    *,
    format: FlowChartFormat | None = None,  # noqa: A002 - the word that everybody looks for
    least_probability: float = 0.0,
) -> tuple[Path, ...]:
    """Write a strategy as a flow chart and return the files: one, or for SVG one for each A4 page.

    format: None for what the ending says (.svg, .html, .dot, .md, .json). Pages of an SVG after the first get their
    number before the ending. least_probability: steps that are reached with less are left out ("ask again"). Raises
    ArgumentError for other endings, and OSError where a file cannot be written.
    """
    file = Path(fspath(path))
    chosen = _FORMAT_OF_ENDING.get(file.suffix.lower()) if format is None else format
    if least_probability > 0:
        strategy = _core.folded(strategy, least_probability)
    if chosen == "svg":
        pages = _core.write_flow_chart_svg(strategy)
        files = [file, *(file.with_name(f"{file.stem}-{page}{file.suffix}") for page in range(2, len(pages) + 1))]
        for page_file, page in zip(files, pages, strict=True):
            page_file.write_text(page, encoding="utf-8")
        return tuple(files)
    if chosen not in _WRITERS:
        found = f'the ending is "{file.suffix}"' if format is None else f'got "{format}"'
        argument = "path" if format is None else "format"
        raise ArgumentError(f"{argument}: {found}; give svg, html, dot, markdown (.md) or json", argument)
    file.write_text(_WRITERS[chosen](strategy), encoding="utf-8")
    return (file,)


def shown(strategy: Strategy) -> Strategy:
    """Return the strategy with what is reached most seldom folded, until notebooks can show it."""
    if len(strategy) <= MOST_NODES:
        return strategy
    reached = sorted((node.probability for node in strategy.nodes), reverse=True)
    return _core.folded(strategy, reached[MOST_NODES])


def first_page(strategy: Strategy) -> str:
    """Return the first page of the chart as SVG."""
    return _core.write_flow_chart_svg(shown(strategy))[0]


def pages_html(strategy: Strategy) -> str:
    """Return all pages of the chart, one below the other."""
    pages = _core.write_flow_chart_svg(shown(strategy))
    return "".join(f"<div>{page[page.index('<svg') :]}</div>" for page in pages)
