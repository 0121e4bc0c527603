# SPDX-License-Identifier: BSD-3-Clause
"""Results as records, data frames, tables, pictures and plots."""

from __future__ import annotations

import dataclasses
import os
import pickle
import subprocess
import sys
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from html import escape
from pathlib import Path
from typing import Any

import faultodds
import pytest
from faultodds import display
from package_models import car_start, plain_model, two_states

MODELS = Path(__file__).parents[2] / "models"


def started() -> faultodds.Case:
    case = faultodds.Case(faultodds.Solver(car_start()))
    case.add_finding("start", "no")
    return case


def tutorial() -> faultodds.Case:
    case = faultodds.Case(faultodds.Solver(faultodds.read_model(MODELS / "tutorial.json")))
    case.add_finding("dark", "present")
    return case


def test_frames_hold_the_rows_of_the_records() -> None:
    pandas = pytest.importorskip("pandas")
    case = started()
    posteriors = case.posteriors()
    frame = posteriors.to_frame()
    assert isinstance(frame, pandas.DataFrame)
    assert list(frame.columns) == ["variable", "label", "role", "state", "state_label", "probability"]
    assert frame.to_dict("records") == posteriors.rows()
    assert frame.groupby("variable")["probability"].sum().to_numpy() == pytest.approx([1] * 4, abs=1e-12)
    ranking = faultodds.rank_tests(case)
    assert list(ranking.to_frame()["test"]) == [test.test for test in ranking.tests]
    joint = case.joint(["fuel", "plugs"]).to_frame()
    assert list(joint.columns) == ["fuel", "plugs", "probability"]
    assert len(joint) == 4
    explanations = faultodds.explain(case, count=3)
    assert list(explanations.to_frame()["probability"]) == [one.probability for one in explanations]
    assert list(faultodds.lint(car_start()).to_frame().columns) in ([], ["severity", "place", "found", "remedy"])


def test_without_pandas_the_records_serve_and_frames_say_what_is_missing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pandas", None)
    posteriors = started().posteriors()
    assert posteriors.rows()[0]["variable"] == "fuel"
    with pytest.raises(ImportError, match="pip install pandas"):
        posteriors.to_frame()
    with pytest.raises(ImportError, match="pandas"):
        faultodds.rank_tests(started()).to_frame()


def test_explanations_are_sets_of_faults_with_their_probabilities() -> None:
    case = started()
    explanations = faultodds.explain(case, count=10)
    assert [[fault.component for fault in one.faults] for one in explanations] == [
        ["plugs"],
        ["fuel"],
        [],
        ["fuel", "plugs"],
    ]
    joint = case.joint(["fuel", "plugs"])
    for one in explanations:
        assert one.probability == pytest.approx(joint.probability_of(one.states), rel=1e-12)
    assert len(faultodds.explain(case, ["plugs"], 1)) == 1
    assert faultodds.explain(case, ["plugs"], 1)[0].states == {"plugs": "foul"}
    (best,) = faultodds.most_probable_explanations(case)
    assert dict(best.states)["plugs"] == "foul"
    with pytest.raises(faultodds.UnknownName, match="plugs"):
        faultodds.explain(case, ["plug"])
    with pytest.raises(faultodds.Stopped):
        faultodds.explain(tutorial(), count=100, max_propagations=1)


def test_lint_says_where_what_and_the_remedy() -> None:
    lonely = faultodds.ModelBuilder("lonely").add_component("pump", prior=0.1).build()
    remarks = faultodds.lint(lonely)
    assert remarks
    assert all(remark.severity in ("warning", "note") and remark.found and remark.remedy for remark in remarks)
    assert any("pump" in remark.place + remark.found for remark in remarks)


