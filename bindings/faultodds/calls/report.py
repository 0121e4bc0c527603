# SPDX-License-Identifier: BSD-3-Clause
"""Flow charts and reports: functions.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from faultodds import _core
from faultodds.records import JobReport, PolicyTree, ReportSums


def sums_of(report: JobReport) -> ReportSums:
    """Raises ArgumentError if an amount or a time is negative or not finite."""
    return _core._sums_of(report)


def write_report_markdown(report: JobReport) -> str:
    """As Markdown. The same report gives the same bytes. Raises ArgumentError as sums_of does, and if a probability
    is not between 0 and 1.
    """
    return _core._write_report_markdown(report)


def write_report_html(report: JobReport) -> str:
    """As one HTML document without outside resources that prints on A4. Raises as write_report_markdown does."""
    return _core._write_report_html(report)


def write_report_json(report: JobReport) -> str:
    """As JSON for programs: costs in units of the currency, rounded as in the text. Raises as write_report_markdown
    does.
    """
    return _core._write_report_json(report)


def write_flow_chart_svg(policy_tree: PolicyTree) -> tuple[str, ...]:
    """A4 pages in black and white, one SVG document each. Tests are boxes, repairs rounded ones, hand-over has a double
    frame, the end is an oval; every step says what it costs, what is expected to be paid from there to the end, and how
    often a case comes there; arrows carry outcome and probability. The heaviest branch goes on below, lighter ones to
    the right; what does not fit goes on at a numbered step of a later page. Cautions are given in full before the first
    step and by their labels in each step, before what is done. Raises ArgumentError if the texts do not fit the policy
    tree, or a step fits no page.
    """
    return _core._write_flow_chart_svg(policy_tree)


def write_flow_chart_html(policy_tree: PolicyTree) -> str:
    """The same pages in one HTML document without outside resources, which prints one page on each sheet."""
    return _core._write_flow_chart_html(policy_tree)


def write_flow_chart_dot(policy_tree: PolicyTree) -> str:
    """In the DOT language. Raises ArgumentError if the texts do not fit the policy tree, as the following do."""
    return _core._write_flow_chart_dot(policy_tree)


def write_flow_chart_markdown(policy_tree: PolicyTree) -> str:
    """A nested numbered list in Markdown."""
    return _core._write_flow_chart_markdown(policy_tree)


def write_flow_chart_json(policy_tree: PolicyTree) -> str:
    """JSON for programs: the policy tree's nodes by index, with texts and numbers."""
    return _core._write_flow_chart_json(policy_tree)
