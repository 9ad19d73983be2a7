"""Places that belong together, by pairs."""


class Groups:
    """Groups of places, each led by its lowest; a place in no pair is a group by itself."""

    def __init__(self) -> None:
        self._leads: dict[int, int] = {}

    def lead(self, place: int) -> int:
        """The lowest place of a place's group."""
        leads = self._leads
        while leads.setdefault(place, place) != place:
            leads[place] = leads[leads[place]]
            place = leads[place]
        return place

    def together(self, first: int, second: int) -> bool:
        """Whether two are in one group."""
        return self.lead(first) == self.lead(second)

    def join(self, first: int, second: int) -> bool:
        """Make one group of two; False where they are one already."""
        one, other = self.lead(first), self.lead(second)
        self._leads[max(one, other)] = min(one, other)
        return one != other
