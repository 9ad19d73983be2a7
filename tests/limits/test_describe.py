"""What is shown of a table is what is judged by."""

import re
from math import log10, sqrt

import numpy as np
import pytest

from sweepbook.limits.describe import list_rows, reading_rows, sheet
from sweepbook.limits.formulas import evaluate
from sweepbook.limits.interpretations import Interpretations
from sweepbook.limits.library import Library
from sweepbook.limits.shape_model import DifferenceOf, GreaterOf, Unknown
from sweepbook.limits.wording import formula

PATHS = Library.load().paths()


def worked_out(words: str, f: float) -> float:
    """Work a formula out from its words alone, as a reader with a calculator would."""
    text = re.sub(r" (dB|ns|ohm|m|percent)$", "", words)
    text = text.replace(" x ", "*").replace("^", "**")
    text = re.sub(r"(?<=[0-9]) (?=sqrt|log10|f)", "*", text)
    # The only input is this project's own table, spelled out by the code under test.
    return float(eval(text, {"__builtins__": {}}, {"sqrt": sqrt, "log10": log10, "f": f}))


@pytest.mark.parametrize("path", PATHS)
def test_a_formula_in_words_gives_the_limit(path: str, library: Library) -> None:
    for limit in library.table(path).parameters.values():
        for segment in limit.segments:
            if isinstance(segment.shape, DifferenceOf | GreaterOf | Unknown):
                continue
            words = formula(segment.shape, limit.unit)
            f = segment.from_mhz or 10.0
            assert worked_out(words, f) == pytest.approx(
                evaluate(segment.shape, np.array([f]))[0], abs=1e-9
            ), words


def test_a_relaxation_is_shown_with_its_condition(library: Library) -> None:
    found = sheet(library.table("iso-11801-1-2017/class-ea/channel"))
    bounds = next(p.bounds for p in found.parameters if p.parameter == "next")
    assert "less 0.028 x (f - 450) from 450 to 500 MHz" in bounds
    assert "insertion loss at 450 MHz is below 12 dB" in bounds


def test_shapes_that_need_the_table_are_named_in_words(library: Library) -> None:
    table = library.table("iso-11801-1-2017/class-ea/channel")
    shown = {p.parameter: p.segments[0].formula for p in sheet(table).parameters}
    assert shown["acr_n"] == "limit of next - limit of insertion_loss"
    assert shown["dc_resistance_unbalance_within_pair"] == (
        "3 percent or 0.2 ohm, whichever is greater"
    )


def test_the_list_has_one_row_a_table_with_the_worst_required_grade(library: Library) -> None:
    rows = {row.path: row for row in list_rows(library)}
    assert tuple(rows) == library.paths()
    assert rows["tia-568.2-d/cat6a/channel"].grade == "C"  # PSNEXT above 330 MHz
    assert rows["tia-568.2-d/cat6a/permanent-link"].grade == "B"
    assert rows["tia-568.2-d/cat6a/permanent-link"].doubtful == ("psaacr_f", "psaacr_f_average")
    assert rows["iso-11801-1-2017/class-fa/permanent-link"].grade == "D"
    assert rows["iso-11801-1-2017/class-ea/channel"].mhz == "1 to 500"


def test_a_sheet_says_what_is_asked_how_it_is_known_and_where_from(library: Library) -> None:
    found = sheet(library.table("tia-568.2-d/cat6a/channel"))
    psnext = next(p for p in found.parameters if p.parameter == "psnext")
    assert psnext.asked == "required, computed, at least, in dB"
    assert psnext.bounds == "a limit above 62 dB becomes 62"
    assert [s.frequencies for s in psnext.segments] == ["1 to 330 MHz", "330 to 500 MHz"]
    assert psnext.segments[1].known == "grade C, off by -0.05 to +0.05 dB at most"
    named = {name for p in found.parameters for s in p.segments for name in s.sources.split(", ")}
    assert named <= dict(found.sources).keys()


def test_a_doubtful_limit_is_shown_with_what_is_missing(library: Library) -> None:
    found = sheet(library.table("tia-568.2-d/cat6a/permanent-link"))
    assert [word for word, _, _ in found.not_usable] == ["psaacr_f", "psaacr_f_average"]
    assert all(missing for _, _, missing in found.not_usable)


def test_a_required_limit_that_is_doubtful_is_shown_among_those_alone(library: Library) -> None:
    found = sheet(library.table("iso-11801-1-2017/class-fa/permanent-link"))
    doubtful = {"next", "psnext", "acr_n", "psacr_n"}
    assert {word for word, _, _ in found.not_usable} == doubtful
    assert not doubtful & {p.parameter for p in found.parameters}
    assert not doubtful & set(found.key_table.titles)


def test_the_ends_are_said_with_the_plug(library: Library) -> None:
    facts = dict(sheet(library.table("tia-568.2-d/cat6a/mptl")).facts)
    assert "far end: plug, patch-cord-jack adaptor, its termination must be named" in facts["ends"]


def test_the_key_table_prints_the_published_values(library: Library) -> None:
    """20.9 and 49.3 dB, 26.1 dB: memory and course notes, among the checkpoints."""
    table = sheet(library.table("tia-568.2-d/cat6a/channel")).key_table
    cells = {row[0]: dict(zip(table.titles, row, strict=True)) for row in table.rows}
    assert cells["100"]["insertion_loss"] == "20.89"
    assert cells["500"]["insertion_loss"] == "49.31"
    assert cells["500"]["next"] == "26.10"
    assert cells["31.25"]["eltctl"] == ""
    assert "propagation_delay" not in table.titles


def test_the_readings_are_listed_with_their_switch() -> None:
    rows = {row.id: row for row in reading_rows(Interpretations.load())}
    assert rows["return-loss-below-3-db"].on == "on"
    assert rows["limits-rounded-to-one-decimal"].on == "off"
    assert rows["limits-rounded-to-one-decimal"].families == "iso"
