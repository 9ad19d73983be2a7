"""Every draft that a test here has the program make is one that the loader takes."""

from collections.abc import Sequence

import pytest

from sweepbook.draft import document

from .drafting import refusal


@pytest.fixture(autouse=True)
def drafts_load(monkeypatch: pytest.MonkeyPatch) -> None:
    compose = document.compose

    def composed(reader: str, examples: Sequence[str], tables: Sequence[document.Table]) -> str:
        draft = compose(reader, examples, tables)
        assert refusal(draft) == ""
        return draft

    monkeypatch.setattr(document, "compose", composed)
