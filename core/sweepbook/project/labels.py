"""The forms in which a job writes its labels, and the one form that each is brought to.

Testers and schedules write one label with other marks, other zeros, in another order or case. The
project file declares these forms; a label that fits none of them stays as it is.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sweepbook.label_template import Misfit, Piece, Template, filled, names, taken_apart, template

CAPITAL, SMALL = "capital", "small"


@dataclass(frozen=True, slots=True)
class LabelForms:
    """The forms of labels.

    Attributes:
        form: the one that labels are brought to.
        others: those that they come in besides, all with the same pieces.
        letters: whether pieces are written in capital or small letters.
    """

    form: Template
    others: tuple[Template, ...]
    letters: str = CAPITAL

    def one(self, label: str) -> str:
        """A label in the one form; itself where it fits no form, or cannot be written so.

        Case does not count, letter by letter, nor do runs of blanks; a letter whose capital has
        another small letter, or more than one letter, stands for itself. A piece of digits is
        written with as many digits as the form says, or without zeros before it where the form
        says no number; a number of more digits than that fits no form.
        """
        plain = _capital(" ".join(label.split()))
        for form in (self.form, *self.others):
            pieces = taken_apart(_upper(form), plain)
            if not isinstance(pieces, Misfit):
                return self._written(pieces) or label
        return label

    def _written(self, pieces: Mapping[str, str]) -> str:
        """The label of some pieces; "" where they cannot be written in the one form."""
        told = {
            part.name: _piece(part, pieces[part.name])
            for part in self.form
            if isinstance(part, Piece)
        }
        if not all(told.values()):
            return ""
        again = taken_apart(_upper(self.form), filled(_upper(self.form), told))
        if again != told:
            return ""
        if self.letters == SMALL:
            told = {name: _small(text) for name, text in told.items()}
        return filled(self.form, told)


def forms_of(table: Mapping[str, Any]) -> LabelForms | None:
    """The forms that a table of a project file declares; None where there is none.

    Raises:
        ValueError: a form is not well written.
    """
    if not table:
        return None
    others = tuple(map(template, table.get("other_forms", ())))
    return LabelForms(template(table["form"]), others, table.get("letters", CAPITAL))


def faults(table: Mapping[str, Any]) -> Iterator[str]:
    """What is wrong with a table that follows the schema: how a form is written, or its pieces."""
    try:
        found = forms_of(table)
    except ValueError as error:
        yield f"labels: {error}"
        return
    if found is None:
        return
    wanted = set(names(found.form))
    if not wanted:
        yield "labels.form has no piece, so all labels would be one"
    for number, other in enumerate(found.others):
        if apart := wanted ^ set(names(other)):
            listed = ", ".join(sorted(apart))
            yield (
                f"labels.other_forms[{number}] has not the pieces of labels.form: {listed}; no "
                "label can be written in the one form without each of them"
            )


def _piece(part: Piece, text: str) -> str:
    """A piece as the form writes it; "" where it cannot."""
    if part.kind != "digit":
        return text
    if not text.isascii() or not text.isdigit():
        return ""
    bare = text.lstrip("0") or "0"
    written = bare.rjust(part.count, "0")
    return written if part.count in (0, len(written)) else ""


def _upper(form: Template) -> Template:
    return tuple(_capital(part) if isinstance(part, str) else part for part in form)


def _capital(text: str) -> str:
    """Each letter as its capital, where that is one letter of which it is the small one."""
    return "".join(char.upper() if char.upper().lower() == char else char for char in text)


def _small(text: str) -> str:
    """Each letter as its small one, where that is one letter of which it is the capital."""
    return "".join(char.lower() if char.lower().upper() == char else char for char in text)
