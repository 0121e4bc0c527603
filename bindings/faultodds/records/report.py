# SPDX-License-Identifier: BSD-3-Clause
"""Flow charts and reports.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class FlowCaution:
    """A caution: its name for the step, the whole of it for the first page."""

    label: str
    text: str


@dataclass(frozen=True)
class FlowStepTexts:
    """What a chart says of a test, a repair, a set-up or an end of the case.

    cautions: by index of FlowChartTexts::cautions; shown before the step. check: repair: how to see whether the
    complaint is gone. outcomes: test: labels.
    """

    label: str
    cautions: tuple[int, ...] = ()
    procedure: str = ""
    check: str = ""
    outcomes: tuple[str, ...] = ()


@dataclass(frozen=True)
class FlowChartTexts:
    """The texts of a chart, by the indices of its problem.

    invented: says on every page that the data are invented. notes: paragraphs for the head: what is assumed, what other
    ways cost.
    """

    title: str
    safety: str
    currency: str
    invented: bool
    cautions: tuple[FlowCaution, ...]
    tests: tuple[FlowStepTexts, ...]
    repairs: tuple[FlowStepTexts, ...]
    set_ups: tuple[FlowStepTexts, ...]
    hypotheses: tuple[str, ...]
    hand_over: FlowStepTexts
    live_with: FlowStepTexts
    notes: tuple[str, ...] = ()


@dataclass(frozen=True)
class ReportSums:
    """What steps cost, in hundredths of the currency: money and labour are rounded step by step, and everything else is
    summed from these, so that a report adds up to the cent.

    step_costs: money and labour of each step. cost: money and labour.
    """

    step_costs: tuple[int, ...]
    money: int
    labour: int
    cost: int
    minutes: float
    wait_minutes: float
