"""Single figures and stated margins in XML."""

from .truth import Stated, Test
from .xml_names import Names
from .xml_tree import Node

_LIMITS = {"propagation_delay": 498, "delay_skew": 44, "length": 90, "dc_loop_resistance": 21}
_UNITS = {"propagation_delay": "ns", "delay_skew": "ns", "length": "m", "dc_loop_resistance": "ohm"}


class Results:
    """Writes what is measured at one frequency only, and what is stated of curves."""

    def __init__(self, names: Names) -> None:
        self.names = names

    def all(self, node: Node, test: Test) -> None:
        """Write all of them together."""
        holder = node.add(self.names.element("summary"))
        self.scalars(holder, test)
        for stated in test.stated:
            self._margin(holder, stated, whole=True)

    def scalars(self, node: Node, test: Test) -> None:
        """Write wire map, length, delays, skew and resistances."""
        names = self.names
        node.add(
            names.parameter_name("wire_map"),
            {names.element("verdict"): names.words.verdict(passed=True)},
        )
        self._figure(node, "length", names.number(test.metres, 1))
        self._of_pairs(node, "propagation_delay", test.delay, 1)
        self._figure(node, "delay_skew", names.number(test.skew, 1))
        self._of_pairs(node, "dc_loop_resistance", test.resistance, 2)

    def _figure(self, node: Node, parameter: str, text: str, pair: str | None = None) -> None:
        names, unit = self.names, _UNITS[parameter]
        told = {} if pair is None else {names.element("pair"): names.pair(pair)}
        if names.layout.scalars == "items":
            told = {names.element("parameter"): names.parameter(parameter), **told}
            name = "item"
        else:
            name = names.with_unit(names.parameter_name(parameter), unit)
        element = node.add(name, told)
        self._hold(element, text, unit)
        self._judge(element, parameter)

    def _judge(self, element: Node, parameter: str) -> None:
        if self.names.layout.figures == "judged":
            element.attributes[self.names.element("bound")] = str(_LIMITS[parameter])
            verdict = self.names.words.verdict(passed=True)
            element.attributes[self.names.element("verdict")] = verdict

    def _hold(self, node: Node, text: str, unit: str) -> None:
        node.attributes |= self.names.unit("", unit)
        if self.names.layout.held == "text":
            node.text = text
        else:
            node.attributes[self.names.element("value")] = text

    def _of_pairs(
        self, node: Node, parameter: str, values: dict[str, float | None], places: int
    ) -> None:
        names, unit = self.names, _UNITS[parameter]
        texts = {
            pair: names.words.missing if value is None else names.number(value, places)
            for pair, value in values.items()
        }
        if names.layout.scalars != "nested":
            for pair, text in texts.items():
                self._figure(node, parameter, text, pair)
            return
        name = names.with_unit(names.parameter_name(parameter), unit)
        holder = node.add(name, names.unit("", unit))
        self._judge(holder, parameter)
        for pair, text in texts.items():
            child = holder.add(names.element("pair"), {names.element("number"): names.pair(pair)})
            if names.layout.held == "text":
                child.text = text
            else:
                child.attributes[names.element("value")] = text

    def inside(self, group: Node, test: Test, parameter: str, end: str | None) -> None:
        """Write what is stated of one parameter at one end into its element."""
        for stated in test.stated:
            if (stated.parameter, stated.end) == (parameter, end):
                self._margin(group, stated, whole=False)
                verdict = self.names.words.verdict(stated.passed)
                if self.names.layout.judged == "group":
                    group.attributes[self.names.element("verdict")] = verdict
                elif self.names.layout.judged == "group element":
                    group.add(self.names.element("verdict"), text=verdict)

    def _margin(self, node: Node, stated: Stated, *, whole: bool) -> None:
        """Write one margin; `whole` with what it is of, else only with its pair."""
        names, layout = self.names, self.names.layout
        if layout.worst == "margin and value" and whole:
            self._worst_value(node, stated)
        told: dict[str, str] = {}
        told |= self._told(stated) if whole else names.pairs_told(stated.pairs)
        frequency = names.with_unit(names.element("frequency"), layout.frequency)
        told[frequency] = names.mhz(stated.khz)
        told[names.with_unit(names.element("value"), "dB")] = names.loss(stated.value)
        told[names.element("bound")] = names.loss(stated.limit)
        if layout.judged == "margin":
            told[names.element("verdict")] = names.words.verdict(stated.passed)
        margin = names.number(stated.margin, 2)
        element = node.add(names.element("worst"))
        if layout.held == "text" and layout.told == "attributes":
            element.attributes |= told
            element.text = margin
            return
        told[names.with_unit(names.element("margin"), "dB")] = margin
        names.tell(element, told)

    def _told(self, stated: Stated) -> dict[str, str]:
        """What something is stated of."""
        names = self.names
        told = {names.element("parameter"): names.parameter(stated.parameter)}
        if stated.end is not None:
            told[names.element("end")] = names.words.end(stated.end) or ""
        return told | names.pairs_told(stated.pairs)

    def _worst_value(self, node: Node, stated: Stated) -> None:
        """Write the worst value, which stands at the margin's place here."""
        names = self.names
        told = self._told(stated)
        frequency = names.with_unit(names.element("frequency"), names.layout.frequency)
        told[frequency] = names.mhz(stated.khz)
        told[names.with_unit(names.element("value"), "dB")] = names.loss(stated.value)
        told[names.element("bound")] = names.loss(stated.limit)
        names.tell(node.add(names.element("worst_value")), told)
