"""The guide and its schema taken apart, and records told in the lines that the guide uses."""

import re
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np

from tests.reading import axis, called

GUIDE = Path(__file__).parents[1] / "plugins" / "README.md"


def blocks(language: str) -> list[str]:
    """The blocks of the guide in one language, in order."""
    text = GUIDE.read_text(encoding="utf-8")
    return re.findall(rf"^```{language}\n(.*?)^```$", text, flags=re.MULTILINE | re.DOTALL)


def every_block() -> list[tuple[str, str]]:
    """Language and text of every block of the guide, in order."""
    text = GUIDE.read_text(encoding="utf-8")
    return re.findall(r"^```([a-z]+)\n(.*?)^```$", text, flags=re.MULTILINE | re.DOTALL)


class Example(NamedTuple):
    """An example of the guide: a file, the dialect for it, and the record in lines."""

    content: str
    dialect: str
    lines: list[str]


def examples(reader: str) -> list[Example]:
    """The examples of one reader, in order."""
    every = every_block()
    return [
        Example(every[at - 1][1], block, every[at + 1][1].splitlines())
        for at, (language, block) in enumerate(every)
        if language == "toml" and f'format = "{reader}"' in block
    ]


class Job(NamedTuple):
    """An example of several files: these by their names, their dialect, and a record in lines."""

    files: dict[str, str]
    dialect: str
    lines: list[str]


def job(dialect: str, *names: str) -> Job:
    """The example of the dialect of a name; its files are called as the guide says beside them."""
    every = every_block()
    (at,) = (at for at, (_, text) in enumerate(every) if f'\nname = "{dialect}"\n' in text)
    assert (every[at][0], every[at + 1][0]) == ("toml", "text")
    files = every[at - len(names) : at]
    assert {language for language, _ in files}.isdisjoint(("toml", "text"))
    texts = dict(zip(names, (text for _, text in files), strict=True))
    return Job(texts, every[at][1], every[at + 1][1].splitlines())


def told(document: dict[str, Any]) -> list[str]:
    """A record in the lines that the guide uses."""
    stated = document.get("stated", {})
    limit = document["resolved"]["limit"]
    lines = [
        f"label {document['link']['label']}",
        f"limit {document['test']['limit']['as_stated']} -> {limit['path']}",
        f"started {document['test']['started']['rfc3339']}",
    ]
    if "overall" in stated:
        lines.append(f"stated {stated['overall']['verdict']}")
    for item in stated.get("items", []):
        if "verdict" in item:
            lines.append(f"{called(item)}: stated {item['verdict']}")
        if margin := item.get("worst_margin"):
            at = f"{margin['margin_db']:g} dB at {margin['frequency_mhz']:g} MHz"
            lines.append(f"{called(item)}: worst margin {at}")
    for entry in document["results"].get("scalars", []):
        if "length_m" in entry:
            lines.append(f"{called(entry)}: {entry['length_m']:.5f} m")
        elif "resistance_ohm" in entry:
            lines.append(f"{called(entry)}: {entry['resistance_ohm']:g} ohm")
        else:
            at = f"{entry['delay_ns']:g} ns at {entry['frequency_mhz']:g} MHz"
            lines.append(f"{called(entry)}: {at}")
    for entry in document["results"]["sweeps"]:
        lines.append(f"{called(entry)}: {', '.join(points(document, entry))}")
    extra = document.get("extra", {})
    return [*lines, f"extra {', '.join(extra) or 'nothing'}"]


def points(document: dict[str, Any], entry: dict[str, Any]) -> list[str]:
    """Every point of a sweep in words."""
    held = next((entry[name] for name in ("value_db", "delay_ns") if name in entry), None)
    values = iter(losses(entry["complex"]) if held is None else held)
    gaps = {gap["from"] for gap in entry.get("gaps", [])}
    bounds = {bound["from"]: bound["bound"] for bound in entry.get("bounds", [])}
    said = []
    for position, frequency in enumerate(axis(document, entry)):
        clipped = f"{bounds[position].replace('_', ' ')} " if position in bounds else ""
        what = "gap" if position in gaps else f"{clipped}{next(values):g}"
        said.append(f"{what} at {frequency:g} MHz")
    return said


def losses(data: dict[str, Any]) -> list[float]:
    """Losses of complex values in dB, to four digits."""
    size = np.hypot(data["real"], data["imaginary"])
    return [float(f"{loss:.4g}") for loss in -20.0 * np.log10(size)]


def properties(node: object, path: str) -> list[tuple[str, dict[str, Any]]]:
    """Path and schema of every property."""
    found = []
    if isinstance(node, dict):
        for name, inner in node.get("properties", {}).items():
            if isinstance(inner, dict) and "const" not in inner and "if" not in path:
                found.append((f"{path}.{name}", inner))
        for name, inner in node.items():
            found += [] if name in ("if", "then") else properties(inner, f"{path}.{name}")
    if isinstance(node, list):
        for position, inner in enumerate(node):
            found += properties(inner, f"{path}[{position}]")
    return found


def keys(schema: dict[str, Any]) -> set[str]:
    """Last part of the path of every property."""
    return {path.rpartition(".")[2] for path, _ in properties(schema, "$") if "allOf" not in path}


def mentioned(guide: str) -> str:
    """The guide with the tables' names and dotted names taken apart: `.part` and `a.b` count."""
    names = set()
    for code in re.findall(r"`([^`\n]+)`", guide):
        names |= {code, *re.split(r"[.\[\]]+", code)}
    return "".join(f"`{name}`" for name in names)
