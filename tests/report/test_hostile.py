"""Text from outside stays text, and the page loads nothing, whatever a label looks like."""

import re
from pathlib import Path
from typing import Any

import pytest

from sweepbook.errors import ReadProblem
from sweepbook.findings import Accepted, Finding, Severity
from sweepbook.record.model import Record
from tests.xlsx.making import assessment, document, figure, margin, record

from .reading import links, parsed, sheets, text, written

HOSTILE = (
    "<script>alert(1)</script>",
    "</table></section><img src=x onerror=alert(1)>",
    '"><a href="javascript:alert(1)">x</a>',
    "'--><style>*{display:none}</style>",
    "{{ 7 * 7 }}{% raw %}",
    "&lt;b&gt; & &#60;",
    "</title></style></script><svg onload=alert(1)>",
    "]]><!-- -->",
)
TAGS = {"script": 1, "style": 1, "img": 0, "iframe": 0, "link": 0, "object": 0, "form": 0}
SHOWN = {
    "a\x00b": "a\\x00b",
    "a\x1b[31mb": "a\\x1b[31mb",
    "a\u202eb": "a\\u202eb",
    "a\r\nb": "a\\r\\nb",
    "a\ufffeb": "a\\ufffeb",
}


def everywhere(said: str) -> Any:
    """An assessment with the text in each place that the page shows."""
    parts = document(said, cable={"maker": said, "part": said})
    parts["test"] |= {"operator": said, "limit": {"as_stated": said}, "purpose": said}
    parts["test"]["near"]["instrument"]["serial"] = said
    finding = Finding("REC004", Severity.ERROR, "$", said, {}, Accepted(said, said, said))
    return assessment(
        record(parts),
        reason=said,
        limit_how=said,
        margins=(margin(parameter=said, pairs=(said, said), end=said, reason=said),),
        scalars=(figure(pair=said, reason=said),),
        findings=(finding,),
    )


def harmless(tree: Any) -> None:
    """No element, attribute or address that runs, loads or leads elsewhere."""
    for tag, count in TAGS.items():
        assert len(tree.findall(f".//{tag}")) == count
    for element in tree.iter():
        if not isinstance(element.tag, str):
            raise AssertionError("a comment")
        for name, value in element.attrib.items():
            assert not name.startswith("on")
            assert name not in {"src", "srcset", "action", "style", "data", "xlink:href"}
            assert name != "href" or value.startswith("#")


@pytest.mark.parametrize("said", HOSTILE)
def test_markup_is_shown_letter_by_letter(tmp_path: Path, said: str) -> None:
    problems = [ReadProblem(said, said, said)]
    tree = written(tmp_path / "x.html", [everywhere(said)], title=said, problems=problems)
    harmless(tree)
    assert text(tree.find(".//h1")) == said
    assert links(tree)[0]["Link"] == said
    (sheet,) = sheets(tree)[said]
    assert text(sheet).count(said) >= 12


@pytest.mark.parametrize("said", SHOWN)
def test_what_a_terminal_or_browser_might_act_upon_is_made_visible(
    tmp_path: Path, said: str
) -> None:
    target = tmp_path / "x.html"
    tree = written(target, [assessment(record(document(said)))], title=said)
    assert text(tree.find(".//h1")) == SHOWN[said]
    assert links(tree)[0]["Link"] == SHOWN[said]
    data = target.read_bytes()
    assert not re.search(rb"[\x00-\x09\x0b-\x1f\x7f]", data)


def test_a_lone_surrogate_is_made_visible(tmp_path: Path) -> None:
    entry = assessment(Record.of({"link": {"label": "a\udc80"}, "record_id": "sb0-0"}))
    assert links(written(tmp_path / "x.html", [entry]))[0]["Link"] == "a\\udc80"


def test_the_page_says_that_it_may_load_nothing(tmp_path: Path) -> None:
    """Content Security Policy level 3: its own style and script alone, by their digests."""
    target = tmp_path / "x.html"
    tree = written(target, [assessment()])
    (policy,) = tree.xpath("//meta[@http-equiv='Content-Security-Policy']/@content")
    told = dict(line.strip().split(" ", 1) for line in policy.split(";"))
    assert told["default-src"] == "'none'"
    assert set(told) == {"default-src", "style-src", "script-src", "base-uri", "form-action"}
    for name in ("style", "script"):
        (source,) = tree.findall(f".//{name}")
        assert told[f"{name}-src"] == f"'sha256-{digest(source.text)}'"
        assert not re.search(r"https?:|//[a-z]|url\(|@import|fetch|XMLHttp", source.text)
    assert parsed(target).find(".//meta[@charset]").get("charset") == "utf-8"


def digest(of: str) -> str:
    """By openssl's names for it: SHA-256 of the bytes, in base 64."""
    from base64 import b64encode
    from hashlib import sha256

    return b64encode(sha256(of.encode()).digest()).decode()
