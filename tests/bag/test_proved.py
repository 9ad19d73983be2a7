"""What `archive verify` says that it proved, and what it says to do: no more than applies."""

from hashlib import sha256
from pathlib import Path

import pytest

from tests.program import run

from .conftest import Reseal
from .test_verify import Json, change, verified

LIST, TAGS = "manifest-sha256.txt", "tagmanifest-sha256.txt"


def said(bag: Path, *words: str) -> str:
    return " ".join(run("archive", "verify", bag, *words).stdout.split())


def digest_of(bag: Path) -> tuple[str, str]:
    return "--digest", sha256((bag / TAGS).read_bytes()).hexdigest()


def test_without_the_list_of_the_payload_nothing_of_it_is_said_to_be_proved(bag: Path) -> None:
    """RFC 8493, 2.1.3: it is the payload manifest that has the digests of the payload."""
    noted = digest_of(bag)
    (bag / LIST).unlink()
    report = bag / "data/report.html"
    report.write_bytes(report.read_bytes()[::-1])
    document = verified(bag, 1, *noted)
    assert (document["files_held"], document["listed_safely"]) == (0, False)
    text = said(bag, *noted)
    assert (
        f"No file of data/ was held against a digest: which of {document['files']} files are"
        in text
    )
    assert "as it was noted. It proves nothing of the files of data/" in text
    assert "held against their digests" not in text
    (source,) = (bag / "data/book/sources").glob("*/*/heron-1A-P1-01.csv")
    source.chmod(0o644)
    source.write_bytes(source.read_bytes() + b"\n")
    text = said(bag, *noted)
    assert "damaged, by the book's own digests: data/book/sources/" in text
    assert "lists fit" not in text
    assert "changed: data: bag-info.txt says Payload-Oxum" in text
    (bag / TAGS).unlink()
    text = said(bag)
    assert "No file of data/ was held against a digest" in text
    assert "The bag has no tagmanifest-sha256.txt, and so no digest." in text


def test_a_list_that_somebody_wrote_anew_proves_nothing_though_the_digest_is_as_noted(
    bag: Path,
) -> None:
    """The digest is of the list of tag files, which the list of the payload no longer fits."""
    noted = digest_of(bag)
    report = bag / "data/report.html"
    before = sha256(report.read_bytes()).hexdigest()
    report.write_bytes(report.read_bytes()[::-1])
    lines = (bag / LIST).read_text("utf-8")
    (bag / LIST).write_text(lines.replace(before, sha256(report.read_bytes()).hexdigest()), "utf-8")
    document = verified(bag, 1, *noted)
    assert (document["files_held"], document["listed_safely"]) == (document["files"], False)
    text = said(bag, *noted)
    assert "held against digests that nothing proves: 1 changed." in text
    assert "as it was noted. It proves nothing of the files of data/" in text


@pytest.mark.parametrize("name", ["manifest-md5.txt", "manifest-crc32.txt"])
def test_another_list_put_in_the_place_of_the_lost_one_proves_nothing(bag: Path, name: str) -> None:
    noted = digest_of(bag)
    (bag / LIST).rename(bag / name)
    assert verified(bag, 1, *noted)["listed_safely"] is False
    assert "It proves nothing of the files of data/" in said(bag, *noted)


def test_only_what_applies_is_said_to_be_done(bag: Path, made: Path) -> None:
    assert "verify again" not in said(made)
    (bag / "data/extra.txt").write_text("extra")
    document = verified(bag, 1)
    assert document["files_held"] == document["files"] - 1
    text = said(bag)
    assert f"{document['files'] - 1} of {document['files']} files of" in text
    assert text.endswith("Take out what is extra, and verify again.")
    (bag / "README.txt").unlink()
    end = "Put a good copy of what is missing in its place, take out what is extra, and verify"
    assert end in said(bag)


def test_what_can_follow_from_a_test_that_cannot_be_read_is_told_as_that(
    bag: Path, reseal: Reseal
) -> None:
    file = min((bag / "data/book/records").glob("*/*"))
    raw = bytearray(file.read_bytes())
    raw[len(raw) // 2] ^= 1
    file.write_bytes(raw)
    text = said(bag)
    head = "1 test cannot be read now, and "
    before, _, after = text.partition(head)
    assert "not in both: " in before
    assert "another part" not in before
    assert "the link stands elsewhere" not in before
    assert "the link stands elsewhere: " in after
    assert "[{" not in text
    document = verified(bag, 1)
    told = document["reconciliation"]["differences"]
    assert told
    assert all(one["follows"] for one in told)

    def embellished(document: Json) -> None:
        document["label_scheme"] = {"name": "x", "sha256": "0" * 64}
        document["problems"] = [
            {"source": "a.csv", "place": "line 1", "message": "It is cut short. " * 20}
        ]

    change(bag / "data/reconciliation.json", embellished)
    reseal()
    before, _, after = said(bag).partition(head)
    assert 'label_scheme was {"name": "x"' in before
    assert "problems was 1 entry and is empty." in before
    assert "label_scheme" not in after


def test_the_result_comes_before_one_sentence_about_the_digest(made: Path) -> None:
    text = said(made)
    assert text.index("Each stands where it stood.") < text.index("Digest of the bag: ")
    assert len(text.partition("Digest of the bag: ")[2].split()) < 45
