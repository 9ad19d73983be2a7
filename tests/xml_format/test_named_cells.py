"""Rows whose cells are called each by a name, and columns elsewhere that say what a name means."""

from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from sweepbook.dialect.load import BadDialect
from tests.drafts.drafting import curves, read, written

from .test_titled import LINK, RAW, dialect, export, lost, record, rows_of
from .test_titles_of_texts import COLUMNS, Parts, attributes, parts_of, said

CALLED = [f"k{at}" for at in range(len(COLUMNS))]
Row = Sequence[tuple[str, str]]


def in_attributes(row: Row) -> str:
    cells = " ".join(f'{name}="{cell}"' for name, cell in row)
    return f"<row {cells}/>"


def in_elements(row: Row) -> str:
    cells = "".join(f"<{name}>{cell}</{name}>" for name, cell in row)
    return f"<row>{cells}</row>"


def by_choice(row: Row) -> str:
    cells = "".join(f'<v of="{name}">{cell}</v>' for name, cell in row)
    return f"<row>{cells}</row>"


def head(columns: Sequence[Parts], called: Sequence[str] = CALLED) -> str:
    named = zip(called, columns, strict=True)
    made = (attributes([("id", name), *parts]) for name, parts in named)
    return f"<head>{''.join(made)}</head>"


def rows() -> list[list[tuple[str, str]]]:
    return [list(zip(CALLED, cells, strict=True)) for cells in rows_of(LINK)]


def form(cells: str = "@{}", called: str = "@id", frequency: str = "") -> str:
    """A dialect of such rows."""
    told = said("@quantity", "@pair", "@end").replace('"v"', f'"{cells}"')
    made = dialect(told.replace("]", f'], called = "{called}"', 1))
    return made.replace('frequency = "MHz"', f'frequency = "{frequency}"') if frequency else made


WAYS = [(in_attributes, "@{}"), (in_elements, "{}"), (by_choice, "v[@of={}]")]


@pytest.mark.parametrize(("write", "cells"), WAYS)
def test_cells_are_found_by_the_names_of_their_columns(
    write: Callable[[Row], str], cells: str, tmp_path: Path
) -> None:
    """In whatever order they stand, and in another one than that of the columns."""
    text = export(head(COLUMNS[::-1], CALLED[::-1]), [write(row) for row in rows()])
    document, messages = record(tmp_path, text, form(cells))
    assert messages == []
    assert curves(document) == written(LINK, *RAW)


@pytest.mark.parametrize(("write", "cells"), WAYS)
def test_rows_may_have_their_cells_in_different_orders(
    write: Callable[[Row], str], cells: str, tmp_path: Path
) -> None:
    turned = [row[::-1] if at % 2 else row for at, row in enumerate(rows())]
    text = export(head(COLUMNS), list(map(write, turned)))
    document, messages = record(tmp_path, text, form(cells))
    assert messages == []
    assert curves(document) == written(LINK, *RAW)


def test_a_row_may_have_its_frequency_beside_its_cells(tmp_path: Path) -> None:
    given = [in_attributes([("mhz", row[0][1]), *row[1:]]) for row in rows()]
    text = export(head(COLUMNS[1:], CALLED[1:]), given)
    document, messages = record(tmp_path, text, form(frequency="@mhz"))
    assert messages == []
    assert curves(document) == written(LINK, *RAW)


def test_columns_change_places_with_their_names(tmp_path: Path) -> None:
    """Two names exchanged are two curves exchanged, and no others."""
    called = [*CALLED]
    one, other = (COLUMNS.index(parts_of(f"IL {pair}")) for pair in ("12", "36"))
    called[one], called[other] = called[other], called[one]
    text = export(head(COLUMNS, called), list(map(in_attributes, rows())))
    document, _ = record(tmp_path, text, form())
    right = written(LINK, *RAW)
    left, moved = (("insertion_loss", None, (pair,)) for pair in ("1-2", "3-6"))
    assert curves(document) == {**right, left: right[moved], moved: right[left]}


