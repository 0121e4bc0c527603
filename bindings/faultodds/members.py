# SPDX-License-Identifier: BSD-3-Clause
"""The members of model files as types: what ModelBuilder takes.

Written by bindings/generate.py from models/fault-model.schema.json: not to be changed by hand.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, TypedDict


class HeaderMembers(TypedDict, total=False):
    """What a model file says of the model as a whole.

    title: A name for people. invented_data: True: the numbers are invented and must be tuned before any real use.
    safety: Shown before any advice. source: Where the numbers come from, on the whole. currency: Of every "money", such
    as EUR. labour_rate: Money per hour.
    """

    title: str
    version: str
    description: str
    authors: Iterable[str]
    invented_data: bool
    safety: str
    source: str
    currency: str
    labour_rate: float


class TableMembers(TypedDict, total=False):
    """What a model file says of a table.

    otherwise: For configurations without a row. values: Instead of rows: all numbers, row after row, the last parent
    running fastest.
    """

    given: Iterable[str]
    rows: Iterable[Mapping[str, Any]]
    otherwise: float | Mapping[str, float] | Iterable[float]
    values: Iterable[float]


class NoisyOrMembers(TypedDict, total=False):
    """What a model file says of a noisy or.

    leak: The effect without any of these causes; 0 if it is left out.
    """

    leak: float | Mapping[str, float] | Iterable[float]
    causes: Iterable[Mapping[str, Any]]


class NoisyMaxMembers(TypedDict, total=False):
    """What a model file says of a noisy max.

    leak: The effect without any of these causes; absent if it is left out.
    """

    leak: float | Mapping[str, float] | Iterable[float]
    causes: Iterable[Mapping[str, Any]]


class AtLeastMembers(TypedDict, total=False):
    """What a model file says of an at least."""

    count: int
    of: Iterable[str | Mapping[str, Any]]


class ExaminesMembers(TypedDict, total=False):
    """What a model file says of an examines.

    detects: P(second outcome) while it is faulty: for all fault states, or for each. false_alarm: P(second outcome)
    while it is sound.
    """

    component: str
    detects: float | Mapping[str, float]
    false_alarm: float


class VariableMembers(TypedDict, total=False):
    """What a model file says of a variable.

    label: For people; the name if it is left out. states: The sound, normal or absent one first. source: Where the
    numbers come from: a title, a standard, or "common practice, no source". properties: Free notes kept from
    interchange files. prior: One number: the second of two states. By state: the first takes the rest, unless it is
    named too. A list: all states in order. table: A row for each configuration of the parents. noisy_or: Causes that
    act independently on an effect with two states. noisy_max: Causes that act independently on a graded effect; the
    strongest wins. any: The second state when any of the inputs holds. all: The second state when all of the inputs
    hold. at_least: The second state when at least so many of the inputs hold. examines: A test with two outcomes that
    looks at one component. unweighted: No table of its own; only potentials involve it.
    """

    label: str
    description: str
    states: Iterable[str | Mapping[str, Any]]
    source: str
    properties: Iterable[str]
    prior: float | Mapping[str, float] | Iterable[float]
    table: TableMembers
    noisy_or: NoisyOrMembers
    noisy_max: NoisyMaxMembers
    any: Iterable[str | Mapping[str, Any]]
    all: Iterable[str | Mapping[str, Any]]
    at_least: AtLeastMembers
    examines: ExaminesMembers
    unweighted: bool


class ContextMembers(VariableMembers, total=False):
    """What a model file says of a context.

    question: How to ask for it at the bench.
    """

    question: str


class ComponentMembers(VariableMembers, total=False):
    """What a model file says of a component.

    system: The part of the vehicle it belongs to. remainder: Means "not any listed fault".
    """

    system: str
    remainder: bool


class HiddenMembers(VariableMembers, total=False):
    """What a model file says of a hidden."""


class UnclassifiedMembers(VariableMembers, total=False):
    """What a model file says of a unclassified."""


class SymptomMembers(VariableMembers, total=False):
    """What a model file says of a symptom.

    question: How to ask for it at the bench. complaint: A customer may come in with it. code: The trouble code that it
    is, such as P0171. conditions: When it shows: hot, cold, under load.
    """

    question: str
    complaint: bool
    code: str
    conditions: Iterable[str]


class TestMembers(VariableMembers, total=False):
    """What a model file says of a test.

    question: How to ask for it at the bench. procedure: How it is done, in one line. reading: The measured quantity
    behind the outcomes, and the limits or spreads that make them. reveals: Symptoms that become known by doing it;
    their findings then take the place of its outcome. only_when: What has to be found before the test makes sense:
    contexts, symptoms or other tests, and their states; all must hold. not_when: What rules the test out once it is
    found; any of these does. by_context: Amounts that depend on contexts; the first row that holds counts, and what it
    leaves out stays the plain amount. skill: The least skill level; left out: anybody.
    """

    question: str
    procedure: str
    reading: ReadingMembers
    reveals: Iterable[str]
    only_when: Mapping[str, str | Iterable[str]]
    not_when: Mapping[str, str | Iterable[str]]
    minutes: float
    wait_minutes: float
    money: float
    by_context: Iterable[ContextCostMembers]
    access: Iterable[str]
    conditions: Iterable[str]
    tools: Iterable[str]
    skill: str
    cautions: Iterable[str]
    cost_source: str


class ReadingMembers(TypedDict, total=False):
    """What a model file says of a reading.

    unit: SI-style symbol, such as kPa, V, ohm, g/s, degC, 1/min. difference: True for a difference: of temperatures, 1
    degC is then 1 K. spreads: How true values are spread, one for each outcome; they then take the place of the limits.
    gauge_error: Standard deviation of what the gauge shows: a number in the unit of the reading, or a fixed part and a
    share of the reading. same_instrument: Repeated readings carry the same error; left out: an error each. at_least:
    Numbers below are impossible. at_most: Numbers above are impossible. source: Where the numbers come from: a title, a
    standard, or "common practice, no source".
    """

    quantity: str
    unit: str
    difference: bool
    limits: Iterable[Mapping[str, Any]]
    spreads: Iterable[SpreadMembers]
    gauge_error: float | Mapping[str, Any]
    same_instrument: bool
    at_least: float
    at_most: float
    source: str


class SpreadMembers(TypedDict, total=False):
    """What a model file says of a spread.

    lognormal: The natural logarithm is normal, with the standard deviation log_sd.
    """

    outcome: str
    normal: Mapping[str, Any]
    lognormal: Mapping[str, Any]
    uniform: Mapping[str, Any]


class TermMembers(TypedDict, total=False):
    """What a model file says of a term.

    label: For people; the name if it is left out.
    """

    label: str
    description: str


class CautionMembers(TypedDict, total=False):
    """What a model file says of a caution.

    label: For people; the name if it is left out. text: What can happen, and what to do about it.
    """

    label: str
    text: str


class AccessMembers(TypedDict, total=False):
    """What a model file says of an access.

    label: For people; the name if it is left out. by_context: Amounts that depend on contexts; the first row that holds
    counts, and what it leaves out stays the plain amount. conditions: What must be in place while anything behind it is
    done. skill: The least skill level; left out: anybody.
    """

    label: str
    description: str
    minutes: float
    wait_minutes: float
    money: float
    by_context: Iterable[ContextCostMembers]
    needs: Iterable[str]
    conditions: Iterable[str]
    tools: Iterable[str]
    skill: str
    cautions: Iterable[str]
    cost_source: str


class RepairMembers(TypedDict, total=False):
    """What a model file says of a repair.

    label: For people; the name if it is left out. component: What it mends. mends: Fault states it can mend; left out:
    all of them. An empty list is for one that only eases, see partial. success: Probability that the fault is gone
    afterwards; 1 if it is left out. partial: Better, but not gone: for a fault state the other fault states it may
    become, in addition to the success. procedure: How it is done, in one line. by_context: Amounts that depend on
    contexts; the first row that holds counts, and what it leaves out stays the plain amount. verification: Its own
    check, in place of that of the model. skill: The least skill level; left out: anybody. source: Where the numbers
    come from: a title, a standard, or "common practice, no source".
    """

    label: str
    component: str
    mends: str | Iterable[str]
    success: float
    partial: Mapping[str, Mapping[str, float]]
    procedure: str
    minutes: float
    wait_minutes: float
    money: float
    by_context: Iterable[ContextCostMembers]
    verification: VerificationMembers
    access: Iterable[str]
    conditions: Iterable[str]
    tools: Iterable[str]
    skill: str
    cautions: Iterable[str]
    cost_source: str
    source: str


class ContextCostMembers(TypedDict, total=False):
    """What a model file says of a context cost.

    when: Contexts and their states; all must hold.
    """

    when: Mapping[str, str | Iterable[str]]
    minutes: float
    wait_minutes: float
    money: float


class ConditionMembers(TypedDict, total=False):
    """What a model file says of a condition.

    label: For people; the name if it is left out. group: Conditions of one group exclude each other: engine_cold and
    engine_hot share "engine". at_start: In place when a case begins. by_context: Amounts that depend on contexts; the
    first row that holds counts, and what it leaves out stays the plain amount. skill: The least skill level; left out:
    anybody.
    """

    label: str
    description: str
    group: str
    at_start: bool
    minutes: float
    wait_minutes: float
    money: float
    by_context: Iterable[ContextCostMembers]
    tools: Iterable[str]
    skill: str
    cautions: Iterable[str]
    cost_source: str


class HandOverMembers(TypedDict, total=False):
    """What a model file says of a hand over.

    label: For people; the name if it is left out. money: All that it costs, but for the repair if that is given apart.
    wait_minutes: Minutes until the vehicle is back. tells: What the specialist can do that this bench cannot. repair:
    What the repair costs there, besides the fee. source: Where the numbers come from: a title, a standard, or "common
    practice, no source".
    """

    label: str
    description: str
    money: float
    wait_minutes: float
    tells: str
    repair: Mapping[str, Any]
    source: str


class VerificationMembers(TypedDict, total=False):
    """What a model file says of a verification.

    label: For people; the name if it is left out. procedure: How it is done, in one line. false_cured: P(seems cured |
    not cured); 0 if it is left out, 1 if nothing is checked. false_still_there: P(seems still there | cured).
    by_context: Amounts that depend on contexts; the first row that holds counts, and what it leaves out stays the plain
    amount. skill: The least skill level; left out: anybody. source: Where the numbers come from: a title, a standard,
    or "common practice, no source".
    """

    label: str
    procedure: str
    false_cured: float
    false_still_there: float
    minutes: float
    wait_minutes: float
    money: float
    by_context: Iterable[ContextCostMembers]
    access: Iterable[str]
    conditions: Iterable[str]
    tools: Iterable[str]
    skill: str
    cautions: Iterable[str]
    cost_source: str
    source: str


class ComebackMembers(TypedDict, total=False):
    """What a model file says of a comeback.

    source: Where the numbers come from: a title, a standard, or "common practice, no source".
    """

    money: float
    minutes: float
    source: str


class LiveWithMembers(TypedDict, total=False):
    """What a model file says of a live with.

    source: Where the numbers come from: a title, a standard, or "common practice, no source".
    """

    money: float
    source: str


class PotentialMembers(TypedDict, total=False):
    """What a model file says of a potential.

    values: Weights, the last variable of the scope running fastest.
    """

    scope: Iterable[str]
    values: Iterable[float]
