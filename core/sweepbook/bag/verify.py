"""A bag proved: its files, its book, and its audit and its reconciliation repeated."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

from sweepbook.bag import info, integrity, layout, reconciled, unpack
from sweepbook.bag.integrity import Files
from sweepbook.bag.reconciled import Reconciled
from sweepbook.bag.repeat import Repeated, repeat
from sweepbook.book.proof import Fault as BookFault
from sweepbook.book.proof import Proof
from sweepbook.book.prove import prove
from sweepbook.errors import SweepbookError
from sweepbook.formats import Format
from sweepbook.rules.model import Rule, SetRule
from sweepbook.source import Bounds

_NONE: Mapping[str, Format] = {}


@dataclass(frozen=True, slots=True)
class Verified:
    """What became of verifying a bag.

    Attributes:
        name: of the bag.
        files: what its lists say of its files.
        book: what of the book in it is damaged by the book's own digests, and fits the lists.
        repeated: the audit repeated; None where it could not be.
        not_repeated: why not, with what to do; "" where it was.
        reconciled: the reconciliation repeated; None where it could not be, or the bag has none.
        not_reconciled: why it could not be; "" where it was, or the bag has none.
        noted: the digest of the bag that somebody noted when it was made; "" where none was given.
    """

    name: str
    files: Files
    book: tuple[BookFault, ...]
    repeated: Repeated | None
    not_repeated: str
    reconciled: Reconciled | None = None
    not_reconciled: str = ""
    noted: str = ""

    @property
    def as_noted(self) -> bool:
        """Whether the digest is the noted one, or none was given."""
        return self.noted in ("", self.files.digest)

    @property
    def fine(self) -> bool:
        """Whether nothing at all was found."""
        return (
            not (self.files.faults or self.book)
            and self.as_noted
            and self.repeated is not None
            and self.repeated.same
            and not self.not_reconciled
            and (self.reconciled is None or self.reconciled.same)
        )


def verify(
    bag: Path,
    contributed: Sequence[Rule | SetRule] = (),
    formats: Mapping[str, Format] = _NONE,
    on_file: Callable[[str], None] = lambda _: None,
    on_record: Callable[[], None] = lambda: None,
    noted: str = "",
    bounds: Bounds | None = None,
) -> Verified:
    """Prove a bag.

    Args:
        bag: its folder, or the file that it is packed in.
        contributed: rules that plugins bring.
        formats: by name; the schedule is read by one of them.
        on_file: called with each file before it is proved.
        on_record: called after each test that was judged anew.
        noted: the digest of the bag as noted when it was made, in small digits; "" where none is.
        bounds: how far a packed bag may expand; None for what is usual.

    Raises:
        NotABag: it is none, or cannot be unpacked.
    """
    with _unpacked(bag, bounds) as root:
        files = integrity.hold(root, on_file)
        repeated, why = None, _not_to_repeat(files)
        book: tuple[BookFault, ...] = ()
        if not why:
            try:
                book = tuple(_not_named(prove(root / layout.BOOK, Proof()), files))
                repeated = repeat(root, contributed, on_record)
            except SweepbookError as error:
                why = f"{error.message} {error.todo}"
            except OSError as error:
                why = f"Something in the bag cannot be read: {error}. Check that you may read it."
            why = why.replace(f"{root}/", "")
        again, not_again = _reconciled(root, repeated, formats)
    return Verified(bag.name, files, book, repeated, why, again, not_again, noted)


def _reconciled(
    root: Path, repeated: Repeated | None, formats: Mapping[str, Format]
) -> tuple[Reconciled | None, str]:
    """The reconciliation repeated, where the bag has one; and why not, where it could not be."""
    if not reconciled.held(root):
        return None, reconciled.lost(root)
    if repeated is None:
        return None, "It rests on the audit, which was not repeated."
    try:
        return reconciled.repeat(
            root, repeated.context, repeated.tests, formats, repeated.problems, repeated.lost
        ), ""
    except SweepbookError as error:
        return None, f"{error.message} {error.todo}".replace(f"{root}/", "")


def _not_named(faults: Iterable[BookFault], files: Files) -> Iterator[BookFault]:
    """Damage to a book that the lists of its bag do not tell of."""
    named = [fault.path for fault in files.faults]
    for fault in faults:
        place = f"{layout.BOOK}/{fault.place.partition(', ')[0]}"
        if fault.damage and not any(path.startswith(place) for path in named):
            yield fault


def _not_to_repeat(files: Files) -> str:
    """Why the audit of a bag is not repeated; "" where it is."""
    told = files.says.get(info.LAYOUT_LABEL, layout.LAYOUT)
    kind, _, _ = layout.LAYOUT.rpartition("-")
    if not files.ours and told == layout.LAYOUT:
        return (
            f"It holds no {layout.AUDIT}, so it is no bag of sweepbook, or has lost it. Its files "
            "were held against its lists and nothing else."
        )
    changed = any(fault.path == layout.INFO for fault in files.faults)
    if told != layout.LAYOUT and told.startswith(f"{kind}-") and not changed:
        return (
            f"It is laid out as {told}, and {layout.PROGRAM} reads {layout.LAYOUT}. Use the "
            f"version that made it ({files.says.get('Bag-Software-Agent')}), or a newer one."
        )
    return ""


@contextmanager
def _unpacked(bag: Path, bounds: Bounds | None) -> Iterator[Path]:
    """The folder of a bag, which is a temporary one where it is packed."""
    if bag.is_dir():
        yield bag
        return
    with TemporaryDirectory(prefix="sweepbook-") as folder:
        yield unpack.unpack(bag, Path(folder), bounds)
