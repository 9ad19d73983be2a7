"""Crosstalk in an export: which pair comes first, what stands between, which end is named."""

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from sweepbook.dialect.parameters import CROSSTALK, FAR_END
from sweepbook.draft import acr_n_once, curve_facts, phrases, spellings
from sweepbook.draft.curve_facts import Order
from sweepbook.draft.document import ASSUMED, FOUND, UNSETTLED, UNTOLD, Note, Table, one_of
from sweepbook.draft.trade_words import DISTURBED, DISTURBING, FROM, TO
from sweepbook.word_lists import words_of

if TYPE_CHECKING:
    from sweepbook.draft.reading import Understood

_FIRST, _SECOND = "{first_pair}", "{second_pair}"
_BETWEEN = re.compile(r"\{first_pair\}(.*?)\{second_pair\}")
_RIGHT = (">", "->", "=>", "\u2192", *map(spellings.folded, TO))
_LEFT = ("<", "<-", "\u2190", *map(spellings.folded, FROM))
_ONTO = words_of("on, onto, auf, op, sur, sobre, su, på, na")
"""Words between two pairs, as TO is, which say too little elsewhere: from memory."""
_SAID = {"disturbing": (*DISTURBING, *FROM), "disturbed": (*DISTURBED, *TO)}
_OTHER = {"disturbing": "disturbed", "disturbed": "disturbing"}
_EQUAL_LEVEL = ("equal level fext", "equal level far end crosstalk", "el fext")


def crosstalk_table(found: "Understood") -> Table:
    """The table `crosstalk`; an order of pairs that nothing settles is left to a person."""
    table = Table("[crosstalk]")
    named = set(found.naming.parameters)
    two = [parameter for parameter in CROSSTALK if parameter in named]
    if two == ["next"]:
        note = "NEXT alone is the same in both orders, so that nothing depends on it"
        table.add("first", "disturbing", Note(FOUND, note))
    elif two:
        orders = list(_orders(found))
        turned = curve_facts.negative(found.curves)
        once = None if orders else acr_n_once.told(found.curves, two, turned)
        if once:
            table.add("first", "disturbing", once)
        else:
            _first(table, orders)
        asked = once is None and settled(found) is None
        if "worst_margin.second_pair" in found.figures and asked:
            said = (
                "worst_margin.pairs and worst_margin.second_pair are in this order, too; where "
                "their keys say which pair disturbs, exchange them if they say otherwise"
            )
            table.notes.append(Note(UNTOLD, said))
    if found.naming.between:
        table.add("between", one_of(found.naming.between))
    if named & set(FAR_END):
        note = (
            "the end named with far-end crosstalk is the receiving one; write 'driving' if the "
            "handbook says so. It decides at which end a failure is told, and hardly its margin"
        )
        table.add("far_end", "receiving", Note(ASSUMED, note))
    return table


def called(key: str) -> str:
    """Whether a key names the disturbing or the disturbed pair; "" where it says neither."""
    span = phrases.find(key, {"disturbing": DISTURBING, "disturbed": DISTURBED})
    return span.meaning if span else ""


def settled(found: "Understood") -> str | None:
    """Which pair comes first in names; None where it is a question, or NEXT alone makes it none."""
    if {*CROSSTALK} & {*found.naming.parameters} <= {"next"}:
        return None
    orders = list(_orders(found))
    said = {order.first for order in orders if order.sure} or {order.first for order in orders}
    return said.pop() if len(said) == 1 else None


def _first(table: Table, orders: list[Order]) -> None:
    """The order of pairs: proved, assumed, or a question."""
    proofs = [order for order in orders if order.sure]
    said = {order.first for order in (proofs or orders)}
    if len(said) == 1:
        right = [order for order in orders if order.first in said]
        notes = [Note(FOUND if order.sure else ASSUMED, order.why) for order in right]
        against = "only the other way round; a tester may subtract the disturbing pair's loss"
        notes += [
            Note(UNTOLD, f"{order.why} {against}") for order in orders if order.first not in said
        ]
        if not proofs:
            notes.append(Note(ASSUMED, "margins depend on it, so ask the maker's handbook"))
        table.add("first", said.pop(), *notes)
        return
    notes = [Note(UNTOLD, f"'{order.first}' would mean that {order.why}") for order in orders]
    question = (
        "which pair comes first, the 'disturbing' or the 'disturbed' one; nothing in the file "
        "proves it and margins depend on it: ask the maker's handbook"
    )
    table.add("first", UNSETTLED, *notes, Note(UNTOLD, question))


def _orders(found: "Understood") -> Iterator[Order]:
    """All that speaks for an order. The loss that ELFEXT is relative to differs among testers."""
    spelt = found.naming.parameters.get("acr_f", [])
    equal_level = any(phrases.has(text, _EQUAL_LEVEL) for text in spelt)
    turned = list(curve_facts.negative(found.curves))
    for order in curve_facts.orders(found.curves, turned):
        if order.sure or not (equal_level and "acr_f" in order.why):
            yield order
    if found.order:
        yield Order(found.order.first, f"the export says so: '{found.order.remark}'", True)
    yield from _words(found)


def _words(found: "Understood") -> Iterator[Order]:
    """Which pair comes first by the words about them."""
    alone = [(_FIRST, _SECOND), (_SECOND, _FIRST)]
    slots = [
        slot
        for one, other in alone
        for slot, some in found.templates.items()
        if any(one in of and other not in of for of in some)
    ]
    named = " and ".join(f"'{slot}'" for slot in slots)
    if len(slots) > 2:  # pairs of NEXT may have slots of their own
        slots = [slot for slot in slots if phrases.find(slot, _SAID)]
        named = " and ".join(f"'{slot}'" for slot in slots)
    if len(slots) == 2:
        said = [phrases.find(slot, _SAID) for slot in slots]
        first, second = (span.meaning if span else "" for span in said)
        if "disturbing" in (first, _OTHER.get(second)) and first != second:
            yield Order("disturbing", f"{named} name the disturbing and the disturbed pair", False)
        elif "disturbed" in (first, _OTHER.get(second)) and first != second:
            yield Order("disturbed", f"{named} name the disturbed and the disturbing pair", False)
    for template in (text for some in found.templates.values() for text in some):
        if (told := _BETWEEN.search(template)) and phrases.has(told[1], (*TO, *_ONTO)):
            yield Order(
                "disturbing", f"'{told[1].strip()}' leads from the disturbing pair on", False
            )
            break
    for text in found.naming.between:
        word = spellings.folded(text)
        if word in _RIGHT or phrases.has(text, (*TO, *_ONTO)):
            yield Order("disturbing", f"'{text}' leads from the disturbing pair on", False)
        elif word in _LEFT:
            yield Order("disturbed", f"'{text}' leads back to the disturbing pair", False)
