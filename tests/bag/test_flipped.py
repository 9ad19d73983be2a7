"""One bit of one file is another one: the file is named, and no other."""

import random
import unicodedata
from collections.abc import Iterator
from pathlib import Path

import bagit
import pytest

from sweepbook.bag import sealing
from sweepbook.bag.digests import files_below
from sweepbook.bag.integrity import hold


def flip(file: Path, bit: int) -> bytes:
    """Turn one bit of a file; gives what was there before."""
    before = file.read_bytes()
    changed = bytearray(before)
    changed[bit // 8] ^= 1 << bit % 8
    file.write_bytes(changed)
    return before


def blamed(root: Path) -> set[tuple[str, str]]:
    return {(fault.kind, fault.path) for fault in hold(root).faults if fault.kind != "doubtful"}


def test_one_bit_in_each_file_of_a_bag_is_found_and_the_file_is_named(bag: Path) -> None:
    chance = random.Random(8493)
    files = dict(files_below(bag))
    assert len(files) > 50
    for path, file in files.items():
        before = flip(file, chance.randrange(8 * file.stat().st_size))
        assert blamed(bag) == {("changed", path)}, path
        file.write_bytes(before)
    assert blamed(bag) == set()


@pytest.fixture
def tiny(tmp_path: Path) -> Path:
    """A bag with a payload of two files, as small as one of ours can be."""
    root = tmp_path / "tiny"
    (root / "data").mkdir(parents=True)
    (root / "data/audit.json").write_text("{}")
    (root / "data/ä b.txt").write_text("")
    sealing.seal(root, "tiny", ((), ()), {})
    bagit.Bag(str(root)).validate()
    return root


def test_a_name_in_another_form_of_unicode_is_the_same_name(tiny: Path) -> None:
    """Some disks write an umlaut as two characters (Unicode Standard Annex 15, form D)."""
    file = tiny / "data/ä b.txt"
    file.rename(file.with_name(unicodedata.normalize("NFD", file.name)))
    assert blamed(tiny) == set()


def _bits(root: Path) -> Iterator[tuple[Path, int]]:
    """Every bit of a line of the list of tag files, and one bit of each other byte."""
    tags = root / "tagmanifest-sha256.txt"
    line = tags.read_bytes().index(b"\n") + 1
    yield from ((tags, bit) for bit in range(8 * line))
    for name in (tags.name, "manifest-sha256.txt", "bagit.txt", "bag-info.txt"):
        file = root / name
        yield from ((file, 8 * byte + byte % 8) for byte in range(file.stat().st_size))


def test_bits_of_the_lists_themselves_are_found(tiny: Path) -> None:
    """Those of the list of tag files too, which no other list proves."""
    count = 0
    for file, bit in _bits(tiny):
        before = flip(file, bit)
        assert blamed(tiny) == {("changed", file.name)}, (file.name, bit)
        file.write_bytes(before)
        count += 1
    assert count > 1200
