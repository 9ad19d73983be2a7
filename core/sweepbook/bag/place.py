"""Where a bag goes: all of it or nothing, and never over anything but a bag that is to go."""

import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from itertools import count
from pathlib import Path

from sweepbook import files, unfinished
from sweepbook.bag import info, layout
from sweepbook.bag.pack import Pack, pack, refuse_missing
from sweepbook.bag.unpack import first_file
from sweepbook.errors import SweepbookError
from sweepbook.exchange import exchange
from sweepbook.inputs import small_file
from sweepbook.text import utf8_safe

_ASIDE = ".before"
"""Added to the name of a bag that steps aside for the one that takes its place."""


@contextmanager
def begun(
    out: Path,
    form: Pack | None,
    *,
    replace: bool = False,
    tell: Callable[[str], None] = lambda _: None,
) -> Iterator[Path]:
    """Give a folder to build a bag in; on leaving without an error it is put in its place.

    Args:
        out: the place: a folder, or a file where the bag is packed.
        form: how to pack it, None for a folder.
        replace: whether a bag of this program that lies there is to go.
        tell: called with a sentence about what a program that was stopped left there.

    Raises:
        SweepbookError: something lies there that may not go, the name has another ending than the
            packing, the library for that is missing, or the place cannot be written to.
    """
    refuse_missing(form)
    refuse_ending(out, form)
    _put_back(out, tell)
    refuse_other(out, replace=replace)
    try:
        out.parent.mkdir(parents=True, exist_ok=True)
        with unfinished.folder_in(out.parent) as building:
            root = building / "bag"
            root.mkdir()
            yield root
            refuse_other(out, replace=replace)  # another program may have been here meanwhile
            if form is None:
                _put(root, out)
            else:
                with files.replaced(out) as part:
                    pack(root, out.name.removesuffix(form.ending), part, form)
    except OSError as error:
        raise files.cannot_write(out, error) from error


def refuse_ending(out: Path, form: Pack | None) -> None:
    """Refuse a name that says something else than the packing.

    Raises:
        SweepbookError: it does.
    """
    shown = utf8_safe(out.name)
    if form is not None and not (out.name.endswith(form.ending) and out.name != form.ending):
        raise SweepbookError(
            f"A bag packed as {form.value} has a name that ends in {form.ending}, and {shown} does "
            "not.",
            f"Name it {shown}{form.ending}.",
        )
    of_name = next((one for one in Pack if out.name.endswith(one.ending)), None)
    if form is None and of_name is not None:
        raise SweepbookError(
            f"{shown} is a name for a packed bag, and a folder was asked for.",
            f"Add --pack {of_name.value}, or give the folder another name.",
        )


def refuse_other(out: Path, *, replace: bool) -> None:
    """Refuse a place where something lies that may not be overwritten.

    Raises:
        SweepbookError: something does.
    """
    shown = utf8_safe(str(out))
    if not (out.exists() or out.is_symlink()) or (out.is_dir() and not any(out.iterdir())):
        return
    if not _is_ours(out):
        raise SweepbookError(
            f"{shown} is there and is no bag of sweepbook; it was left alone.",
            "Name another place.",
        )
    if not replace:
        raise SweepbookError(
            f"The bag {shown} is there already and was left alone.",
            "Name another place, or say --replace to have a new one in its place.",
        )


def _is_ours(out: Path) -> bool:
    """Whether a bag of this program lies somewhere, in whichever layout."""
    if out.is_symlink():
        return False
    try:
        if out.is_dir():
            raw = small_file(out / layout.INFO, layout.MOST_TAG)
        else:
            raw = first_file(out, layout.INFO)
    except (OSError, SweepbookError):
        return False
    kind, _, _ = layout.LAYOUT.rpartition("-")
    return info.read(raw).get(info.LAYOUT_LABEL, "").startswith(kind)


def _put(root: Path, out: Path) -> None:
    """Move a bag to its place; one that is there goes only once the other one is whole."""
    if not out.is_dir():
        root.replace(out)
    elif not any(out.iterdir()):
        out.rmdir()
        root.replace(out)
    elif not exchange(root, out):
        _put_in_two_steps(root, out)


def _put_in_two_steps(root: Path, out: Path) -> None:
    """Have a bag step aside, under a name that people see, and put the other one in its place.

    Whoever is stopped in between finds it there, and the next run puts it back.
    """
    aside = next(place for place in _asides(out) if not place.exists())
    out.replace(aside)
    try:
        root.replace(out)
    except OSError:
        aside.replace(out)
        raise
    shutil.rmtree(aside, ignore_errors=True)


def _asides(out: Path) -> Iterator[Path]:
    """Where a bag may step aside to: library.before, library.before-2 and so on."""
    yield out.with_name(f"{out.name}{_ASIDE}")
    yield from (out.with_name(f"{out.name}{_ASIDE}-{number}") for number in count(2))


def _put_back(out: Path, tell: Callable[[str], None]) -> None:
    """Put a bag back that stepped aside for one that never came; tell of it, or of one left over.

    Raises:
        SweepbookError: it cannot be put back.
    """
    aside = next(_asides(out))
    if not (aside.is_dir() and _is_ours(aside)):
        return
    shown, place = utf8_safe(str(aside)), utf8_safe(str(out))
    if out.exists():
        tell(f"{shown} is a bag that {place} once took the place of; delete it if you need it not.")
        return
    try:
        aside.replace(out)
    except OSError as error:
        raise files.cannot_write(out, error) from error
    tell(
        f"A program was stopped while it put a new bag in the place of {place}; the bag that was "
        f"there had stepped aside to {shown}, and is back in its place."
    )
