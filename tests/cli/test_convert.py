"""Files in, one format out: what was converted is what would be gathered."""

import json
from pathlib import Path

from tests.program import DIALECTS

from .conftest import OVERTURNED, UPHELD, Run


def test_a_converted_export_is_the_record_that_the_book_keeps(
    run: Run, tmp_path: Path, book: Path
) -> None:
    out = tmp_path / "out.json"
    result = run("convert", UPHELD, *DIALECTS, "--to", "json", "-o", out)
    assert result.exit_code == 0
    converted = json.loads(out.read_bytes())
    (kept,) = book.glob(f"records/*/{converted['record_id']}.json")
    of_book = json.loads(kept.read_bytes())
    for outside in ("provenance", "resolved"):
        converted.pop(outside, None)
        of_book.pop(outside, None)
    assert converted == of_book


def test_an_overturned_verdict_is_no_fault_of_a_conversion(run: Run, tmp_path: Path) -> None:
    out = tmp_path / "out.json"
    assert run("convert", OVERTURNED, *DIALECTS, "--to", "json", "-o", out).exit_code == 0


def test_a_record_and_its_export_gathered_together_are_one_record(run: Run, tmp_path: Path) -> None:
    out, book = tmp_path / "out.json", tmp_path / "book"
    run("convert", UPHELD, *DIALECTS, "--to", "json", "-o", out)
    assert run("gather", book, UPHELD, *DIALECTS).exit_code == 0
    second = run("gather", book, out, "--from", "json")
    assert second.exit_code == 0
    assert "1 test, 0 new" in " ".join(second.stdout.split())
    assert len(list(book.glob("records/*/*.json"))) == 1
    index = (book / "index.csv").read_text().splitlines()
    assert len(index) == 2
    assert index[1].endswith("heron-1A-P1-01.csv; out.json")


def test_a_book_is_exported_in_the_order_of_its_labels(
    run: Run, tmp_path: Path, book: Path
) -> None:
    folder = tmp_path / "records"
    folder.mkdir()
    assert run("export", book, "--to", "json", "-o", folder).exit_code == 0
    assert sorted(path.name for path in folder.iterdir()) == sorted(
        path.name for path in book.glob("records/*/*.json")
    )


def test_a_file_that_cannot_be_written_is_told_in_a_line(run: Run, tmp_path: Path) -> None:
    (tmp_path / "plain").write_bytes(b"")
    target = tmp_path / "plain" / "out.json"
    result = run("convert", UPHELD, *DIALECTS, "--to", "json", "-o", target)
    assert result.exit_code == 3
    assert "cannot be written" in result.stderr


def test_judged_under_another_limit_the_table_says_so(run: Run) -> None:
    result = run("check", UPHELD, *DIALECTS, "--against", "iso-11801-1-2017/class-ea/channel")
    assert "iso-11801-1-2017/class-ea/channel" in result.stdout
    assert "tia-568.2-d/cat6a/permanent-link (known" not in result.stdout
