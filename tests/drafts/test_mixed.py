"""Drafts of tests whose curves are in one format and whose heads are in another."""

from pathlib import Path

from tests.program import run

from .links import KHZ, WORDS, Link, link, shifted

LINKS = [link("L-1", 35.5), link("L-2", 80.0)]
FEW = ("insertion_loss", "return_loss", "next")


def points(links: list[Link]) -> str:
    """A row a point, in CSV."""
    lines = ["Link,Curve,MHz,dB"]
    for one in links:
        for (parameter, end, pairs), values in one.curves.items():
            if parameter in FEW:
                told = "-".join(pair.replace("-", "") for pair in pairs)
                name = f"{WORDS[parameter]} {told} {end or ''}".strip()
                lines += [
                    f"{one.label},{name},{shifted(khz, 3)},{shifted(values[at], 2)}"
                    for at, khz in enumerate(KHZ)
                ]
    return "\n".join([*lines, ""])


def heads(links: list[Link]) -> str:
    """An element a test, in XML."""
    made = (
        f'<test link="{one.label}"><limit>TIA-568.2-D Cat 6A PL</limit>'
        "<started>2026-02-28T17:05:09Z</started><who>J. Okoro</who></test>"
        for one in links
    )
    return f"<job>{''.join(made)}</job>"


def test_the_curves_are_drafted_and_the_lines_of_the_join_wait(tmp_path: Path) -> None:
    """With the marks off and the keys in place, which a person does, both files are read."""
    (tmp_path / "a-points.csv").write_text(points(LINKS), encoding="utf-8")
    (tmp_path / "a-heads.xml").write_text(heads(LINKS), encoding="utf-8")
    files = [tmp_path / "a-heads.xml", tmp_path / "a-points.csv"]
    result = run("dialect", "draft", *files)
    assert result.exit_code == 0
    draft = result.stdout
    assert "another format" in draft
    assert "'a-heads.xml'" in draft
    (tmp_path / "bare.toml").write_text(draft, encoding="utf-8")
    tried = run("dialect", "try", tmp_path / "bare.toml", files[1])
    assert "No limit was found" in " ".join(tried.output.split())  # which the other file has
    for line in ("file", "other", "key", "other_key", "format"):
        assert draft.count(f"# join.{line} = ") == 1
        draft = draft.replace(f"# join.{line} = ", f"join.{line} = ")
    draft = draft.replace('key = "TO-BE-SETTLED"', 'key = "Link"', 1)
    draft = draft.replace('other_key = "TO-BE-SETTLED"', 'other_key = "@link"', 1)
    own = 'test.limit = "limit"\ntest.started = "started"\ntest.operator = "who"\n'
    draft = draft.replace("[fields]\n", f"[fields]\n{own}", 1)
    (tmp_path / "done.toml").write_text(
        draft.replace("\n[csv]\n", '\n[join.xml]\ntest = "/job/test"\n\n[csv]\n', 1), "utf-8"
    )
    shown = run("show", "--dialect", tmp_path / "done.toml", files[1], "L-2")
    assert "joined with       a-heads.xml" in shown.output
    assert "J. Okoro" in shown.output
    assert "tia-568.2-d/cat6a/permanent-link" in shown.output


def test_of_several_other_files_each_is_named(tmp_path: Path) -> None:
    for name in ("one.xml", "two.xml"):
        (tmp_path / name).write_text(heads(LINKS), encoding="utf-8")
    (tmp_path / "points.csv").write_text(points(LINKS), encoding="utf-8")
    result = run("dialect", "draft", *sorted(tmp_path.iterdir()))
    assert result.exit_code == 0
    assert "[[join]]" in result.stdout
    assert "'one.xml', 'two.xml'" in " ".join(result.stdout.replace("#", " ").split())


def test_files_of_two_formats_without_curves_are_no_draft(tmp_path: Path) -> None:
    (tmp_path / "one.xml").write_text(heads(LINKS), encoding="utf-8")
    (tmp_path / "two.csv").write_text("Link,Who\nL-1,J. Okoro\n", encoding="utf-8")
    result = run("dialect", "draft", *sorted(tmp_path.iterdir()))
    assert result.exit_code == 3
    assert "No table of sweeps was found" in result.output
