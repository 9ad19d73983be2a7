"""What to say where no table, no test or no heading was recognised."""

from collections.abc import Iterator, Sequence

from sweepbook.dialect.joins import ANOTHER_PART
from sweepbook.dialect.raw import Cell, Fault
from sweepbook_plugins.csv.forms import CurvesForm, Layout, Section, Templates, Titles
from sweepbook_plugins.csv.headings import Headings
from sweepbook_plugins.csv.names import LISTED, Names, are_titles, listed, of_lines
from sweepbook_plugins.csv.near_titles import alike, in_words, other_frequencies
from sweepbook_plugins.csv.numbered import numbered
from sweepbook_plugins.csv.piece import COMMENTS, LOOSE, Piece
from sweepbook_plugins.csv.place import Place

DELIMITERS = (",", ";", "\t", "|")


def not_found(layout: Layout, seen: Sequence[tuple[int, list[str]]], names: Names) -> str:
    """What to say where no line of titles was found.

    Args:
        layout: what the dialect says of the lines.
        seen: number and cells of the lines that were read as keys.
        names: the look-ups of the dialect.
    """
    tables = [section for section in layout.sections if section.form]
    if not layout.has_tables:
        return "no line holds a key that is known; see fields and figures"
    for number, cells in seen:
        for section in tables:
            if section.heading and len(cells) > 1 and are_titles(section, cells, names):
                wanted = ", ".join(map(repr, section.heading))
                return (
                    f"line {number} holds titles of {section.where}, but not below a heading of "
                    f"the form {wanted}; see {section.where}.heading, words.parameters, "
                    "words.pairs and words.ends"
                )
    for number, titles in _with_upper(layout, seen):
        for section in tables:
            if near := other_frequencies(titles, section, names):
                return f"line {number} {near}"
    said = [_of_section(section, layout, seen, names) for section in tables[:2]]
    more = f"; nor of the {len(tables) - 2} other sections" if len(tables) > 2 else ""
    return "; ".join(said) + more


def _with_upper(
    layout: Layout, seen: Sequence[tuple[int, list[str]]]
) -> Iterator[tuple[int, Sequence[str]]]:
    """Lines that may be titles: those that begin in one and go on in the next, and each alone."""
    for at, (number, cells) in enumerate(seen):
        if cells[0] in layout.upper_titles and at + 1 < len(seen) and seen[at + 1][0] == number + 1:
            yield number + 1, of_lines([cells], seen[at + 1][1])
        yield number, cells


def unswept(reason: str) -> str:
    """What to say of a file that is a test without any curve.

    Args:
        reason: of `not_found`.
    """
    return (
        "no table of curves is in this file, so this test is read without them; if they were "
        f"measured, export it again, or mend the dialect: {reason}"
    )


def _of_section(
    section: Section, layout: Layout, seen: Sequence[tuple[int, list[str]]], names: Names
) -> str:
    form, where = section.form, section.where
    key = f"{where}.{'curves.frequency' if isinstance(form, CurvesForm) else 'rows'}"
    if section.columns:
        count = len(section.columns)
        return f"no line has the {count} cells of {where}.columns; see also csv.delimiter"
    wanted = sorted([*((title,) for title in form.titles), *form.choices]) if form else []
    what = f"all the titles {', '.join(map(in_words, wanted))}"
    if len(wanted) == 1:
        what = f"the title {in_words(wanted[0])} and another"
    near = _by_another_delimiter(wanted, layout, seen, names) or _nearest(wanted, seen, names)
    wrong = "; if a title is wrong there, mend the export" if near else ""
    where = f"{key}, csv.delimiter, csv.encoding, {ANOTHER_PART}"
    return f"no line holds {what}{near}; see {where}{wrong}"


def _by_another_delimiter(
    wanted: Sequence[Titles], layout: Layout, seen: Sequence[tuple[int, list[str]]], names: Names
) -> str:
    """The line that would hold all of them if its cells were parted otherwise."""
    for number, cells in seen:
        line = layout.delimiter.join(cells)
        for mark in DELIMITERS:
            parted = [cell.strip() for cell in line.split(mark)]
            if mark != layout.delimiter and len(parted) > 1:
                lacking = [of for of in wanted if not names.held(of, parted)]
                if not lacking:
                    return f"; line {number} does, with the delimiter {mark!r}"
    return ""


