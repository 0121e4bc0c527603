# SPDX-License-Identifier: BSD-3-Clause
"""What a fault model says.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import ClassVar, Literal, TypeAlias

from faultodds.records.behaviour import OfOneRole, UnitFactor

ErrorCode: TypeAlias = Literal[
    "model",
    "unknown_name",
    "argument",
    "named_twice",
    "already_found",
    "index_out_of_range",
    "wrong_size",
    "wrong_number",
    "nothing_given",
    "not_offered",
    "one_fault_impossible",
    "wrong_reading",
    "contradictory",
    "counted_twice",
    "not_revealed",
    "wrong_role",
    "job_has_ended",
    "impossible_findings",
    "too_large",
    "stopped",
    "time_limit",
    "effort_spent",
]
"""What went wrong, for whoever words it in another language or acts on it. The facts are fields of the exceptions.

model: ModelError.

unknown_name: UnknownName.

argument: ArgumentError, as are the next ones: none of these.

named_twice: the same variable, state, test or step is named more than once.

already_found: the variable has a finding already.

index_out_of_range: a variable, state, test, repair, row or node that does not exist.

wrong_size: too few or too many numbers for what they are about.

wrong_number: not finite, negative, no probability, or beyond what is allowed.

nothing_given: something is needed and nothing is there.

not_offered: a step that the problem does not offer, or that was done already.

one_fault_impossible: the findings need more than one fault.

wrong_reading: a reading that makes no sense for its test.

contradictory: a finding that names one state and weighs others.

counted_twice: findings that count the same evidence twice: what a test showed, and its outcome.

not_revealed: what the test does not reveal.

wrong_role: a variable of another role than is needed: a component, a test.

job_has_ended: nothing but undo is possible.

impossible_findings: ImpossibleFindings.

too_large: TooLarge.

stopped: Stopped by the flag of the call or by a callback.

time_limit: Stopped: the time of the call is over.

effort_spent: Stopped: the work that was allowed is done.
"""


Role: TypeAlias = Literal["unclassified", "context", "component", "hidden", "symptom", "test"]
"""What a variable represents. `unclassified` is for plain networks from interchange files."""


Severity: TypeAlias = Literal["note", "warning"]
"""One of these."""


@dataclass(frozen=True)
class ContextCost:
    """What a piece of work costs if the context is as the gates say. An amount left out is the plain one.

    when: on contexts; all must hold.
    """

    when: Mapping[str, tuple[str, ...]] = field(hash=False)
    minutes: float | None
    money: float | None
    wait_minutes: float | None


@dataclass(frozen=True)
class Work:
    """Minutes and money of a piece of work, and what it demands. Names refer to the model's lists.

    minutes: somebody works. money: in the model's currency, without labour. access: opening work that must be done
    before. tools: tools needed. skill: the least skill level; empty: anybody. cautions: shown before the step.
    wait_minutes: the vehicle waits and nobody works: glue sets, the engine cools. conditions: that must be in place
    while it is done, at most one of a group. by_context: the first row whose gates hold counts.
    """

    minutes: float | None
    money: float | None
    access: tuple[str, ...]
    tools: tuple[str, ...]
    skill: str
    cautions: tuple[str, ...]
    source: str
    wait_minutes: float | None
    conditions: tuple[str, ...]
    by_context: tuple[ContextCost, ...]


@dataclass(frozen=True)
class Access:
    """Opening work paid once and shared by the tests and repairs behind it. `work.access` names what must be open
    before, `work.conditions` what must be in place whenever something behind it is done.
    """

    name: str
    label: str
    description: str
    work: Work


@dataclass(frozen=True)
class Condition:
    """The state that the vehicle must be in for some work: engine cold, on the road, a second person at hand.
    Bringing it about costs `work`, once; it then stays, until another of its group is brought about.

    group: conditions of one group exclude each other; empty: it excludes none. at_start: in place when a case begins.
    work: needs no access and no other condition.
    """

    name: str
    label: str
    description: str
    group: str
    at_start: bool
    work: Work


@dataclass(frozen=True)
class RepairElsewhere:
    """What the repair costs at a specialist who charges it besides the search.

    times_ours: times the cheapest of the model's repairs that mend the fault, its set-ups included. other: of what no
    repair of the model mends.
    """

    times_ours: float
    other: float


@dataclass(frozen=True)
class HandOver:
    """Giving the vehicle to a specialist, who finds the cause and mends it: that ends the case.

    money: all that it costs, but for `repair` if that is given. wait_minutes: until the vehicle is back. tells: what
    the specialist can do that this bench cannot. repair: None: `money` covers it.
    """

    name: str
    label: str
    description: str
    money: float | None
    wait_minutes: float | None
    tells: str
    source: str
    repair: RepairElsewhere | None


@dataclass(frozen=True)
class RepairCheck:
    """The check after a repair, whether the complaint is gone.

    false_cured: P(seems cured | not cured). false_still_there: P(seems still there | cured).
    """

    label: str
    procedure: str
    work: Work
    false_cured: float
    false_still_there: float
    source: str


@dataclass(frozen=True)
class Comeback:
    """What it costs, all told, when a vehicle leaves as cured and is not: goodwill, and the search that follows."""

    money: float | None
    minutes: float | None
    source: str


@dataclass(frozen=True)
class LiveWith:
    """What it costs, all told, to leave the complaint as it is."""

    money: float
    source: str


@dataclass(frozen=True)
class State:
    """A state: its name is what files and calls use, its label is for people (empty: the name serves)."""

    name: str
    label: str


@dataclass(frozen=True)
class Band:
    """The part of a reading's scale that makes an outcome: from <= reading < below; an absent end is open."""

    outcome: str
    from_: float | None
    below: float | None


