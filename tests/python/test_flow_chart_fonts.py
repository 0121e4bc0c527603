# SPDX-License-Identifier: BSD-3-Clause
"""Flow charts in a face wider than the one they are laid out in.

A viewer that does not heed textLength (SVG 1.1, section 10.5) sets each line as wide as its own face makes it. The
widths of DejaVu Sans are those of the font file that Matplotlib ships, measured by FreeType.
"""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import faultodds
import pytest

font_manager = pytest.importorskip("matplotlib.font_manager")
ft2font = pytest.importorskip("matplotlib.ft2font")

MODELS = Path(__file__).parents[2] / "models"
SVG = "{http://www.w3.org/2000/svg}"
RIGHT_EDGE = 210.0 - 12.0  # of what is printed on A4, in millimetres


def font(weight: str) -> ft2font.FT2Font:
    path = font_manager.findfont(font_manager.FontProperties(family="DejaVu Sans", weight=weight))
    assert "DejaVuSans" in path
    return ft2font.FT2Font(path)


FACES = {False: font("normal"), True: font("bold")}


def right_end(text: ElementTree.Element) -> float:
    """Return the right end of a line in DejaVu Sans, in millimetres."""
    face = FACES[text.get("font-weight") == "bold"]
    face.set_size(100.0, 72)
    width = sum(face.load_char(ord(c), flags=ft2font.LoadFlags.NO_HINTING).linearHoriAdvance for c in text.text or "")
    return float(text.get("x", "0")) + width / 65536.0 / 100.0 * float(text.get("font-size", "0"))


@pytest.fixture(scope="module")
def pages() -> list[ElementTree.Element]:
    case = faultodds.Case(faultodds.Solver(faultodds.read_model(MODELS / "low-power-petrol.json")))
    case.add_finding("low_power", "present")
    case.add_finding("code_p0171", "present")
    tree = faultodds.greedy_policy_tree(faultodds.problem_of(case), min_probability=0.02)
    return [ElementTree.fromstring(page) for page in faultodds.write_flow_chart_svg(tree)]


def test_no_line_runs_over_the_edge_of_the_page(pages: list[ElementTree.Element]) -> None:
    lines = [text for page in pages for text in page.iter(f"{SVG}text")]
    assert sum(text.get("font-weight") == "bold" for text in lines) > 50
    assert [text.text for text in lines if right_end(text) > RIGHT_EDGE] == []


def test_no_line_runs_over_the_edge_of_its_box(pages: list[ElementTree.Element]) -> None:
    checked = 0
    for group in (group for page in pages for group in page.iter(f"{SVG}g") if group.get("id")):
        box = group.find(f"{SVG}rect")
        assert box is not None
        top, right = float(box.get("y", "0")), float(box.get("x", "0")) + float(box.get("width", "0"))
        inside = [text for text in group.iter(f"{SVG}text") if float(text.get("y", "0")) > top]
        checked += len(inside)
        assert [text.text for text in inside if right_end(text) > right] == []
    assert checked > 100
