"""The last sheet: how to read the others, what the judgements rest on, and a caution."""

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from sweepbook_plugins.xlsx_columns import title
from sweepbook_plugins.xlsx_look import TITLE, Kind
from sweepbook_plugins.xlsx_table import Look, fitting, height

if TYPE_CHECKING:
    from sweepbook.delivery import Delivery
    from sweepbook.limits.model import LimitTable

TEXT_WIDTH = 110
Row = tuple[str, str, Kind]

JUDGEMENTS = (
    ("upheld", "The sweeps prove what was stated, a pass or a fail."),
    ("overturned", "The sweeps prove the opposite of what was stated."),
    ("unproven", "The sweeps prove neither: something required is missing or too near to tell."),
    ("unstated", "The source stated no verdict; see what the sweeps say."),
)
GRADES = (
    ("Grade A", "A public text shows the limit."),
    ("Grade B", "Recalled, of the standards' usual structure, agreeing with recalled values."),
    (
        "Grade C",
        "Recalled and not cross-checked; used within a known interval, or on request.",
    ),
)
READING = (
    ("Margin", "Positive is better than the limit. Worst margin and worst value are two things: "
     "the smallest margin and the smallest loss (largest insertion loss) may lie at different "
     "frequencies, each is given with the limit at its own."),
    ("Pairs", "By pins. For crosstalk: disturbing pair / disturbed pair."),
    ("End", "Where the value was measured; for far-end crosstalk where the disturbed pair is "
     "received. Near and far are those of the test; the terminations say what is there."),
    ("Units", "dB, MHz, ns, m, ohm and percent, as the column or the column Unit says; every loss "
     "is a positive number of dB. Faults of a wire map are counted."),
    ("For information", "Points that a rule of the standard leaves out of the verdict."),
    ("Times", "RFC 3339, as the source's own clock and zone; -00:00 is an unknown offset."),
    ("On paper", "The first columns of each sheet are printed; the rest are for the screen."),
    ("Colours", "A tint repeats the word in its cell and says nothing of its own."),
)  # fmt: skip
CAUTION = (
    "This workbook judges data; it does not authorise work. Before anybody touches a link: make "
    "sure that it carries no service, no remote power and no telephone voltage (ringing can "
    "shock), and that no screen is lifted or bond broken to better a result. Local codes, the "
    "contract and licensed practice come first."
)


def write_about(workbook: Any, look: Look, delivery: "Delivery") -> None:  # noqa: ANN401
    """Write the sheet; call it once the delivery's entries have been walked."""
    sheet = workbook.add_worksheet("About")
    sheet.set_column(0, 0, 46, look.cell(Kind.TEXT))
    sheet.set_column(1, 1, TEXT_WIDTH, look.cell(Kind.PROSE))
    sheet.set_landscape()
    sheet.set_paper(9)
    sheet.fit_to_pages(1, 0)
    sheet.set_footer("&L&A&RPage &P of &N")
    sheet.write_string(0, 0, fitting(delivery.about.title), workbook.add_format(TITLE))
    sheet.freeze_panes(1, 0)
    for number, (name, text, kind) in enumerate(_rows(delivery), 1):
        style = look.header if not text else look.cell(kind, name if kind is Kind.WORD else "")
        sheet.set_row(number, height(text, TEXT_WIDTH))
        sheet.write_string(number, 0, fitting(name), style)
        if text:
            sheet.write_string(number, 1, fitting(text), look.cell(Kind.PROSE))


def _rows(delivery: "Delivery") -> Iterator[Row]:
    """Name, text and kind of each row; a row without text is a heading."""
    about = delivery.about
    yield "Caution", CAUTION, Kind.TEXT
    yield "Made by", about.program, Kind.TEXT
    yield "Decision rule", about.decision_rule, Kind.TEXT
    for name, text in about.options.items():
        yield f"Asked for: {name}", text, Kind.TEXT
    yield "How to read it", "", Kind.TEXT
    yield from ((name, text, Kind.WORD) for name, text in JUDGEMENTS)
    yield from ((name, text, Kind.TEXT) for name, text in READING)
    yield "Limits judged by", "", Kind.TEXT
    used = [path for path in about.limits.paths() if f"limit table {path}" in about.digests]
    for path in used:
        yield from _of_table(about.limits.table(path))
    if not used:
        yield "none", "No record was judged under a limit table.", Kind.TEXT
    yield from ((name, text, Kind.TEXT) for name, text in GRADES)
    yield "Could not be read", "", Kind.TEXT
    for problem in delivery.problems:
        yield f"{problem.source} {problem.place}".strip(), problem.message, Kind.TEXT
    if not delivery.problems:
        yield "nothing", "Every test in the sources was read.", Kind.TEXT
    yield "SHA-256 of what the judgements rest on", "", Kind.TEXT
    yield from ((name, digest, Kind.TEXT) for name, digest in about.digests.items())


def _of_table(table: "LimitTable") -> Iterator[Row]:
    """Document and edition, how the limit of each parameter is known, and the sources."""
    yield table.path, table.title, Kind.TEXT
    grades: dict[str, list[str]] = {}
    for parameter, limit in table.parameters.items():
        grades.setdefault(limit.grade, []).append(title(parameter))
    for grade, names in sorted(grades.items()):
        yield f"    known to grade {grade}", ", ".join(names), Kind.TEXT
    for source in table.sources.values():
        yield "    source", source, Kind.TEXT
