"""A page read back by lxml, which knows HTML and nothing of what wrote it."""

from collections.abc import Iterable
from pathlib import Path
from typing import Any

from lxml import html

from sweepbook.judging.assessment import Assessment
from sweepbook_plugins.report import page
from tests.xlsx.making import delivery

Row = dict[str, str]


def parsed(path: Path) -> Any:
    return html.document_fromstring(path.read_bytes())


def written(target: Path, entries: Iterable[Assessment], **parts: Any) -> Any:
    """Write a delivery of made-up assessments and read it back."""
    page.write(delivery(entries, **parts), target)
    return parsed(target)


def text(element: Any) -> str:
    return " ".join(element.text_content().split())


def rows(table: Any) -> list[Row]:
    """The rows of a table by the titles of its columns, which must be unique."""
    titles = [text(cell) for cell in table.xpath("./thead/tr/th")]
    assert len(set(titles)) == len(titles) > 1
    found = [[text(cell) for cell in line] for line in table.xpath("./tbody/tr")]
    return [dict(zip(titles, line, strict=True)) for line in found]


def part(tree: Any, name: str) -> Any:
    """The section whose heading has this name."""
    (section,) = tree.xpath(f"//section[@aria-labelledby='{name}']")
    return section


def links(tree: Any) -> list[Row]:
    return rows(part(tree, "links").find(".//table"))


def sheets(tree: Any) -> dict[str, list[Any]]:
    """The sheets of the tests by the label of their link."""
    return {
        section.find("h2").text.strip(): section.xpath("./article")
        for section in tree.xpath("//section[@class='link']")
    }


def answers(tree: Any) -> Row:
    """The questions at the top with their answers."""
    found = part(tree, "glance").find(".//dl[@class='answers']")
    return dict(zip(map(text, found.xpath("./dt")), map(text, found.xpath("./dd")), strict=True))
