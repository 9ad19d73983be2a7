"""The strongest claim wins, a tie is told, and an identifier that crashes stops nobody."""

import bz2
import gzip
import lzma
import tarfile
from collections.abc import Iterable
from pathlib import Path

import pluggy
import pytest

from sweepbook.formats import Claim, Format, ReadSetting, Strength
from sweepbook.identify import UnknownSource, claimed, identify
from sweepbook.limits.library import Library
from sweepbook.reading import Pipeline
from sweepbook.registry import STRICT, Registry
from sweepbook.source import Source, UnreadableSource

SETTING = ReadSetting(Library({}))


def _claiming(name: str, *strengths: Strength) -> Format:
    def asked(_source: Source, _setting: ReadSetting) -> Iterable[Claim]:
        return [Claim(strength, f"{name} saw it") for strength in strengths]

    return Format(name, name, identify=asked, read=lambda *_: iter(()))


def _crashing(_source: Source, _setting: ReadSetting) -> Iterable[Claim]:
    raise ZeroDivisionError("asked too much")


CRASHING = Format("crashing", "crashing", identify=_crashing, read=lambda *_: iter(()))
BY_NAME = Format("named", "by its name", (".x",), read=lambda *_: iter(()))


def _registry(*formats: Format) -> Registry:
    return Registry(pluggy.PluginManager("x"), formats={entry.name: entry for entry in formats})


@pytest.fixture
def source(tmp_path: Path) -> Source:
    path = tmp_path / "export.x"
    path.write_bytes(b"content")
    return Source(path)


def test_the_strongest_claim_wins_whatever_the_order(source: Source) -> None:
    weak = _claiming("a", Strength.STRUCTURE)
    strong = _claiming("b", Strength.SUFFIX, Strength.SIGNATURE)
    for formats in ((weak, strong, BY_NAME), (BY_NAME, strong, weak)):
        assert identify(source, _registry(*formats), SETTING).format.name == "b"


def test_a_format_without_identifier_is_told_by_the_name_alone(source: Source) -> None:
    assert identify(source, _registry(BY_NAME), SETTING).format.name == "named"


def test_a_tie_lists_who_claims_what_and_why(source: Source) -> None:
    both = _registry(_claiming("a", Strength.STRUCTURE), _claiming("b", Strength.STRUCTURE))
    with pytest.raises(UnknownSource, match=r"a \(a saw it\); b \(b saw it\).*--from"):
        identify(source, both, SETTING)


def test_nobody_knows_it(source: Source) -> None:
    with pytest.raises(UnknownSource, match="`sweepbook formats`"):
        identify(source, _registry(_claiming("a")), SETTING)


@pytest.mark.parametrize("damage", [b"\x1f\x8b\x08damaged", b"\x1f\x8b"])
def test_damaged_compression_is_no_crash(tmp_path: Path, damage: bytes) -> None:
    (tmp_path / "export.gz").write_bytes(damage)
    registry = _registry(_claiming("a"))
    with pytest.raises(UnreadableSource, match="damaged or cut off"):
        claimed(Source(tmp_path / "export.gz"), registry, SETTING)
    assert registry.crashes == []


def test_a_format_may_say_why_it_reads_no_such_file(source: Source) -> None:
    refusing = _claiming("a", Strength.REFUSED)
    with pytest.raises(UnknownSource, match=r"export\.x: a saw it\. `sweepbook formats`"):
        identify(source, _registry(refusing), SETTING)
    assert identify(source, _registry(refusing, BY_NAME), SETTING).format.name == "named"


@pytest.mark.parametrize(
    ("content", "what"),
    [
        (bz2.compress(b"x"), r"packed \(bzip2\)\. Unpack it yourself"),
        (lzma.compress(b"x"), r"packed \(xz\)\. Unpack it yourself"),
        (gzip.compress(gzip.compress(b"x")), r"packed twice \(gzip\)\. Unpack it yourself"),
        ("MHz".encode("utf-16"), r"text in UTF-16\. Save it as UTF-8"),
        (b"PK\x03\x04", r"a workbook or the like\. Save the sheet"),
        (b"%PDF-1.7", r"a printed page \(PDF\)\. Export the sweeps"),
    ],
    ids=["bz2", "xz", "gz twice", "UTF-16", "workbook", "PDF"],
)
def test_what_a_file_plainly_is_is_told(tmp_path: Path, content: bytes, what: str) -> None:
    (tmp_path / "export").write_bytes(content)
    with pytest.raises(UnknownSource, match=f"no format or dialect knows this file: it is {what}"):
        identify(Source(tmp_path / "export"), _registry(_claiming("a")), SETTING)


def test_an_archive_that_is_not_taken_is_told(tmp_path: Path) -> None:
    with tarfile.open(tmp_path / "export.tgz", "w:gz") as archive:
        archive.add(Path(__file__), "export.csv")
    with pytest.raises(UnknownSource, match=r"an archive \(tar\)\. Unpack it yourself"):
        identify(Source(tmp_path / "export.tgz"), _registry(_claiming("a")), SETTING)


def test_an_identifier_that_crashes_is_noted_and_the_others_are_asked(
    source: Source, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv(STRICT, raising=False)
    registry = _registry(CRASHING, _claiming("sure", Strength.SIGNATURE))
    assert identify(source, registry, SETTING).format.name == "sure"
    assert registry.crashes == ["crashing, asked about export.x: ZeroDivisionError: asked too much"]


def test_a_file_that_cannot_be_opened_is_no_crash(tmp_path: Path) -> None:
    registry = _registry(CRASHING)
    with pytest.raises(UnreadableSource):
        identify(Source(tmp_path / "missing.x"), registry, SETTING)
    assert registry.crashes == []


def test_from_asks_nobody_else(source: Source) -> None:
    registry = _registry(CRASHING, _claiming("sure", Strength.SIGNATURE), BY_NAME)
    assert Pipeline(registry, SETTING, "named").choose(source).format.name == "named"
    assert registry.crashes == []
