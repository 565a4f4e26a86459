"""Turns at the practice table: squads book over the days, two want the same one, one gives back, one is lost."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast.brief_and_build_days import sleeps, squad_room
from deploy.rehearsal.cast.people import COACH, Cast, Group
from deploy.rehearsal.cast.press_sequence import Pick, Step, in_office, walk
from deploy.rehearsal.cast.stage import NEWS, Stage
from deploy.rehearsal.cast.try_out_setup import office, press_on
from deploy.rehearsal.phones.user_actions import CastMistake, Outcome, together
from deploy.rehearsal.wire.rendering import Option, Shown

PANEL, DRAW = "Practice", "Draw who chooses first"
BOOK, GIVE, ALL = "Book a turn", "Give a turn back", "All turns"
PICK, PICK_BACK = "Pick a turn", "Pick a turn to give back"
BOOKED, YOURS, TAKEN, GIVEN = "Booked", "has this turn already", "is taken", "Given back"
NOT_HERE = "do not look after turns"
A_DAY = 3
"""So many squads book on one day."""
FREE = ("", "free", "closed")


class Practice:
    """What the squads do at the practice table in the days of the window."""

    def __init__(self, stage: Stage, cast: Cast) -> None:
        self._stage = stage
        self._cast = cast
        self._has: dict[str, list[str]] = {group.name: [] for group in cast.groups}
        """The turns each squad was told it has, by the second in which they begin."""

    async def day(self, number: int) -> None:
        """What happens on one day, from 0."""
        groups = self._cast.groups
        if NOT_HERE in await self._turns_of(groups[0]):
            return
        if number == 0:
            await self._two_thumbs(groups[0], groups[1])
            await self._everybody_looks(groups[2])
        for place in range(A_DAY):
            group = groups[(2 + A_DAY * number + place) % len(groups)]
            await self._stage.wait(minutes=self._stage.random.randint(3, 30))
            await self._book(group, group.people[number % len(group.people)], 2 * place + number)
        if number == 1:
            await self._second_thoughts(next((one for one in groups[2:] if self._has[one.name]), groups[2]))
        if number == 3:
            await self._equipment()

    def remember(self) -> None:
        """Keep in mind what every squad was told it has, to look for it later."""
        for group in self._cast.groups:
            for begin in self._has[group.name]:
                look = partial(self._holds, group, begin)
                self._stage.remember(group.people[0], f"a turn of {group.name} at {begin}", look)

    async def _turns_of(self, group: Group) -> str:
        """What a squad reads about its own turns."""
        phone = self._stage.phone(group.people[0])
        return (await self._stage.do(lambda: phone.command("/book", room=NEWS))).text

    async def _holds(self, group: Group, begin: str) -> bool:
        return f"<t:{begin}:F>" in await self._turns_of(group)

    async def _press(self, group: Group, who: str, label: str) -> Outcome:
        """Press a button in the squad's own room."""
        phone = self._stage.phone(who)
        return await self._stage.do(lambda: phone.press(phone.with_button(squad_room(phone, group.name), label), label))

    def _can_book(self, group: Group, who: str) -> bool:
        """Whether a member sees a button for a turn that is not switched off."""
        phone = self._stage.phone(who)
        return not sleeps(phone, group.name) and any(
            BOOK in shown.labels for shown in phone.see(squad_room(phone, group.name))
        )

    async def _book(self, group: Group, who: str, place: int) -> None:
        """Book one of the turns that are offered; when there is none, try another day."""
        if not self._can_book(group, who):
            return
        listed = await self._press(group, who, BOOK)
        options = _options(listed)
        if not options:
            return
        option = options[min(place, len(options) - 1)]
        shown = listed.shown()
        outcome = await self._stage.do(lambda: self._stage.phone(who).choose(shown, PICK, option.label))
        await self._note(group, option, outcome)

    async def _note(self, group: Group, option: Option, outcome: Outcome) -> None:
        """Note what a squad was told; after an answer that never came it may have the turn all the same."""
        if BOOKED in outcome.text or YOURS in outcome.text:
            self._stage.acknowledged += 1
            self._has[group.name].append(option.value)
        elif not self._stage.rough:
            raise CastMistake(f"{group.name} was told {outcome.text!r}")
        elif await self._holds(group, option.value):
            self._has[group.name].append(option.value)

    async def _two_thumbs(self, one: Group, other: Group) -> None:
        """Two squads press the same turn at the same moment: exactly one has it, the other takes another one."""
        lists = [(group, await self._press(group, group.people[0], BOOK)) for group in (one, other)]
        (option, *_), shown = _options(lists[0][1]), [listed.shown() for _, listed in lists]
        await self._stage.moment()
        phones = [self._stage.phone(group.people[0]) for group in (one, other)]
        outcomes = await together(
            *(phone.choose(list_, PICK, option.label) for phone, list_ in zip(phones, shown, strict=True))
        )
        told = [BOOKED in outcome.text for outcome in outcomes]
        if self._stage.rough:
            told = [await self._holds(group, option.value) for group in (one, other)]
            if not any(told):
                await self._book(one, one.people[0], 0)
                await self._book(other, other.people[0], 0)
                return
        elif not any(TAKEN in outcome.text for outcome in outcomes):
            raise CastMistake(f"nobody was told that the turn is taken: {[outcome.text for outcome in outcomes]}")
        if sum(told) != 1:
            raise CastMistake(f"one turn was wanted by two squads, and {sum(told)} of them got it")
        first, second = (one, other) if told[0] else (other, one)
        self._stage.acknowledged += 1
        self._has[first.name].append(option.value)
        await self._book(second, second.people[-1], 0)

    async def _everybody_looks(self, group: Group) -> None:
        """Somebody looks who has which turn."""
        outcome = await self._press(group, group.people[-1], ALL)
        if "Turns at the practice table" not in outcome.text and not self._stage.rough:
            raise CastMistake(f"the turns were not shown: {outcome.text!r}")

    async def _second_thoughts(self, group: Group) -> None:
        """A squad gives its latest turn back and takes another one."""
        who = group.people[0]
        listed = await self._press(group, who, GIVE)
        options = _options(listed)
        if not options:
            return
        option, shown = options[-1], listed.shown()
        outcome = await self._stage.do(lambda: self._stage.phone(who).choose(shown, PICK_BACK, option.label))
        if GIVEN in outcome.text:
            self._stage.acknowledged += 1
        elif not self._stage.rough:
            raise CastMistake(f"{group.name} was told {outcome.text!r}")
        if option.value in self._has[group.name] and not await self._holds(group, option.value):
            self._has[group.name].remove(option.value)
        await self._stage.wait(minutes=12)
        await self._book(group, group.people[1], 1)

    async def _equipment(self) -> None:
        """A cable broke in the first turn that anybody had: the coach notes it, and the squad books another one."""
        panel = (await press_on(self._stage, await office(self._stage), PANEL)).shown()
        option = next((one for one in _choices(panel) if one.description not in FREE), None)
        if option is None:
            return
        coach = self._stage.coach
        card = (await self._stage.do(lambda: coach.choose(panel, PICK, option.label))).shown()
        await press_on(self._stage, card, "Lost: equipment")
        group = next(one for one in self._cast.groups if one.name == option.description)
        if option.value in self._has[group.name]:
            self._has[group.name].remove(option.value)
        await self._book(group, group.people[0], 0)


def _options(outcome: Outcome) -> tuple[Option, ...]:
    """The turns that are offered; none when the answer says that there are none."""
    return _choices(outcome.message) if outcome.message is not None else ()


def _choices(shown: Shown) -> tuple[Option, ...]:
    return tuple(option for select in shown.selects for option in select.options)


async def turns_of_coach(stage: Stage, cast: Cast) -> None:
    """A turn is closed and opened; one is booked for a squad and given back; one is lost, and was not."""
    squad = cast.groups[-1].name
    await _turn(stage, "Close it")
    await _turn(stage, "Open it again")
    await _turn(stage, "Book for a squad", Pick("Pick a squad", (squad,)))
    await _turn(stage, "Lost: equipment")
    await _turn(stage, "It was not lost")
    await _turn(stage, "Give it back")


async def _turn(stage: Stage, *steps: Step) -> Outcome:
    """The coach opens the last turn there is."""
    panel = (await in_office(stage, PANEL)).shown()
    last = panel.selects[0].options[-1].label
    return await walk(stage, COACH, panel, Pick(panel.selects[0].placeholder, (last,)), *steps)
