"""Drafts of forms of text tables that look like other ones at first."""

from pathlib import Path

from sweepbook.errors import ReadProblem
from sweepbook.record.model import Record
from tests.joined.test_join import pipeline
from tests.program import run

from .drafting import curves, written
from .links import KHZ, WORDS, Link, link, shifted
from .test_spread import read

RAW = ("insertion_loss", "return_loss", "next")
SIDES = {None: "", "near": "Main", "far": "Remote"}
LINKS = [link("N-1", 31.0), link("N-2", 88.5), link("N-3", 12.0)]


def drafted(folder: Path) -> str:
    result = run("dialect", "draft", *sorted(folder.iterdir()))
    assert result.exit_code == 0, result.output
    return result.stdout


def _named(one: Link) -> list[tuple[str, str, str, list[int]]]:
    return [
        (WORDS[parameter], "/".join(pairs), SIDES[end], values)
        for (parameter, end, pairs), values in one.curves.items()
        if parameter in RAW
    ]


def test_a_test_without_a_number_of_a_file_of_curves_is_read_without_them(tmp_path: Path) -> None:
    rows = ["No,Curve file,Link label,Test limit,Tested at,Overall result"]
    for number, one in enumerate(LINKS):
        rows.append(
            f"{number + 70},04{number + 17},{one.label},Cat 6A PL,2026-03-04 14:2{number},PASS"
        )
        titles = [" ".join(filter(None, name)) for *name, _ in _named(one)]
        lines = [",".join(["kHz", *titles])]
        for at, khz in enumerate(KHZ):
            values = (shifted(of[at], 2) for *_, of in _named(one))
            lines.append(",".join([str(khz), *values]))
        (tmp_path / f"curves_04{number + 17}.csv").write_text("\n".join([*lines, ""]))
    rows.append("73,,N-4,Cat 6A PL,2026-03-04 14:29,FAIL")
    (tmp_path / "summary.csv").write_text("\n".join([*rows, ""]))
    draft = drafted(tmp_path)
    assert '\nkey = "{}"\nother_key = "Curve file"\n' in draft
    items = list(pipeline(tmp_path, draft).read_all([tmp_path]))
    (problem,) = (of for of in items if isinstance(of, ReadProblem))
    assert "this test is read without them" in problem.message
    assert "summary.csv" in problem.source
    told = {of.label: of.document for of in items if isinstance(of, Record)}
    assert sorted(told) == ["N-1", "N-2", "N-3", "N-4"]
    assert told["N-4"]["stated"]["overall"]["verdict"] == "fail"
    assert not told["N-4"]["results"].get("sweeps")
    for one in LINKS:
        assert curves(told[one.label]) == written(one, *RAW)


def test_a_word_that_all_names_of_files_begin_with_is_no_test_where_a_column_tells_it(
    tmp_path: Path,
) -> None:
    words = {"insertion_loss": "Insertion loss", "return_loss": "Return loss", "next": "NEXT"}
    for parameter, word in words.items():
        named = [key for key in LINKS[0].curves if key[0] == parameter]
        titles = [f"{'/'.join(pairs)} {SIDES[end]}".strip() for _, end, pairs in named]
        lines = [";".join(["Test", "kHz", *titles])]
        for number, one in enumerate(LINKS):
            for at, khz in enumerate(KHZ):
                values = (shifted(one.curves[key][at], 2) for key in named)
                lines.append(";".join([f"M-{number}", str(khz), *values]))
        (tmp_path / f"Curves {word}.csv").write_text("\n".join([*lines, ""]))
    rows = ["Test;Link label;Test limit;Tested at;Length m;Overall result"]
    for number, one in enumerate(LINKS):
        rows.append(f"M-{number};{one.label};Cat 6A PL;2026-03-04 14:2{number};{one.metres};PASS")
    (tmp_path / "Overview.csv").write_text("\n".join([*rows, ""]))
    draft = drafted(tmp_path)
    assert '\nfile = "Curves {parameter}.csv"\n' in draft
    told = {record.label: record.document for record in read(tmp_path, draft)}
    for one in LINKS:
        assert curves(told[one.label]) == written(one, *RAW)


def test_titles_that_are_frequencies_are_of_their_own_table_alone(tmp_path: Path) -> None:
    """Tables follow one another at once, and the word for a frequency has a blank column below."""
    lines = []
    for number, one in enumerate(LINKS):
        lines += [f"BEGIN TEST\tM-{number}", f"Cable ID\t{one.label}", "Overall Result\tPASS"]
        lines += ["Worst\tPair\tEnd\tMargin (dB)\tResult", "RL\t1-2\tMain\t2.5\tPASS"]
        lines += ["NEXT\t1-2/3-6\tMain\t3.5\tPASS"]
        lines.append("\t".join(["Curve (dB)", "Pair", "End", "Frequency (kHz):", *map(str, KHZ)]))
        for word, pairs, side, values in _named(one):
            cells = (shifted(of, 2) for of in values)
            lines.append("\t".join([word, pairs, side, "", *cells]))
    (tmp_path / "results.txt").write_text("\n".join([*lines, ""]))
    told = {record.label: record.document for record in read(tmp_path, drafted(tmp_path))}
    for one in LINKS:
        assert curves(told[one.label]) == written(one, *RAW)
        assert len(told[one.label]["stated"]["items"]) >= 2