def test_records_are_immutable_values() -> None:
    first, second = started().posteriors(), started().posteriors()
    assert first == second
    assert hash(first) == hash(second)
    assert pickle.loads(pickle.dumps(first)) == first
    assert type(first[:2]) is type(first)
    with pytest.raises(AttributeError):
        first[0].probability = 1.0  # type: ignore[misc]
    ranking = faultodds.rank_tests(started())
    assert pickle.loads(pickle.dumps(ranking)) == ranking
    assert "gauge" in repr(ranking)
    joint = started().joint(["fuel"])
    assert pickle.loads(pickle.dumps(joint)) == joint


def records_within(value: Any) -> Iterator[Any]:
    """All records that a result is made of, itself among them."""
    if dataclasses.is_dataclass(value):
        yield value
        value = list(vars(value).values())
    if isinstance(value, tuple | list | faultodds.Records):
        for one in value:
            yield from records_within(one)


def test_records_made_in_cpp_are_those_that_a_call_makes() -> None:
    case = tutorial()
    job = faultodds.Job(faultodds.Solver(case.model()))
    job.add_finding("dark", "present")
    results = [
        case.model().variables(),
        faultodds.rank_tests(case),
        faultodds.advise(case),
        job.entries(),
        job.report(),
    ]
    results += [job.ledger(), job.means_now(), job.options(), faultodds.lint(case.model()), faultodds.problem_of(case)]
    kinds = set()
    for record in records_within(results):
        called = type(record)(**{member.name: getattr(record, member.name) for member in dataclasses.fields(record)})
        assert called == record
        assert list(vars(called).items()) == list(vars(record).items())
        assert pickle.loads(pickle.dumps(record)) == record
        kinds.add(type(record))
    assert len(kinds) > 20


def well_formed(html: str) -> ET.Element:
    return ET.fromstring(f"<div>{html.replace('<br>', '<br/>')}</div>")


def test_notebooks_show_every_result_as_well_formed_html() -> None:
    case = tutorial()
    shown = [
        case,
        case.model(),
        case.posteriors(),
        case.joint(["battery", "bulb"]),
        case.findings(),
        case.model().variables(),
        faultodds.rank_tests(case),
        faultodds.rank_tests(case, means=faultodds.Means(tools=[])),
        faultodds.leading_faults(case),
        faultodds.explain(case),
        faultodds.lint(case.model()),
    ]
    for result in shown:
        html = result._repr_html_()
        assert well_formed(html) is not None
        assert "<script" not in html
        assert "http" not in html.replace("http://www.w3.org/2000/svg", "")


def test_a_ranking_shows_cautions_before_the_step() -> None:
    case = tutorial()
    ranking = faultodds.rank_tests(case)
    html = ranking._repr_html_()
    careful = [test for test in ranking.tests if test.cautions]
    assert careful
    for test in careful:
        row = next(row for row in html.split("<tr>") if f"<b>{test.label}</b>" in row)
        for caution in test.cautions:
            assert row.index(caution.description) < row.index(f"<b>{test.label}</b>")
    assert escape(case.model().header().safety) in html


def test_labels_are_escaped() -> None:
    hostile = '<script>alert("&")</script>'
    model = (
        faultodds.ModelBuilder("escaped", title=hostile, safety=hostile)
        .add_component("pump", label=hostile, prior=0.1)
        .add_test(
            "look",
            label=hostile,
            minutes=1,
            procedure=hostile,
            examines={"component": "pump", "detects": 0.9, "false_alarm": 0.1},
        )
        .build()
    )
    case = faultodds.Case(faultodds.Solver(model))
    for shown in (case, model, case.posteriors(), faultodds.rank_tests(case), faultodds.explain(case)):
        assert "<script" not in shown._repr_html_()
        well_formed(shown._repr_html_())


def test_probabilities_for_people_never_claim_certainty() -> None:
    assert display.percent(0.0) == "0%"
    assert display.percent(1.0) == "100%"
    assert display.percent(1e-9) == "<0.01%"
    assert display.percent(1 - 1e-9) == ">99.99%"
    assert display.percent(0.99999) == ">99.99%"
    assert display.percent(0.0042) == "0.42%"
    assert display.percent(0.9942) == "99.42%"
    assert display.percent(0.5806) == "58.1%"


