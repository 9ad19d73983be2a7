"""bag-info.txt: whose bag it is, whom to ask, and what is in it."""

import re
from collections.abc import Mapping, Sequence

from sweepbook.bag.layout import LAYOUT, PROGRAM
from sweepbook.errors import SweepbookError
from sweepbook.text import printable

TOLD = (
    "Source-Organization",
    "Organization-Address",
    "Contact-Name",
    "Contact-Phone",
    "Contact-Email",
    "External-Description",
    "External-Identifier",
    "Bag-Group-Identifier",
    "Internal-Sender-Identifier",
    "Internal-Sender-Description",
)
"""What RFC 8493 (2.2.2) has people tell, in the order of the file; other labels come after."""

LAYOUT_LABEL = "Bag-Layout"
OXUM = "Payload-Oxum"
DAY = "Bagging-Date"
_AGENT = "Bag-Software-Agent"
WORKED_OUT = (DAY, OXUM, _AGENT, LAYOUT_LABEL)
"""What the program writes itself."""
_LABEL = re.compile("[A-Za-z0-9]+(-[A-Za-z0-9]+)*")
_KNOWN = {label.casefold(): label for label in (*TOLD, *WORKED_OUT)}
_OF_THE_JOB = (
    ("Source-Organization", "installer"),
    ("External-Description", "site"),
    ("External-Identifier", "contract"),
    ("External-Identifier", "warranty_number"),
    ("Internal-Sender-Identifier", "number"),
)
"""Labels, and the members of a project file's job block that fill them."""

Fields = Sequence[tuple[str, str]]


def told(text: str) -> tuple[str, str]:
    """Label and text of "LABEL=TEXT".

    Raises:
        SweepbookError: it is not of that form, the label is one that the program fills, or the text
            is empty or has several lines.
    """
    given, mark, value = text.partition("=")
    label = _KNOWN.get(given.strip().casefold(), given.strip())
    if not mark or not _LABEL.fullmatch(label):
        raise SweepbookError(
            f"--info {text!r} is not of the form LABEL=TEXT, with a label of letters and digits, "
            "and hyphens between them.",
            f"Usual labels are {', '.join(TOLD)}.",
        )
    if label in WORKED_OUT:
        raise SweepbookError(
            f"--info {label}: the program works this out and writes it into bag-info.txt itself.",
            "Leave it out, or tell it under a label of your own.",
        )
    if not value.strip() or not value.isprintable():
        raise SweepbookError(
            f"--info {label}: the text must be one line with something in it.",
            f'Write --info {label}="the text".',
        )
    return label, value.strip()


def of_job(job: Mapping[str, object]) -> Fields:
    """What a job says of itself, as fields; those without a text are left out."""
    found = ((label, job.get(name)) for label, name in _OF_THE_JOB)
    return [(label, _line(str(value))) for label, value in found if value]


def whole(given: Fields, job: Fields, name: str, counted: Fields) -> bytes:
    """The file.

    Args:
        given: by the command line; a label that is given there is not taken from the job.
        job: fields of the job.
        name: of the book, which describes the bag where nothing else does.
        counted: day and size.
    """
    told_labels = {label for label, _ in given}
    fields = [*given, *(field for field in job if field[0] not in told_labels)]
    if all(label != "External-Description" for label, _ in fields):
        fields.append(("External-Description", _line(name)))
    fields.sort(key=lambda field: TOLD.index(field[0]) if field[0] in TOLD else len(TOLD))
    fields += [*counted, (_AGENT, PROGRAM), (LAYOUT_LABEL, LAYOUT)]
    return "".join(f"{label}: {value}\n" for label, value in fields).encode()


def _line(text: str) -> str:
    return printable(" ".join(text.split()))


def read(raw: bytes) -> dict[str, str]:
    """The fields of a file, of several with one label the last; lines of another form are none."""
    found: dict[str, str] = {}
    label = ""
    for line in raw.decode("utf-8", "backslashreplace").splitlines():
        if line[:1] in (" ", "\t") and label:
            found[label] += f" {line.strip()}"
            continue
        label, mark, value = line.partition(":")
        if mark:
            found[label] = value.strip()
        else:
            label = ""
    return found
