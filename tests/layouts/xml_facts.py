"""What is known of a test besides its figures, in XML."""

from . import text_forms
from .truth import PAIRS, Test
from .xml_names import Names
from .xml_tree import Node

_PLACES = ("site", "building", "floor", "room")


class Facts:
    """Writes head and tail of tests in one layout."""

    def __init__(self, names: Names) -> None:
        self.names = names

    def of_file(self, root: Node, test: Test) -> None:
        """Say what stands once a file: units, what pairs are called, perhaps the instruments."""
        names, layout = self.names, self.names.layout
        if layout.units == "header":
            told = {names.element("frequency"): layout.frequency, names.element("value"): "dB"}
            root.add(names.element("unit"), told)
        if layout.pairs != "pins":
            key = root.add(names.element("pairs"))
            called = "number" if layout.pairs == "numbers" else "colour"
            for pair in PAIRS:
                told = {names.element(called): names.pair(pair), names.element("contacts"): pair}
                key.add(names.element("pair"), told)
        if layout.units_of_test == "file":
            self._instruments(root, test)

    def room(self, root: Node, rooms: dict[tuple[str, ...], Node], test: Test) -> Node:
        """The element of a test's room, with those around it."""
        around = root
        for at, level in enumerate(_PLACES, 1):
            place = test.place[:at]
            if place not in rooms:
                rooms[place] = around.add(
                    self.names.field(level), {self.names.element("number"): place[-1]}
                )
            around = rooms[place]
        return around

    def of_test(self, node: Node, test: Test) -> None:
        """Label, time, limit, verdict and the rest."""
        names, layout = self.names, self.names.layout
        facts = {"label": test.label, **self._times(test), "operator": test.operator}
        facts |= {"limit": test.limit, "overall": names.words.verdict(test.passed)}
        cable = {"maker": test.cable[0], "part": test.cable[1]}
        cable["nvp"] = names.number(test.cable[2], 1)
        place = dict(zip(_PLACES, test.place, strict=True)) if layout.nest != "rooms" else {}
        if layout.extras == "some":
            facts = {
                "running": str(len(test.label) + int(test.label[-1])),
                "program": "3.4.1",
                **facts,
            }
            facts |= {"calibrated": "2023-11-02", "temperature": "21"}
        self._put(node, facts)
        if layout.heads in ("groups", "attributes"):
            self._group(node.add(names.field("cable")), cable)
            if place:
                self._group(node, place)
        else:
            self._put(node, place)
            self._group(node.add(names.field("cable")), cable)
        if layout.units_of_test == "test":
            self._instruments(node, test)

    def _times(self, test: Test) -> dict[str, str]:
        kind, time = self.names.layout.date, test.started
        if kind == "iso":
            return {"started": time.isoformat()}
        day = f"{time:%Y-%m-%d}"
        if kind.startswith("local"):
            day = text_forms.local_day(time, self.names.layout.day)
        clock = f"{time:%H:%M:%S}"
        if kind.endswith("split"):
            return {"date": day, "clock": clock, "zone": text_forms.zone(time)}
        zone = {} if kind == "local no zone" else {"zone": text_forms.zone(time)}
        return {"started": f"{day} {clock}", **zone}

    def _put(self, node: Node, facts: dict[str, str]) -> None:
        names, how = self.names, self.names.layout.heads
        for word, text in facts.items():
            if how == "attributes":
                node.attributes[names.field(word)] = text
            elif how == "keys":
                told = {"name": names.words.field(word)}
                node.add("field", told, text)
            else:
                node.add(names.field(word), text=text)

    def _group(self, node: Node, facts: dict[str, str]) -> None:
        for word, text in facts.items():
            if self.names.layout.heads in ("attributes", "groups"):
                node.attributes[self.names.field(word)] = text
            else:
                node.add(self.names.field(word), text=text)

    def _instruments(self, node: Node, test: Test) -> None:
        names, how = self.names, self.names.layout.instruments
        serial = names.field("serial")
        if how == "fields":
            holder = node.add(names.field("instrument"))
            self._group(holder, {"serial": test.serials[0], "far_serial": test.serials[1]})
            return
        for end, number in zip(("near", "far"), test.serials, strict=True):
            if how == "by end":
                told = {names.element("end"): names.words.end(end) or "", serial: number}
                node.add(names.field("instrument"), told)
            else:
                word = "instrument" if end == "near" else "far_instrument"
                self._group(node.add(names.field(word)), {"serial": number})