def test_the_network_picture_places_parents_before_children() -> None:
    model = faultodds.read_model(MODELS / "tutorial.json")
    svg = faultodds.network_svg(model)
    root = ET.fromstring(svg)
    space = "{http://www.w3.org/2000/svg}"
    left = {}
    for group in root.iter(f"{space}g"):
        title, box = group.find(f"{space}title"), group.find(f"{space}rect")
        if title is not None and box is not None:
            left[title.text] = float(box.attrib["x"])
    titles = {name: f"{model[name].label} ({model.role(name)})" for name in model}
    assert set(left) == set(titles.values())
    for name in model:
        for parent in model.parents(name):
            assert left[titles[parent]] < left[titles[name]]
    arcs = sum(len(model.parents(name)) for name in model)
    assert f"{len(model)} variables, {arcs} arcs" in svg


def test_boxes_of_the_network_picture_do_not_overlap() -> None:
    svg = faultodds.network_svg(faultodds.read_model(MODELS / "tutorial.json"))
    boxes = [
        tuple(float(box.attrib[side]) for side in ("x", "y", "width", "height"))
        for box in ET.fromstring(svg).iter("{http://www.w3.org/2000/svg}rect")
    ]
    for index, (x, y, width, height) in enumerate(boxes):
        for x2, y2, width2, height2 in boxes[index + 1 :]:
            assert x + width <= x2 or x2 + width2 <= x or y + height <= y2 or y2 + height2 <= y


def test_the_network_picture_of_a_part_and_of_too_much() -> None:
    model = car_start()
    part = faultodds.network_svg(model, ["fuel", "gauge"], case=started())
    assert "2 variables, 1 arcs" in part
    with pytest.raises(faultodds.ArgumentError, match="none"):
        faultodds.network_svg(model, [])
    with pytest.raises(faultodds.UnknownName):
        faultodds.network_svg(model, ["fuell"])
    many = plain_model(*(two_states(f"v{index}", 0.5) for index in range(61)))
    with pytest.raises(faultodds.ArgumentError, match="61"):
        faultodds.network_svg(many)
    assert "<svg" not in many._repr_html_()


def test_pictures_are_the_same_with_every_hash_seed() -> None:
    script = (
        "import faultodds, sys; model = faultodds.read_model(sys.argv[1]);"
        "case = faultodds.Case(faultodds.Solver(model));"
        "case.add_finding('dark', 'present');"
        "print(faultodds.network_svg(model, case=case), faultodds.rank_tests(case), case.posteriors())"
    )
    outputs = {
        subprocess.run(
            [sys.executable, "-c", script, str(MODELS / "tutorial.json")],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("0", "1", "2")
    }
    assert len(outputs) == 1


def test_plots_name_every_bar() -> None:
    matplotlib = pytest.importorskip("matplotlib")
    matplotlib.use("Agg")
    import matplotlib.pyplot as plt
    from faultodds import plots

    case = tutorial()
    ranking = faultodds.rank_tests(case)
    ax = plots.plot_ranking(ranking)
    named = [label.get_text().replace("\n", " ") for label in ax.get_yticklabels()]
    assert named == [test.label for test in ranking.tests[:8]]
    ax = plots.plot_forecast(ranking.tests[1])
    hatches = {(bar.get_hatch(), bar.get_facecolor()) for bar in ax.patches}
    assert len(hatches) == len(ranking.tests[1].outcomes)
    ax = plots.plot_faults(faultodds.leading_faults(case))
    assert len(ax.patches) == len(faultodds.leading_faults(case))
    assert len(plots.plot_faults(faultodds.leading_faults(case), most=2).patches) == 2
    with pytest.raises(faultodds.ArgumentError, match="series"):
        plots.plot_faults({})
    with pytest.raises(faultodds.ArgumentError, match="effects"):
        plots.plot_forecast(faultodds.rank_tests(case, effects=False).tests[0])
    plt.close("all")
