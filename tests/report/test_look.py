"""The colours of the page: legible, told apart by colour-blind people, and in grey."""

import math
import re
from importlib.resources import files
from itertools import combinations

import pytest

from sweepbook_plugins.report.render import template
from sweepbook_plugins.xlsx.look import TINTS

CSS = files("sweepbook_plugins.report").joinpath("templates/page.css").read_text(encoding="utf-8")
COLOURS = dict(re.findall(r"--([a-z]+): (#[0-9a-f]{6})", CSS))
LINES = ("worst", "other", "ink", "mark")
"""The curve that stands out, those behind it, the limit, and the ring at the worst margin."""
CLASSES = {"good": "upheld", "doubt": "unproven", "bad": "overturned"}
BLIND = {
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}
"""What linear red, green and blue become at full severity: Machado, Oliveira and Fernandes,
A Physiologically-based Model for Simulation of Color Vision Deficiency, IEEE TVCG 15 (2009); the
figures are from memory. White stays white, so each row sums to one, which is checked."""
D65 = (0.95047, 1.0, 1.08883)
Linear = tuple[float, float, float]


def linear(colour: str) -> Linear:
    """Linear red, green and blue of #RRGGBB: IEC 61966-2-1 as WCAG 2.1 has it."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        c / 12.92 if c <= 0.04045 else math.pow((c + 0.055) / 1.055, 2.4) for c in channels
    )
    return red, green, blue


def luminance(colour: str) -> float:
    """Relative luminance 0 to 1: WCAG 2.1, definition "relative luminance"."""
    red, green, blue = linear(colour)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, two: str) -> float:
    """WCAG 2.1, definition "contrast ratio"."""
    light, dark = sorted((luminance(one), luminance(two)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def seen(colour: str, who: str | None) -> Linear:
    """What a colour-blind person sees of a colour; anybody else for None."""
    of = linear(colour)
    if who is None:
        return of
    red, green, blue = (
        min(1.0, max(0.0, sum(a * b for a, b in zip(row, of, strict=True)))) for row in BLIND[who]
    )
    return red, green, blue


def lab(of: Linear) -> Linear:
    """CIE L*a*b* under D65: CIE 15; the matrix from sRGB to XYZ is that of IEC 61966-2-1."""
    red, green, blue = of
    xyz = (
        0.4124 * red + 0.3576 * green + 0.1805 * blue,
        0.2126 * red + 0.7152 * green + 0.0722 * blue,
        0.0193 * red + 0.1192 * green + 0.9505 * blue,
    )
    x, y, z = (
        math.cbrt(t) if t > 0.008856 else 7.787 * t + 16 / 116
        for t in (a / b for a, b in zip(xyz, D65, strict=True))
    )
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def test_the_matrices_leave_white_white() -> None:
    for rows in BLIND.values():
        assert [sum(row) for row in rows] == pytest.approx([1, 1, 1], abs=2e-6)


@pytest.mark.parametrize("who", [None, *BLIND])
def test_the_lines_of_a_plot_are_told_apart(who: str | None) -> None:
    """A distance of 20 in CIE L*a*b* is plain at a glance: common practice, no source."""
    for one, two in combinations(LINES, 2):
        assert math.dist(lab(seen(COLOURS[one], who)), lab(seen(COLOURS[two], who))) >= 20


def test_in_grey_the_curves_differ_and_the_limit_is_dashed_besides() -> None:
    """Ten units of L* are a clear step beside each other: common practice, no source."""
    light = {name: lab(linear(COLOURS[name]))[0] for name in LINES}
    for one, two in combinations(("worst", "other", "ink"), 2):
        assert abs(light[one] - light[two]) >= 10
    rules = dict(re.findall(r"(?m)^\.(\w+) { (stroke: .*?) }", CSS))
    assert "stroke-dasharray" in rules["limit"]
    width = {n: float(re.findall(r"stroke-width: ([0-9.]+)", rules[n])[0]) for n in rules}
    assert width["worst"] > width["fails"] > width["other"]


@pytest.mark.parametrize("line", [*LINES, "fails", "soft"])
def test_lines_stand_out_from_the_paper(line: str) -> None:
    """WCAG 2.1, success criterion 1.4.11: 3 to 1 at least for what a picture needs."""
    assert contrast(COLOURS[line], "#ffffff") >= 3


@pytest.mark.parametrize("ink", ["ink", "soft", "link", "worst"])
@pytest.mark.parametrize("paper", ["#ffffff", COLOURS["band"]])
def test_text_is_legible(ink: str, paper: str) -> None:
    """WCAG 2.1, success criterion 1.4.3: 4.5 to 1 at least; black on white is 21, as it says."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast(COLOURS[ink], paper) >= 4.5


def test_the_tints_are_those_of_the_workbook_word_by_word() -> None:
    """Whose tests hold them to differ in grey and black text to be legible on them."""
    colours = {name: TINTS[word].lower() for name, word in CLASSES.items()}
    assert {name: COLOURS[name] for name in CLASSES} == colours
    mine = vars(template("marks.html").module)["TINTS"]
    assert {word: colours[mine[word]] for word in mine} == {
        word: tint.lower() for word, tint in TINTS.items()
    }


def test_no_blank_stands_before_a_semicolon_on_a_narrow_screen() -> None:
    """Cells stand in a line there: the blank before each is left out where it begins with one."""
    narrow = CSS.partition("@media (max-width: 700px) {")[2].partition("@media print")[0]
    (bare,) = re.findall(r"\n  (\.margins td:nth-child[^{]*) \{ padding: 0; \}", narrow)
    open_end = int(re.findall(r"nth-child\(n\+(\d+)\)", bare)[0])
    without = {int(n) for n in re.findall(r"nth-child\((\d+)\)", bare)} | set(range(open_end, 16))
    begin = {int(n) for n in re.findall(r'td:nth-child\((\d+)\)::before \{ content: "; ', narrow)}
    assert begin == without
    assert len(begin) > 4


def test_paper_has_no_links_that_lead_nowhere() -> None:
    paper = CSS.partition("@media print {")[2]
    (hidden,) = re.findall(r"\n  ([^\n]*) \{ display: none; \}", paper)
    assert {"nav", ".up", ".filter"} <= {one.strip() for one in hidden.split(",")}
    sheet = files("sweepbook_plugins.report").joinpath("templates/link.html")
    assert '<a class="up" href="#links">All links</a>' in sheet.read_text(encoding="utf-8")