@dataclass(frozen=True)
class GaugeError:
    """Standard deviation of what a gauge shows about the true value: `fixed`, in the unit of the reading, plus
    `share` of what it shows, as the accuracies of meters are stated.
    """

    fixed: float
    share: float


@dataclass(frozen=True)
class NormalSpread:
    """Normal with mean and standard deviation, in the unit of the reading."""

    mean: float
    sd: float


@dataclass(frozen=True)
class LognormalSpread:
    """The natural logarithm is normal: about that of `median`, with the standard deviation `log_sd`."""

    median: float
    log_sd: float


@dataclass(frozen=True)
class UniformSpread:
    """Even between two ends."""

    from_: float
    to: float


@dataclass(frozen=True)
class Spread:
    """How the true values of vehicles with one outcome are spread."""

    outcome: str
    shape: NormalSpread | LognormalSpread | UniformSpread


@dataclass(frozen=True)
class Reading:
    """A measured quantity, and what makes outcomes of it: limits that cut its scale, or a spread for each outcome.

    unit: SI-style symbol, such as kPa, V, ohm, g/s (see model/unit.hpp). difference: a difference: of temperatures, 1
    degC is then 1 K. same_instrument: repeated readings carry the same error, instead of an error each. at_least:
    numbers below are impossible: the gauge, its unit or the sign is wrong. spreads: none, or one for each outcome; they
    then take the place of the limits.
    """

    quantity: str
    unit: str
    bands: tuple[Band, ...]
    source: str
    difference: bool
    gauge_error: GaugeError | None
    same_instrument: bool
    at_least: float | None
    at_most: float | None
    spreads: tuple[Spread, ...]


@dataclass(frozen=True)
class Unclassified:
    """A variable of a plain network: nothing is known of what it represents."""


@dataclass(frozen=True)
class Context:
    """A fact known beforehand that shifts priors.

    question: how to ask for it at the bench.
    """

    question: str


@dataclass(frozen=True)
class Component:
    """A part or system that can be faulty; its first state is the sound one.

    system: the part of the vehicle it belongs to. remainder: means "not any listed fault".
    """

    system: str
    remainder: bool


@dataclass(frozen=True)
class Hidden:
    """A variable between causes and what is seen of them, which nobody finds out directly."""


@dataclass(frozen=True)
class Symptom:
    """Something noticed at no cost: the complaint, a smell, a stored trouble code.

    question: how to ask for it at the bench. complaint: what a customer may come in with. code: the trouble code that
    it is. conditions: when it shows ("hot", "under load").
    """

    question: str
    complaint: bool
    code: str
    conditions: tuple[str, ...]


@dataclass(frozen=True)
class Test:
    """Something one can do at a cost; its states are the outcomes it can end in.

    question: how to ask for its outcome at the bench. work: cost and demands. procedure: how it is done, in one line.
    reading: the measured quantity behind the outcomes. reveals: symptoms that become known by doing it. only_when: what
    has to be found before it makes sense; all must hold. not_when: what rules it out once it is found; any does.
    """

    __test__: ClassVar[bool] = False  # not a test case, whatever pytest makes of the name

    question: str
    work: Work
    procedure: str
    reading: Reading | None
    reveals: tuple[str, ...]
    only_when: Mapping[str, tuple[str, ...]] = field(hash=False)
    not_when: Mapping[str, tuple[str, ...]] = field(hash=False)


