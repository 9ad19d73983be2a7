"""What can go wrong, as values a person can act on: every message says what to do next."""

from dataclasses import dataclass


class SweepbookError(Exception):
    """A fault the user can mend.

    Args:
        message: what is wrong, one sentence, with file and place where there is one.
        todo: what to do next, one sentence.
    """

    def __init__(self, message: str, todo: str) -> None:
        self.message = message
        self.todo = todo
        super().__init__(f"{message} {todo}")


class PluginCrash(SweepbookError):
    """A plugin raised what it must not: a fault of the plugin, not of the data."""


@dataclass(frozen=True, slots=True)
class ReadProblem:
    """One thing a reader could not take; the rest of the file is read all the same.

    Attributes:
        source: name of the file.
        place: where in it, for people: "line 12", "lines 12-1042, column 4", or "" for the whole.
        message: what was read, what was expected and what to change, one or two sentences.
        lost_record: True where a whole test could not be made into a record.
    """

    source: str
    place: str
    message: str
    lost_record: bool = True