def _nearest(wanted: Sequence[Titles], seen: Sequence[tuple[int, list[str]]], names: Names) -> str:
    """The line that comes nearest, and what it lacks."""
    lacking: dict[int, list[Titles]] = {
        number: [titles for titles in wanted if not names.held(titles, cells)]
        for number, cells in seen
    }
    best = min(seen, key=lambda line: len(lacking[line[0]]), default=None)
    if best and 0 < len(lacking[best[0]]) < len(wanted):
        lacks = lacking[best[0]]
        near = alike(lacks[0], best[1])
        more = f" and {len(lacks) - LISTED} more" if len(lacks) > LISTED else ""
        said = f"{', '.join(map(in_words, lacks[:LISTED]))}{more}"
        return f"; line {best[0]} lacks {said}{near and f' but{near}'}"
    for number, cells in seen:
        for titles in wanted:
            if near := alike(titles, cells):
                return f"; line {number}{near}"
    return ""


def no_first_line(mark: str) -> str:
    """What to say where no test begins."""
    return f"no line begins with {mark!r}, so no test begins; see csv.test.first_line"


def label_of_the_next(above: Cell, line: int) -> Fault:
    """What to say where a label stands above all tests, and others behind the tables of tests.

    Args:
        above: the first.
        line: of the first of the others.
    """
    return Fault(
        above.place,
        f"the label {above.text!r} stands above the first test, and that of the next one behind "
        f"the tables of a test (line {line}), so that each test would be told under the label of "
        "the next; let tests begin with the line that holds the label; see csv.test.first_line",
    )


def no_row(text: str) -> str:
    """What to say of a line right below rows that is read as a key with its values."""
    return (
        f"{text!r} is taken for a key, since the line is no row: it has not as many cells, and no "
        "number where the frequency stands; name it in fields, figures or csv.skip"
    )


def no_heading(text: str, headings: Headings, names: Names) -> str:
    """What to say of a line of words among the rows of a table."""
    lacking = names.lacking(text, headings.templates)
    near = names.near(text, headings.templates)
    near = f" ({lacking})" if lacking else near
    section = "[[csv.sections]]"
    if not headings.templates:
        section += ' of a dialect whose csv.layout is "sections"'
    return (
        f"{text!r:.60} stands among rows and holds no number, so that it is none, and it is no "
        f"declared heading{near}; if a table of its own stands below it, declare it as a heading "
        f"in {section}; if lines of keys do, in csv.preamble.headings; if it means nothing, in "
        "csv.skip"
    )


def no_test(piece: Piece) -> str:
    """What to say of lines that are no test."""
    comments = piece.keys.left.get(COMMENTS, [])
    above = f", with the comments {listed(comments)}," if comments else ""
    return (
        f"these lines ({listed(piece.keys.properties)}){above} hold nothing that is known and are "
        "taken for no test; if they are one, see fields, figures and csv.test; else csv.skip"
    )


def behind_the_last(comments: Sequence[str]) -> str:
    """What to say of comment lines behind the end of the last test."""
    return (
        f"comment lines behind the end of the last test are of none and kept in none: "
        f"{listed(comments)}; if they mean nothing, name them in csv.skip; if not, see "
        "csv.test.last_line"
    )


def repeated(known: Place, layout: Layout) -> str:
    """What to say where the titles of a table come again within one test."""
    if (some := next(numbered(layout), None)) and not layout.marks.any:
        return (
            f"the same titles come again in one test; at the headings {some}, which differ by a "
            f'number alone, tests seem to begin: add csv.test.first_line = "{some.start}", and '
            f"{some.change}"
        )
    add = "add csv.test.first_line, which says what a test begins with"
    return (
        f"the same titles stood in line {known.line} of this test already; if a new test begins "
        f"here, {'see csv.test' if layout.marks.any else add}; if another part of it does, give "
        "csv.sections a heading that says which"
    )


def loose(key: str, headings: Templates, names: Names, titles: str = "") -> str:
    """What to say of rows below no known titles, kept under a key.

    Args:
        key: the key.
        headings: templates of headings.
        names: the look-ups of the dialect.
        titles: what was said of the line above, where that has titles all but known; else "".
    """
    if key != LOOSE:
        return (
            f"rows below {key!r}, which is no declared heading, are kept in extra"
            f"{names.todo(key, headings, 'csv.sections')}"
        )
    if titles:
        return f"rows of numbers below titles that are not known, kept in extra: {titles}"
    return (
        "rows of numbers without a known line of titles above them; they are kept in extra; see "
        "csv.curves, csv.rows or csv.sections"
    )
