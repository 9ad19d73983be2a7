"""Which tests are of which scheduled link, and which of those that are of none belong together."""

from collections.abc import Mapping, Sequence

from sweepbook.record.links import Key, Links, link_key, own_site, plain_label
from sweepbook.schedule.attempt import Attempt
from sweepbook.schedule.model import Schedule, ScheduledLink
from sweepbook.schedule.place import apart

NO_LABEL: Key = ("",)


class Whose:
    """The tests of a job by the links of a schedule.

    Attributes:
        own: the site of the job; see `own_site`.
        of_line: the tests of each scheduled link that has any, by its line.
        strays: the tests of each other link by its key; those without a label by `NO_LABEL`.
        links: of all these tests.
    """

    def __init__(self, schedule: Schedule, tests: Sequence[Attempt], site: str) -> None:
        self._scheduled: dict[str, list[ScheduledLink]] = {}
        for link in schedule.links:
            self._scheduled.setdefault(plain_label(link.label), []).append(link)
        self._of_line = {link.line: _key(link) for link in schedule.links}
        keys = [*(test.link for test in tests), *self._of_line.values()]
        self.own = own_site(keys, site)
        self.links = Links(keys, self.own)
        self.of_line: dict[int, list[Attempt]] = {}
        self.strays: dict[Key, list[Attempt]] = {}
        homes: dict[str, list[Attempt]] = {}
        for test, key in zip(tests, keys, strict=False):
            if not test.export_of:
                homes[test.record_id] = self._home(test, key)
                homes[test.record_id].append(test)
        for test, key in zip(tests, keys, strict=False):
            if test.export_of:
                home = homes.get(test.export_of)
                (self._home(test, key) if home is None else home).append(test)

    def _home(self, test: Attempt, key: Key) -> list[Attempt]:
        """The tests among which a test belongs; other exports of one follow that."""
        owner = self._owner(test, key)
        if owner is not None:
            return self.of_line.setdefault(owner.line, [])
        return self.strays.setdefault(self.links.of(key) if test.label else NO_LABEL, [])

    def _owner(self, test: Attempt, key: Key) -> ScheduledLink | None:
        """The link of its label that a test is of; None where none or several may be meant."""
        links = [one for one in self.of_label(test.label) if self._fits(key, one)]
        if len(links) > 1:
            shared = [len(set(key[:2]) & set(self._of_line[one.line][:2]) - {""}) for one in links]
            links = [one for one, much in zip(links, shared, strict=True) if much == max(shared)]
        if len(links) > 1:
            links = [
                one
                for one in links
                if not apart(one.near, test.near) and not apart(one.far, test.far)
            ]
        return links[0] if len(links) == 1 else None

    def of_label(self, label: str) -> Sequence[ScheduledLink]:
        """The links of the schedule that have a label; case and runs of blanks do not count."""
        return self._scheduled.get(plain_label(label), ())

    def fit(self, test: Attempt, link: ScheduledLink) -> bool:
        """Whether a test names no other place than a link of its label has."""
        return self._fits(test.link, link)

    def _fits(self, key: Key, link: ScheduledLink) -> bool:
        return self.links.fit(key, self._of_line[link.line])

    def another_place(self, test: Attempt) -> str:
        """What places a test elsewhere than the links of its label, in words; "" for nothing."""
        links = self.of_label(test.label)
        if not links or any(self.fit(test, link) for link in links):
            return ""
        site, building = test.named("site"), test.named("building")
        of_job = self.own in test.link[:2] or not self.own
        return f"site {site}" if site and not (building and of_job) else f"building {building}"


def told_apart(tests: Sequence[Attempt], own: str) -> Mapping[Key, Key]:
    """The links of tests that count as one by key: one link where no two name different places."""
    keys = {test.link for test in tests}
    links = Links(keys, own)
    return {key: links.of(key) for key in keys}


def _key(link: ScheduledLink) -> Key:
    return link_key("", link.label, link.level("site"), link.level("building"))
