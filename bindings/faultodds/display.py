# SPDX-License-Identifier: BSD-3-Clause
"""What notebooks show: posteriors as bars, rankings and records as tables. Self-contained HTML, readable in print."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from html import escape
from typing import Any

from faultodds import flow_chart
from faultodds._core import Case, FaultModel
from faultodds.calls.ranking import leading_faults
from faultodds.errors import TooLarge
from faultodds.network_picture import MOST_VARIABLES, network_svg
from faultodds.records import (
    Explanation,
    Explanations,
    JointPosterior,
    LeadingFaults,
    OptimalPolicyTree,
    PolicyTree,
    Posteriors,
    Ranking,
    Records,
)

MOST_ROWS = 60
"""Rows of a table that notebooks show; the rest is named as a number."""

_BAR_WIDTH = 200
_LEAST_SHOWN = 0.0001
_FINE_BELOW = 0.01
_CELL = "padding:2px 8px;text-align:left;vertical-align:top"
_NUMBER = "padding:2px 8px;text-align:right;vertical-align:top;font-variant-numeric:tabular-nums"


def percent(probability: float) -> str:
    """A probability for people: never 0 % or 100 % for what is only nearly so."""
    if probability in (0.0, 1.0):
        return f"{probability:.0%}"
    if probability < _LEAST_SHOWN:
        return f"<{_LEAST_SHOWN:.2%}"
    if probability > 1 - _LEAST_SHOWN:
        return f">{1 - _LEAST_SHOWN:.2%}"
    near_an_end = min(probability, 1 - probability) < _FINE_BELOW
    return f"{probability:.2%}" if near_an_end else f"{probability:.1%}"


def _bar(probability: float) -> str:
    width = max(0.0, min(1.0, probability)) * _BAR_WIDTH
    return (
        f'<svg width="{_BAR_WIDTH}" height="12" role="img" aria-label="{percent(probability)}">'
        f'<rect x="0.5" y="0.5" width="{_BAR_WIDTH - 1}" height="11" fill="white" stroke="#999"/>'
        f'<rect x="0.5" y="0.5" width="{width:.1f}" height="11" fill="#333"/></svg>'
    )


def _cell(value: object) -> str:
    if isinstance(value, bool) or value is None:
        return f'<td style="{_CELL}">{"" if value is None else value}</td>'
    if isinstance(value, float):
        return f'<td style="{_NUMBER}">{value:.6g}</td>'
    if isinstance(value, int):
        return f'<td style="{_NUMBER}">{value}</td>'
    if isinstance(value, Mapping):
        text = ", ".join(f"{key}: {_plain(item)}" for key, item in value.items())
    elif isinstance(value, tuple | list):
        text = ", ".join(_plain(item) for item in value)
    else:
        text = str(value)
    return f'<td style="{_CELL}">{escape(text)}</td>'


def _plain(value: object) -> str:
    return f"{value:.4g}" if isinstance(value, float) else str(getattr(value, "name", value))


def _table(head: Iterable[str], rows: Iterable[str]) -> str:
    cells = "".join(f'<th style="{_CELL}">{escape(title)}</th>' for title in head)
    return f"<table><thead><tr>{cells}</tr></thead><tbody>{''.join(f'<tr>{row}</tr>' for row in rows)}</tbody></table>"


def table_html(rows: Sequence[Mapping[str, Any]]) -> str:
    """Records as a table with a column for each name; beyond MOST_ROWS it says how many rows are not shown."""
    if not rows:
        return "<p>(none)</p>"
    names = list(dict.fromkeys(name for row in rows for name in row))
    shown = ("".join(_cell(row.get(name)) for name in names) for row in rows[:MOST_ROWS])
    rest = f"<p>and {len(rows) - MOST_ROWS} more rows</p>" if len(rows) > MOST_ROWS else ""
    return _table(names, shown) + rest


def posteriors_html(posteriors: Posteriors) -> str:
    """Posteriors as bars, a row for each state."""
    rows = []
    before = None
    for record in posteriors[:MOST_ROWS]:
        title = f"<b>{escape(record.label)}</b>" if record.variable != before else ""
        before = record.variable
        rows.append(
            f'<td style="{_CELL}">{title}</td><td style="{_CELL}">{escape(record.state_label)}</td>'
            f'<td style="{_CELL}">{_bar(record.probability)}</td>'
            f'<td style="{_NUMBER}">{percent(record.probability)}</td>'
        )
    rest = f"<p>and {len(posteriors) - MOST_ROWS} more rows</p>" if len(posteriors) > MOST_ROWS else ""
    return _table(["variable", "state", "probability", ""], rows) + rest


def faults_html(faults: LeadingFaults) -> str:
    """Fault probabilities as bars."""
    rows = (
        f'<td style="{_CELL}">{escape(fault.label)}: {escape(fault.state_label)}</td>'
        f'<td style="{_CELL}">{_bar(fault.probability)}</td><td style="{_NUMBER}">{percent(fault.probability)}</td>'
        for fault in faults[:MOST_ROWS]
    )
    rest = f"<p>and {len(faults) - MOST_ROWS} more rows</p>" if len(faults) > MOST_ROWS else ""
    return _table(["fault", "probability", ""], rows) + rest


def explanations_html(explanations: Explanations) -> str:
    """Explanations as bars: the faults of each, or the states of its variables if it holds no fault."""
    about_faults = any(explanation.faults for explanation in explanations)
    rows = (
        f'<td style="{_CELL}">{escape(_explanation_text(explanation, about_faults))}</td>'
        f'<td style="{_CELL}">{_bar(explanation.probability)}</td>'
        f'<td style="{_NUMBER}">{percent(explanation.probability)}</td>'
        for explanation in explanations[:MOST_ROWS]
    )
    rest = f"<p>and {len(explanations) - MOST_ROWS} more rows</p>" if len(explanations) > MOST_ROWS else ""
    return _table(["explanation", "probability", ""], rows) + rest


def _explanation_text(explanation: Explanation, about_faults: bool) -> str:
    if about_faults:
        text = " and ".join(f"{fault.label}: {fault.state_label}" for fault in explanation.faults)
        return text or "none of these components faulty"
    return ", ".join(f"{name}={state}" for name, state in explanation.states.items())


def ranking_html(ranking: Ranking) -> str:
    """A ranking: the leading faults, the tests in rank order with their cautions, and what was left out."""
    about = "joint state" if ranking.gain == "joint" else "components, summed,"
    bound = " at most" if ranking.entropy_is_bound else ""
    parts = [f"<p>{escape(ranking.safety)}</p>"] if ranking.safety else []
    parts.append(
        f"<p>Gain about the {about} of {len(ranking.targets)} components; uncertainty{bound} "
        f"{ranking.entropy_bits:.4g} bits.</p>"
    )
    parts.append(faults_html(ranking.leading))
    money = f"cost ({ranking.currency})" if ranking.currency else "cost"
    rows = (
        f'<td style="{_NUMBER}">{place}</td>'
        f'<td style="{_CELL}">{_cautions(test.cautions)}<b>{escape(test.label)}</b><br>{escape(test.procedure)}</td>'
        f'<td style="{_NUMBER}">{test.gain_bits:.4g}</td><td style="{_NUMBER}">{test.cost:.4g}</td>'
        f'<td style="{_NUMBER}">{test.gain_per_cost:.4g}</td><td style="{_NUMBER}">{test.minutes:.4g}</td>'
        f'<td style="{_CELL}">{_outcomes(test.outcomes)}</td>'
        for place, test in enumerate(ranking.tests[:MOST_ROWS], start=1)
    )
    parts.append(_table(["", "test", "gain (bits)", money, "gain per cost", "minutes", "outcomes"], rows))
    if len(ranking.tests) > MOST_ROWS:
        parts.append(f"<p>and {len(ranking.tests) - MOST_ROWS} more tests</p>")
    if ranking.left_out:
        parts.append("<p>Left out:</p>" + table_html(ranking.left_out.rows()))
    return "".join(parts)


def _cautions(cautions: Iterable[Any]) -> str:
    return "".join(f"<b>Caution:</b> {escape(caution.description or caution.label)}<br>" for caution in cautions)


def _outcomes(outcomes: Iterable[Any]) -> str:
    return "<br>".join(f"{escape(outcome.label)} {percent(outcome.probability)}" for outcome in outcomes)


def model_html(model: FaultModel) -> str:
    """What a model is about, and its network if that is small enough to be read."""
    header = model.header()
    parts = [f"<p><b>{escape(header.title or header.name)}</b> {escape(header.version)}</p>"]
    if header.invented:
        parts.append("<p>The numbers are invented and must be tuned before any real use.</p>")
    parts.extend(f"<p>{escape(text)}</p>" for text in (header.description, header.safety) if text)
    counts: dict[str, int] = {}
    for variable in model.variables():
        counts[variable.role] = counts.get(variable.role, 0) + 1
    parts.append(table_html([{"role": role, "variables": count} for role, count in counts.items()]))
    if len(model) <= MOST_VARIABLES:
        parts.append(network_svg(model))
    return "".join(parts)


def case_html(case: Case) -> str:
    """The findings of a case and the faults they leave most probable."""
    model = case.model()
    findings = table_html([{"finding": _finding_text(model, finding)} for finding in case.findings()])
    if not model.with_role("component"):
        return findings
    try:
        faults = leading_faults(case, most=10)
    except TooLarge as error:
        return findings + f"<p>{escape(str(error))}</p>"
    return findings + faults_html(faults)


def _finding_text(model: FaultModel, finding: Any) -> str:
    variable = model.variable(finding.variable)
    if finding.state is not None:
        label = next(state.label for state in variable.states if state.name == finding.state)
        return f"{variable.label}: {label}"
    weights = ", ".join(f"{state} {weight:.4g}" for state, weight in finding.weights.items())
    return f"{variable.label}: weighed ({weights})"


def joint_html(joint: JointPosterior) -> str:
    """Joint probabilities as a table; beyond MOST_ROWS no records are made."""
    return table_html([record._row() for record in joint[: MOST_ROWS + 1]])


_HTML: dict[type, Callable[[Any], str]] = {
    Records: lambda records: table_html(records.rows()),
    Posteriors: posteriors_html,
    JointPosterior: joint_html,
    LeadingFaults: faults_html,
    Explanations: explanations_html,
    Ranking: ranking_html,
    FaultModel: model_html,
    Case: case_html,
    PolicyTree: flow_chart.pages_html,
    OptimalPolicyTree: lambda found: flow_chart.pages_html(found.policy_tree),
}
_SVG: dict[type, Callable[[Any], str]] = {
    PolicyTree: flow_chart.first_page,
    OptimalPolicyTree: lambda found: flow_chart.first_page(found.policy_tree),
}


def attach() -> None:
    """Tell notebooks how to show results: data know nothing of their display."""
    for name, shown in (("_repr_html_", _HTML), ("_repr_svg_", _SVG)):
        for kind, picture in shown.items():
            setattr(kind, name, picture)
