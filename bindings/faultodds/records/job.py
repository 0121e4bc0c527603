# SPDX-License-Identifier: BSD-3-Clause
"""One vehicle from complaint to end.

Written by bindings/generate.py from include/faultodds: not to be changed by hand.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import ClassVar, Literal, TypeAlias

from faultodds.records.behaviour import ListsAsTuples, MoneyAndLabour, WholeLedger
from faultodds.records.inference import Fault, Measured, RepeatedErrors
from faultodds.records.model import RepairCheck, Term
from faultodds.records.posteriors import Finding
from faultodds.records.ranking import Ranking
from faultodds.records.sequence import Records
from faultodds.records.work import EndCosts, InPlace, Means

NoStepReason: TypeAlias = Literal["job_is_over", "no_fault_in_question", "nothing_tells", "no_repair", "beyond_means"]
"""Why there is nothing to propose.

job_is_over: the caller says so.

no_fault_in_question: and no test tells more.

nothing_tells: no test that is left tells more, and no fault is certain enough to be repaired.

no_repair: a fault is certain enough, but the model names no repair for it.

beyond_means: a fault is certain enough, but its repairs are beyond the means.
"""


CheckResult: TypeAlias = Literal["cured", "still_there"]
"""What the check after a repair says of the complaint."""


JobEnd: TypeAlias = Literal["cured", "handed_over", "lived_with", "given_up"]
"""How a job ended."""


ConfirmedBy: TypeAlias = Literal["sight", "test", "repair", "specialist"]
"""How it is known that a fault was the cause."""


ReportStepKind: TypeAlias = Literal["test", "repair", "hand_over", "other"]
"""`other` is the check after a repair."""


@dataclass(frozen=True)
class AskStep:
    """Ask for these facts and symptoms, by index, before anything is touched."""

    variables: tuple[str, ...]


@dataclass(frozen=True)
class TestStep:
    """Do this test.

    test: variable.
    """

    __test__: ClassVar[bool] = False  # not a test case, whatever pytest makes of the name

    test: str


@dataclass(frozen=True)
class RepairStep:
    """Do this repair.

    repair: index into the model's repairs.
    """

    repair: str


@dataclass(frozen=True)
class HandOverStep:
    """Give the vehicle to a specialist.

    hand_over: index into the model's hand-overs; None: the model names none.
    """

    hand_over: str | None = None


@dataclass(frozen=True)
class LiveWithStep:
    """Leave the complaint as it is."""


@dataclass(frozen=True)
class NoStep:
    """There is nothing to propose.

    fault: the most likely one, for nothing_tells, no_repair and beyond_means.
    """

    reason: NoStepReason
    fault: Fault | None


@dataclass(frozen=True)
class AdvisedOutcome:
    """One outcome of a test, and where it would leave the leading faults.

    leading: probability of each leading fault of the ranking after it; empty: not worked out.
    """

    name: str
    label: str
    probability: float
    leading: tuple[float, ...]


@dataclass(frozen=True)
class StepPrice:
    """What a step costs now and in the end.

    now: of the step itself, a repair with its check, a hand-over with the repair expected there. in_the_end: expected
    to the end of the job, this step included. saves: expected cost of doing without tests, minus `in_the_end`.
    gain_bits: of a test, about the causes that were weighed.
    """

    now: float
    in_the_end: float
    saves: float
    gain_bits: float


@dataclass(frozen=True)
class AdvisedStep:
    """A step with all that is shown before it is taken. Labels are never empty if the model has a name for the thing.

    name: of the test, repair or hand-over in the model; empty for others. label: of the same; for the others what to
    do, or why there is nothing, in words. question: of a test, as it is put at the bench. cautions: to be shown before
    the step: of what is brought about and opened, then its own. opens: access jobs that have to be opened, in order.
    brings: conditions that have to be brought about. tools: those for what is opened and brought about included. skill:
    the highest level, that for what is opened and brought about included. cost_known: the model names minutes or money
    for it. minutes: with set-ups. wait_minutes: the vehicle waits and nobody works. money: with set-ups, without
    labour. cost: money and labour. price: nothing if no end of the job has a cost. gain_bits: of a test, about the
    faults in question. gain_per_cost: bits per unit of money; infinite if something is told for nothing. settles: share
    of what is open about the cause that it is expected to settle, 0 to 1. reveals: of a test: symptoms without a
    finding that doing it makes known. mends: of a repair: probability that a fault is present that it can mend.
    success: of a repair: probability that such a fault is gone afterwards. check: of a repair: its own check, otherwise
    that of the model. tells: of a hand-over: what the specialist can do that the bench cannot. charges_repair: of a
    hand-over: the repair is charged besides `money`.
    """

    step: AskStep | TestStep | RepairStep | HandOverStep | LiveWithStep | NoStep
    name: str
    label: str
    procedure: str = field(repr=False)
    description: str = field(repr=False)
    question: str
    cautions: tuple[Term, ...]
    opens: tuple[Term, ...]
    brings: tuple[Term, ...]
    tools: tuple[Term, ...]
    skill: Term | None
    cost_known: bool
    minutes: float
    wait_minutes: float
    money: float
    cost: float
    price: StepPrice | None
    gain_bits: float
    gain_per_cost: float
    settles: float
    outcomes: Records[AdvisedOutcome]
    reveals: tuple[str, ...]
    mends: float | None
    success: float | None
    check: RepairCheck | None
    tells: str
    charges_repair: bool


@dataclass(frozen=True)
class JobProgress(ListsAsTuples):
    """What a job has behind it, in addition to the findings of its case.

    declined: tests that are not to be proposed. repairs_done: by index into the model's repairs. passed_over: proposed,
    and to be gone past: test on all the same. over: the vehicle is cured, handed over, or the job closed.
    """

    declined: Iterable[str] = ()
    repairs_done: Iterable[str] = ()
    passed_over: tuple[AskStep | TestStep | RepairStep | HandOverStep | LiveWithStep | NoStep, ...] = ()
    over: bool = False


@dataclass(frozen=True)
class AdvisedFault:
    """A fault with its name for people: "fuel pump: worn"."""

    fault: Fault
    label: str
    probability: float


@dataclass(frozen=True)
class AdvisedQuestion:
    """Something that can be asked before anything is touched.

    question: as it is put at the bench; the label if the model has none. gain_bits: about the faults in question.
    """

    variable: str
    name: str
    label: str
    question: str
    gain_bits: float


@dataclass(frozen=True)
class AdvisedLeftOut:
    """A test that was left out, and why.

    gain_bits: what is forgone; nothing if it was not worked out.
    """

    test: str
    name: str
    label: str
    reason: str
    gain_bits: float | None


@dataclass(frozen=True)
class SpecialistBrief:
    """What to tell a specialist.

    found: the findings, in words. left: of 1 % and more, most probable first. ruled_out: below 1 %, and above it when
    only facts and complaint were known.
    """

    found: tuple[str, ...]
    left: tuple[AdvisedFault, ...]
    ruled_out: tuple[AdvisedFault, ...]


@dataclass(frozen=True)
class Advice:
    """What to do next.

    alternatives: What else could be done, each step once: by expected cost if `priced`, what has no such cost after
    that, in the order of the ranking. cheaper: so many alternatives, the first ones, come before `proposed` by expected
    cost. priced: expected costs are known. led_by_cost: `proposed` is the least expected cost, or as good within 1 %.
    passed_over: what would lead by expected cost, and was passed over. likely: the fault that led to `proposed`, where
    it was not led by cost. questions: most telling first. leading: most probable of the faults in question. known:
    found to be present. left_out: tests that tell something and are out of reach, most telling first. why: Paragraphs:
    what the proposed test tells apart, why the leading fault is suspected, findings that go badly together. ranking: of
    the tests, as rank_tests gives it. safety: of the model: to be shown before any advice. invented: the numbers of the
    model are invented.
    """

    proposed: AdvisedStep
    alternatives: Records[AdvisedStep]
    cheaper: int
    priced: bool
    led_by_cost: bool
    passed_over: AskStep | TestStep | RepairStep | HandOverStep | LiveWithStep | NoStep | None
    likely: AdvisedFault | None
    questions: Records[AdvisedQuestion]
    leading: Records[AdvisedFault]
    known: Records[AdvisedFault]
    left_out: Records[AdvisedLeftOut]
    why: tuple[str, ...]
    brief: SpecialistBrief
    ranking: Ranking = field(repr=False)
    currency: str
    safety: str
    invented: bool


@dataclass(frozen=True)
class Charge(MoneyAndLabour):
    """What a piece of work or a fee cost when it was entered, set-ups included.

    minutes: somebody worked. wait_minutes: the vehicle waited and nobody worked. money: parts, material, fees, in the
    model's currency. labour: minutes at the labour rate, in money. opens: access jobs opened for it, by name, in order.
    brings: conditions brought about for it, by name, in order.
    """

    minutes: float
    wait_minutes: float
    money: float
    labour: float
    opens: tuple[str, ...]
    brings: tuple[str, ...]


@dataclass(frozen=True)
class FindingEntry:
    """What was observed of a context, a symptom (a trouble code among them) or a test; the role of the variable says
    which. The outcome of a test is charged as its work.
    """

    finding: Finding


@dataclass(frozen=True)
class ReadingEntry:
    """Numbers measured by a test, with their units. Charged as the work of the test.

    text: as it was typed, or the readings written out: "43 psi; 44 psi". finding: what the readings make under the
    model.
    """

    test: str
    readings: tuple[Measured, ...]
    errors: RepeatedErrors
    text: str
    finding: Finding


@dataclass(frozen=True)
class RevealedEntry:
    """The symptoms that a test made known, one by one; the test itself gets no finding. Charged as the work of the
    test.
    """

    test: str
    findings: tuple[Finding, ...]


@dataclass(frozen=True)
class DeclinedEntry:
    """A test that was not done, and why. Not charged.

    reason: "no gauge".
    """

    test: str
    reason: str


@dataclass(frozen=True)
class CheckMade:
    """The check after a repair, with its own charge."""

    result: CheckResult
    charge: Charge


@dataclass(frozen=True)
class RepairEntry:
    """A repair that was carried out. Charged as its work; the check after it has its charge with it.

    repair: index into the model's repairs. check: None: it was not checked.
    """

    repair: str
    check: CheckMade | None


@dataclass(frozen=True)
class PartEntry:
    """The state of a component that somebody has looked at. Not charged: the model knows no price for it."""

    finding: Finding


@dataclass(frozen=True)
class InPlaceEntry:
    """Access seen to be open and conditions seen to be in place. Not charged."""

    seen: InPlace


@dataclass(frozen=True)
class HandOverEntry:
    """The vehicle went to a specialist. What is found there may follow. Charged as the fee.

    hand_over: index into the model's hand-overs.
    """

    hand_over: str


@dataclass(frozen=True)
class ConfirmedFault:
    """A fault that was there, and how that is known.

    state: an unsound one.
    """

    component: str
    state: str
    by: ConfirmedBy = "sight"


@dataclass(frozen=True)
class EndEntry:
    """The end of the job. It is a record, not evidence: the case stays as it was. Not charged.

    confirmed: none: nothing was confirmed.
    """

    end: JobEnd
    confirmed: tuple[ConfirmedFault, ...]
    note: str


@dataclass(frozen=True)
class Entry:
    """One entry of a job.

    kind: finding, reading, revealed, declined, repair, part, in_place, hand_over or end. label: of what it is about.
    text: what it says, in words.
    """

    kind: str
    what: (
        FindingEntry
        | ReadingEntry
        | RevealedEntry
        | DeclinedEntry
        | RepairEntry
        | PartEntry
        | InPlaceEntry
        | HandOverEntry
        | EndEntry
    )
    charge: Charge
    label: str
    text: str


@dataclass(frozen=True)
class LedgerLine(MoneyAndLabour):
    """Work that was done or a fee that was paid.

    entry: index of the entry of the job. is_check: the check after the repair of that entry, not the repair itself.
    money: charge.money in hundredths of the currency. labour: charge.labour in hundredths.
    """

    entry: int
    is_check: bool
    charge: Charge
    money: int
    labour: int


@dataclass(frozen=True)
class JobLimits:
    """What is meant to be spent on a job.

    budget: money for the whole job, labour included; None: no limit. deadline: minutes for the whole job, waiting
    included; None: no limit.
    """

    budget: float | None = None
    deadline: float | None = None


@dataclass(frozen=True)
class Ledger(WholeLedger):
    """What was paid and how long it took, what is left, and what is in place.

    lines: a line for each test, repair, check and hand-over, in order. total: sums of the amounts; everything that was
    opened and brought about, in order. money: sum of the lines' hundredths, so that a bill adds up. labour: the same.
    in_place: at the vehicle now. money_left: of the budget, at least 0; None: no budget. minutes_left: of the deadline,
    at least 0; None: no deadline.
    """

    lines: Records[LedgerLine]
    total: Charge
    money: int
    labour: int
    in_place: InPlace
    money_left: float | None
    minutes_left: float | None


@dataclass(frozen=True)
class JobFact:
    """A fact about the job itself, for the report: "Order", "4711"."""

    label: str
    value: str


@dataclass(frozen=True)
class JobOptions:
    """What holds for a job from its start.

    means: `open_access` and `conditions` are what is in place at the start. about: date, workshop, order number.
    """

    means: Means = field(default_factory=Means)
    ends: EndCosts = field(default_factory=EndCosts)
    limits: JobLimits = field(default_factory=JobLimits)
    about: tuple[JobFact, ...] = ()


@dataclass(frozen=True)
class ReportCaution:
    """A caution of the report."""

    label: str = ""
    text: str = ""


@dataclass(frozen=True)
class ReportStep:
    """Something that was done, set-ups and verification included.

    label: "Fuel pressure at the rail". first: what was opened or brought about for it, in order. found: "low (43 psi)";
    of a repair what its check said: "still there". minutes: somebody worked. wait_minutes: the vehicle waited and
    nobody worked. money: parts, material, fees. labour: minutes at the labour rate, in money. change: in words what
    this step did to the leading faults, a sentence each.
    """

    kind: ReportStepKind = "test"
    label: str = ""
    first: tuple[str, ...] = ()
    found: str = ""
    minutes: float = 0.0
    wait_minutes: float = 0.0
    money: float = 0.0
    labour: float = 0.0
    change: tuple[str, ...] = ()
    note: str = ""


@dataclass(frozen=True)
class ReportFault:
    """A fault in question.

    label: "fuel pump: worn". probability: now. at_start: when only the facts and the complaint were known.
    """

    label: str = ""
    probability: float = 0.0
    at_start: float | None = None


@dataclass(frozen=True)
class ReportOpenTest:
    """A test not done that would still tell something.

    settles: share of what is open about the cause that it is expected to settle, 0 to 1. reason: why it was not done:
    "no gauge"; empty: it was not worth its cost, or its turn did not come.
    """

    label: str = ""
    settles: float = 0.0
    minutes: float = 0.0
    money: float = 0.0
    labour: float = 0.0
    reason: str = ""


@dataclass(frozen=True)
class ReportHandOver:
    """Handing the vehicle over, as the report puts it.

    to: "Transmission specialist". fee: expected; if it was paid it is among the steps. wait_minutes: until the vehicle
    is back. what_to_tell: sentences, besides the findings and the faults.
    """

    to: str = ""
    fee: float | None = None
    wait_minutes: float | None = None
    what_to_tell: tuple[str, ...] = ()


@dataclass(frozen=True)
class JobReport:
    """All that a report says. Empty parts are left out of it.

    invented: the data of the model are invented. labour_rate: money per hour. about: of the report itself: date,
    workshop, order number. vehicle: facts known beforehand. complaint: what was noticed: symptom and state. steps: what
    was done, in order. conclusion: in a sentence or a paragraph. why: paragraphs. faults: all in question, in any
    order. cautions: of everything that was done or is advised.
    """

    title: str = ""
    version: str = ""
    invented: bool = False
    safety: str = ""
    currency: str = ""
    labour_rate: float = 0.0
    about: tuple[JobFact, ...] = ()
    vehicle: tuple[JobFact, ...] = ()
    complaint: tuple[JobFact, ...] = ()
    steps: tuple[ReportStep, ...] = ()
    conclusion: str = ""
    why: tuple[str, ...] = ()
    faults: tuple[ReportFault, ...] = ()
    open_tests: tuple[ReportOpenTest, ...] = ()
    hand_over: ReportHandOver | None = None
    cautions: tuple[ReportCaution, ...] = ()


@dataclass(frozen=True)
class ReportFaults:
    """The faults of a report, most probable first; equal ones in the order given.

    leading: from report_ruled_out on. ruled_out: below, and not at the start. rare: below, at the start as well.
    """

    leading: tuple[ReportFault, ...]
    ruled_out: tuple[ReportFault, ...]
    rare: tuple[ReportFault, ...]