@dataclass(frozen=True)
class Variable(OfOneRole):
    """A discrete variable. State 0 is the sound, normal or absent one wherever there is such a thing.

    parents: variables it depends on. source: where the numbers of the distribution come from. properties: free notes of
    interchange files, kept as they are.
    """

    name: str
    label: str
    description: str
    what: Unclassified | Context | Component | Hidden | Symptom | Test
    states: tuple[State, ...]
    parents: tuple[str, ...]
    source: str
    properties: tuple[str, ...]


@dataclass(frozen=True)
class Term:
    """A named thing with a label and a longer text: a tool, a skill level, a caution."""

    name: str
    label: str
    description: str


@dataclass(frozen=True)
class Easing:
    """What a repair may turn a fault into that it does not mend: less bad, but not gone.

    from_: a fault state. to: another one. probability: in addition to the success of the repair.
    """

    from_: str
    to: str
    probability: float


@dataclass(frozen=True)
class Repair:
    """An action that makes a component sound with some probability.

    mends: fault states it can mend. success: probability that a mendable fault is gone afterwards. partial: what else
    it may turn a fault into. verification: its own check; None: that of the model.
    """

    name: str
    label: str
    procedure: str
    component: str
    mends: tuple[str, ...]
    success: float
    work: Work
    source: str
    partial: tuple[Easing, ...]
    verification: RepairCheck | None


@dataclass(frozen=True)
class Header:
    """Facts about the model as a whole.

    invented: numbers are invented and must be tuned before any real use. safety: shown before any advice. labour_rate:
    money per hour.
    """

    name: str
    title: str
    version: str
    description: str
    authors: tuple[str, ...]
    invented: bool
    safety: str
    currency: str
    labour_rate: float
    source: str


@dataclass(frozen=True)
class ScaledRow:
    """A row whose sum missed one by rounding, and which was scaled.

    row: of the full table; of a noisy-MAX: the leak is 0, then the effects of its causes in turn. sum: what the row
    summed to before.
    """

    variable: str
    row: int
    sum: float


@dataclass(frozen=True)
class Progress:
    """How far long work has come.

    of: what is counted: "situations", "tests", "cases", "samples". done: so many of them. total: of so many; 0: not
    known beforehand. lower_bound: Of the expected cost, if a search closes in on it; otherwise NaN. upper_bound: the
    same.
    """

    of: str
    done: int
    total: int | None
    lower_bound: float | None
    upper_bound: float | None


@dataclass(frozen=True)
class Unit(UnitFactor):
    """A unit by its SI-style symbol. A value x in it is (x + zero) * numerator / denominator in the base unit of its
    quantity: the coherent SI unit, but degC for temperatures. Whole numbers if the factor is a fraction of such, so
    that 9000 mV are 9 V and 212 degF are 100 degC to the last bit.

    quantity: what it measures: "pressure", "voltage"; only units of one quantity convert.
    """

    symbol: str
    quantity: str
    numerator: float
    denominator: float
    zero: float


@dataclass(frozen=True)
class Remark:
    """Something to look at: where it is, what was found and what it means, and what can be done."""

    severity: Severity
    place: str
    found: str
    remedy: str


@dataclass(frozen=True)
class FaultState:
    """A component in one of its unsound states."""

    component: str
    label: str
    state: str
    state_label: str


@dataclass(frozen=True)
class AmbiguityGroups:
    """Ambiguity groups (IEEE Std 1522): faults that no symptom and no test can tell apart, two or more in a group; the
    remainder is not counted. And, as groups of one, faults that nothing can tell from a sound vehicle.  The method: a
    single fault, all other components sound, changes the tables of the component's direct children only. Each such
    table is written out over the parents that are not components. Two faults are in one group when they change the same
    tables, as far as a symptom or a test lies below them, to the same numbers. What differs in a hidden variable or
    another component but evens out below it is not noticed, so that a group reported is always a true one. Tables with
    more than 65536 configurations of such parents are taken to tell every fault apart.
    """

    alike: tuple[tuple[FaultState, ...], ...]
    undetectable: tuple[FaultState, ...]
