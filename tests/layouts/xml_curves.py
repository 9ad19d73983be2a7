"""Curves in XML."""

from collections.abc import Sequence

from .truth import BOTH, Key, Test, limit_of
from .xml_names import Names
from .xml_results import Results
from .xml_tree import Node

Values = Sequence[float | None]


class Curves:
    """Writes the curves of tests in one layout."""

    def __init__(self, names: Names) -> None:
        self.names = names

    def all(self, node: Node, test: Test, results: Results | None) -> None:
        """Write all curves of a test.

        Args:
            node: of the test.
            test: the test.
            results: write what is stated of each parameter into its element, if not None.
        """
        names, layout = self.names, self.names.layout
        if layout.curve == "shared axis":
            self._axis(node, test)
        elif layout.curve == "run":
            self._run(node, test)
        holder = node if layout.group == "by name" else node.add(names.element("curves"))
        for parameter in layout.parameters:
            for end in (None, *BOTH):
                some = {k: v for k, v in test.curves.items() if k[:2] == (parameter, end)}
                if some:
                    self._group(holder, test, some, results)

    def _group(
        self, holder: Node, test: Test, some: dict[Key, list[float | None]], results: Results | None
    ) -> None:
        names, layout = self.names, self.names.layout
        parameter, end, _ = next(iter(some))
        told = self._told(parameter, end)
        if layout.group == "flat":
            for (_, _, pairs), values in some.items():
                curve = holder.add(names.element("curve"))
                names.tell(curve, told | names.pairs_told(pairs))
                self._numbers(curve, test, parameter, values)
            return
        if layout.group == "by name":
            group = holder.add(names.parameter_name(parameter))
            names.tell(group, {k: v for k, v in told.items() if k != names.element("parameter")})
        else:
            group = holder.add(names.element("parameter"))
            names.tell(group, told | {names.element("parameter"): names.parameter(parameter)})
        if results is not None:
            results.inside(group, test, parameter, end)
        if layout.in_rows:
            self._rows(group, test, some)
            return
        for (_, _, pairs), values in some.items():
            curve = group.add(names.element("curve"))
            names.tell(curve, names.pairs_told(pairs))
            self._numbers(curve, test, parameter, values)

    def _told(self, parameter: str, end: str | None) -> dict[str, str]:
        names = self.names
        told = {names.element("parameter"): names.parameter(parameter)}
        if end is not None:
            told[names.element("end")] = names.words.end(end) or ""
        return told

    def _numbers(self, curve: Node, test: Test, parameter: str, values: Values) -> None:
        names, layout = self.names, self.names.layout
        if layout.in_lists:
            self._list(curve, test, values)
            return
        f, v = self._f(), names.with_unit(names.element("value"), "dB")
        for khz, value in zip(test.khz, values, strict=True):
            told = {f: names.mhz(khz), v: names.loss(value)}
            bound = round(limit_of(parameter, khz / 1000), 2)
            if layout.bounds == "limit":
                told[names.element("bound")] = names.loss(bound)
            elif layout.bounds == "margin":
                told[names.element("margin")] = names.number((value or bound) - bound, 2)
            point = curve.add(names.element("point"))
            if layout.curve == "points":
                point.attributes |= told
            else:
                for name, text in told.items():
                    unit = layout.frequency if name == f else "dB"
                    point.add(name, names.unit(name, unit), text)

    def _f(self) -> str:
        return self.names.with_unit(self.names.element("frequency"), self.names.layout.frequency)

    def _list(self, curve: Node, test: Test, values: Values) -> None:
        names, layout = self.names, self.names.layout
        between = ";" if layout.decimal == "," else ("," if layout.couple == "joint" else " ")
        if layout.curve == "own axis":
            text = between.join(map(names.mhz, test.khz))
            name = names.with_unit(names.element("frequencies"), layout.frequency)
            curve.add(name, names.unit(name, layout.frequency), text)
        if layout.curve == "shared axis" and layout.axis == "by id":
            curve.attributes[names.element("frequencies")] = "f1"
        name = names.with_unit(names.element("values"), "dB")
        text = between.join(map(names.loss, values))
        if layout.told == "attributes" and layout.curve != "own axis":
            curve.text = text
            curve.attributes |= names.unit(name, "dB")
        else:
            curve.add(name, names.unit(name, "dB"), text)

    def _axis(self, node: Node, test: Test) -> None:
        names, layout = self.names, self.names.layout
        name = names.with_unit(names.element("frequencies"), layout.frequency)
        between = ";" if layout.decimal == "," else " "
        text = between.join(map(names.mhz, test.khz))
        told = {"id": "f1"} if layout.axis == "by id" else {}
        node.add(name, told | names.unit(name, layout.frequency), text)

    def _run(self, node: Node, test: Test) -> None:
        names, layout = self.names, self.names.layout
        name = names.with_unit(names.element("frequencies"), layout.frequency)
        told = {
            names.element("start"): names.mhz(test.khz[0]),
            names.element("step"): names.mhz(test.khz[1] - test.khz[0]),
            names.element("count"): str(len(test.khz)),
        }
        node.add(name, told | names.unit(name, layout.frequency))

    def _rows(self, group: Node, test: Test, some: dict[Key, list[float | None]]) -> None:
        names, layout = self.names, self.names.layout
        f = self._f()
        for at, khz in enumerate(test.khz):
            row = group.add(names.element("point"))
            if layout.curve == "columns":
                row.attributes[f] = names.mhz(khz)
                for (_, _, pairs), values in some.items():
                    row.attributes[names.pair_name(pairs)] = names.loss(values[at])
                continue
            row.add(f, names.unit(f, layout.frequency), names.mhz(khz))
            for (_, _, pairs), values in some.items():
                if len(pairs) == 1:
                    told = {names.element("pair"): names.pair(pairs[0])}
                else:
                    told = {names.element("pairs"): names.joint(pairs)}
                row.add(names.element("value"), told, names.loss(values[at]))
