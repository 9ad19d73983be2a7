"""Drafts of files that a test wrote, and what is read by them."""

from pathlib import Path
from typing import Any

from sweepbook.dialect.load import BadDialect, parse
from sweepbook.errors import ReadProblem
from sweepbook.formats import ReadSetting
from sweepbook.limits.library import Library
from sweepbook.record.model import Record, frequency_mhz
from sweepbook.registry import load
from sweepbook.source import Source
from tests.program import run

from .links import KHZ, Key, Link

LIBRARY = Library.load()
FORMATS = load().formats
ANSWERS = {"first": "disturbing", "loss": "dB", "frequency": "MHz"}
"""What a person puts in the place of TO-BE-SETTLED where not every text can stand, by the key."""


def draft_of(folder: Path, text: str, name: str = "export.csv") -> str:
    """Write a file and draft a dialect for it by the command."""
    path = folder / name
    path.write_text(text, encoding="utf-8")
    result = run("dialect", "draft", path)
    assert result.exit_code == 0, result.output
    return result.stdout


def refusal(draft: str) -> str:
    """What the loader has against a draft whose open questions are answered; "" for nothing."""
    for key, answer in ANSWERS.items():
        draft = draft.replace(f'\n{key} = "TO-BE-SETTLED"\n', f'\n{key} = "{answer}"\n')
    try:
        chosen = parse(draft.encode(), "draft.toml")
        check = FORMATS[chosen.format].check_dialect
        assert check is not None
        check(chosen)
    except BadDialect as fault:
        return str(fault)
    return ""


def read(path: Path, dialect: str) -> tuple[list[Record], list[ReadProblem]]:
    """The records and problems of a file."""
    chosen = parse(dialect.encode(), "draft.toml")
    entry = FORMATS[chosen.format]
    assert entry.check_dialect is not None
    assert entry.read is not None
    entry.check_dialect(chosen)
    items = list(entry.read(Source(path), ReadSetting(LIBRARY, {}, chosen)))
    problems = [item for item in items if isinstance(item, ReadProblem)]
    return [item for item in items if isinstance(item, Record)], problems


def curves(document: dict[str, Any]) -> dict[Key, list[float]]:
    """The curves of a record; the two pairs of NEXT in rising order, since both are one curve."""
    found = {}
    for sweep in document["results"]["sweeps"]:
        pairs = tuple(sweep["pairs"])
        if sweep["parameter"] == "next":
            pairs = tuple(sorted(pairs))
        key = (sweep["parameter"], sweep.get("end"), pairs)
        assert key not in found
        axis = frequency_mhz(document, sweep["grid"])
        assert [round(float(mhz) * 1000, 6) for mhz in axis] == KHZ
        found[key] = [float(value) for value in sweep["value_db"]]
    return found


def written(link: Link, *parameters: str) -> dict[Key, list[float]]:
    """What a record of a link must hold of some parameters, dB."""
    return {
        key: [value / 100 for value in values]
        for key, values in link.curves.items()
        if key[0] in parameters
    }


def edited(draft: str, *changes: tuple[str, str]) -> str:
    """A draft with lines changed as a person would; each stands in it once."""
    for old, new in changes:
        assert draft.count(f"\n{old}\n") == 1, old
        draft = draft.replace(f"\n{old}\n", f"\n{new}\n")
    return draft
