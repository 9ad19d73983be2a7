"""Cells that hold several texts, such as "72.5 m (limit 90)" or "1.9;1.8;1.7": taken apart."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from sweepbook.dialect.names import PLACEHOLDERS, placeholders
from sweepbook.dialect.raw import Cell, Fault
from sweepbook.dialect.words import as_list

PLACE = "{}"
"""Stands for one of the texts in a form."""


@dataclass(frozen=True)
class Several:
    """How the texts of a cell are told apart: by what stands around them, or by a mark between.

    Attributes:
        names: what the texts are called, in their order.
        forms: the whole cell with {} for each text; the first that fits counts.
        separator: what stands between two texts, where there are no forms.
        where: the table of the dialect, for messages.
    """

    names: tuple[str, ...]
    forms: tuple[str, ...] = ()
    separator: str = ""
    where: str = "cells"

    def texts(self, cell: str, is_missing: Callable[[str], bool]) -> list[str]:
        """The texts of a cell, as many as there are names; "" for those that its form lacks.

        Args:
            cell: the text.
            is_missing: whether a text stands for no value: then it stands for each of them.

        Raises:
            ValueError: it cannot be told apart.
        """
        text = cell.strip()
        if not text or is_missing(text):
            return [text] * len(self.names)
        if self.separator:
            found = [piece.strip() for piece in text.split(self.separator)]
            if len(found) == len(self.names) + 1 and not found[-1]:
                found.pop()  # a mark behind the last
            if len(found) == len(self.names):
                return found
            raise ValueError(
                f"{len(found)} texts with {self.separator!r} between stand in {text!r:.60}, where "
                f"{len(self.names)} are named ({', '.join(self.names)}); see {self.where}"
            )
        for form in self.forms:
            if fitting := _fitting(text, form):
                return [*fitting, *[""] * (len(self.names) - len(fitting))]
        shown = " or ".join(map(repr, self.forms))
        raise ValueError(f"{text!r:.60} is not of the form {shown}; see {self.where}.form")


def _fitting(text: str, form: str) -> list[str]:
    """What stands for each {} of a form; [] where the text is not of it.

    A text goes on until what follows it in the form comes for the first time.
    """
    first, *between = form.strip().split(PLACE)
    if not text.startswith(first):
        return []
    found, at = [], len(first)
    for number, mark in enumerate(between):
        last = number == len(between) - 1
        end = len(text) - len(mark) if last else text.find(mark, at)
        if end < at or not text[at:end].strip() or text[end : end + len(mark)] != mark:
            return []
        found.append(text[at:end].strip())
        at = end + len(mark)
    return found


def build(tables: Iterable[Mapping[str, Any]]) -> dict[str, Several]:
    """By title or key of the cell, out of the tables `cells`.

    Raises:
        ValueError: a table says too much, too little, or what another one says; with its key path.
    """
    found: dict[str, Several] = {}
    for number, table in enumerate(tables):
        where = f"cells.{number}"
        forms = tuple(as_list(table.get("form", [])))
        separator = table.get("separator", "")
        if bool(forms) == bool(separator):
            raise ValueError(f"{where}: says either form or separator")
        for key in as_list(table["key"]):
            if told := [f"{{{of}}}" for of in placeholders(key) if of in PLACEHOLDERS]:
                raise ValueError(
                    f"{where}.key: {key!r} is a title or key as it stands, and takes no template; "
                    f"list each of them without {', '.join(told)}"
                )
            names = tuple(table.get("names", _named(key, separator)))
            for form in forms:
                _check(form, names, where)
            if len(names) < 2 and not forms:
                raise ValueError(f"{where}.names: is missing; it says what the texts are called")
            if len(set(names)) < len(names):
                raise ValueError(f"{where}.names: has a name twice")
            if key in found:
                raise ValueError(f"{where}.key: {key!r} is that of {found[key].where} too")
            found[key] = Several(names, forms, separator, where)
    return found


def _named(key: str, separator: str) -> list[str]:
    return [name.strip() for name in key.split(separator)] if separator else []


def _check(form: str, names: tuple[str, ...], where: str) -> None:
    count = form.count(PLACE)
    if not 0 < count <= len(names):
        raise ValueError(
            f"{where}.form: {form!r} holds {PLACE} {count} times, and {where}.names has "
            f"{len(names)} names"
        )
    if PLACE * 2 in form:
        raise ValueError(f"{where}.form: nothing stands between two {PLACE} of {form!r}")


def taken_apart(
    properties: Mapping[str, Cell],
    several: Mapping[str, Several],
    is_missing: Callable[[str], bool],
) -> tuple[dict[str, Cell], list[Fault]]:
    """Texts by key with those taken apart that hold several, and faults of those that cannot be.

    Args:
        properties: texts by key; one below a heading is called "Heading/Key".
        several: by key.
        is_missing: whether a text stands for no value.
    """
    found: dict[str, Cell] = {}
    faults: list[Fault] = []
    for key, cell in properties.items():
        own = key if key in several else key.rpartition("/")[2]
        if own not in several:
            found.setdefault(key, cell)
            continue
        try:
            texts = several[own].texts(cell.text, is_missing)
        except ValueError as error:
            faults.append(Fault(cell.place, str(error)))
            continue
        above = key.removesuffix(own)
        for name, text in zip(several[own].names, texts, strict=True):
            if text and found.setdefault(f"{above}{name}", Cell(text, cell.place)).text != text:
                faults.append(Fault(cell.place, _again(f"{above}{name}", text, found)))
    return found, faults


def _again(key: str, text: str, found: Mapping[str, Cell]) -> str:
    known = found[key]
    return f"{text!r:.60} is called {key!r}, as is {known.text!r:.60} in {known.place}; see cells"