@pytest.mark.parametrize("write", [in_attributes, in_elements])
def test_a_cell_that_no_column_names_is_kept(write: Callable[[Row], str], tmp_path: Path) -> None:
    given = [write([*row, ("k99", f"7.{at}")]) for at, row in enumerate(rows())]
    document, messages = record(
        tmp_path, export(head(COLUMNS), given), form("@{}" if write is in_attributes else "{}")
    )
    assert curves(document) == written(LINK, *RAW)
    assert "7.1" in str(document["extra"])
    assert any("k99" in message for message in messages)


def test_a_column_that_no_row_has_is_no_curve(tmp_path: Path) -> None:
    """As of a test that left a parameter out, whose columns are declared all the same."""
    given = [in_attributes(row[:-1]) for row in rows()]
    document, _ = record(tmp_path, export(head(COLUMNS), given), form())
    last = written(LINK, *RAW)
    last.pop([*last][-1])
    assert curves(document) == last


def test_a_row_that_lacks_a_cell_of_a_curve_moves_no_other(tmp_path: Path) -> None:
    given = rows()
    del given[5][COLUMNS.index(parts_of("RL 12 A"))]
    text = export(head(COLUMNS), list(map(in_attributes, given)))
    told = lost(tmp_path, text, form())
    assert "point 6, RL 12 A: the cell is empty where a number was expected" in told


@pytest.mark.parametrize(
    ("called", "why"),
    [
        (["k0", *CALLED[1:-1], "k1"], "'k1' names the cells of two columns"),
        (["", *CALLED[1:]], "a column has no name for its cells"),
        (["k 0", *CALLED[1:]], "no cell can be called 'k 0'"),
    ],
)
def test_names_that_tell_no_cells_apart_are_refused(
    called: list[str], why: str, tmp_path: Path
) -> None:
    text = export(head(COLUMNS, called), list(map(in_attributes, rows())))
    told = lost(tmp_path, text, form())
    assert why in told
    assert "xml.curves.point.titles.called" in told


@pytest.mark.parametrize(
    ("cells", "called", "why"),
    [
        ("@v", "@id", "with titles.called it is the path of a cell"),
        ("@{}{}", "@id", "with titles.called it is the path of a cell"),
        ("@{any}", "@id", "with titles.called it is the path of a cell"),
        ("@{}", "@a@b", "xml.curves[1].point.titles.called"),
        ("@{}", "", "xml.curves.0.point.titles: expected is a path, or a table"),
    ],
)
def test_what_cannot_call_cells_is_refused_with_its_key(
    cells: str, called: str, why: str, tmp_path: Path
) -> None:
    refuse(tmp_path, form(cells, called), why)


@pytest.mark.parametrize("cells", ["@{any}", "@{}", "{pairs}", "v[@of={}]"])
def test_braces_are_of_no_use_without_the_names(cells: str, tmp_path: Path) -> None:
    told = dialect(said("@quantity", "@pair", "@end").replace('"v"', f'"{cells}"'))
    refuse(tmp_path, told, "titles = { path, texts, called }")


def refuse(folder: Path, dialect: str, why: str) -> None:
    path = folder / "export.xml"
    path.write_text(export(head(COLUMNS), list(map(in_attributes, rows()))), encoding="utf-8")
    with pytest.raises(BadDialect) as refused:
        read(path, dialect)
    assert why in str(refused.value)


def test_figures_have_paths_of_their_own(tmp_path: Path) -> None:
    row = (
        '[[xml.figures]]\npath = "table"\n[xml.figures.row]\npath = "row"\ncells = "@{}"\n'
        'titles = { path = "head/c", texts = "@is", called = "@id" }\nvalue = "{parameter}"\n'
    )
    refuse(tmp_path, form().replace("[fields]", f"{row}[fields]"), "of figures name each cell")
