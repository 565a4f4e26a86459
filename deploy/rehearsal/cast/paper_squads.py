"""Two squads whose members have no account: the coach founds, prints, books and hands in; one gets a phone later."""

from __future__ import annotations

import re
from functools import partial

from deploy.rehearsal.cast.brief_and_build_days import squad_room
from deploy.rehearsal.cast.hand_in import part_text
from deploy.rehearsal.cast.people import COACH, Cast, Group
from deploy.rehearsal.cast.sign_up import is_in
from deploy.rehearsal.cast.stage import NEXT_PAGE, SIGN_UP, Stage, awaited
from deploy.rehearsal.cast.try_out_setup import office, press_on
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.wire.rendering import Shown

BOOKS, LINKS, HANDS_IN = 1, 4, 5
"""On which day of the window, from 0."""
FREE = ("", "free")
PAPER = "Brief and notices on paper"


class PaperSquads:
    """What the coach does for those who have no account, and the one of them who gets one."""

    def __init__(self, stage: Stage, cast: Cast) -> None:
        self._stage = stage
        self._cast = cast

    async def found(self) -> None:
        """The coach founds each squad, enters its students, and puts them in."""
        stage, coach = self._stage, self._stage.coach
        for group in self._cast.on_paper:
            await stage.wait(minutes=stage.random.randint(5, 60))
            for name in group.people:
                form = (await press_on(stage, await office(stage), "People", "Enter a student")).opened()
                await stage.do(partial(coach.fill, form, {"Name": name, "Section": group.section}))
            form = (await press_on(stage, await office(stage), "People", "Squads", "Found a squad")).opened()
            await stage.do(partial(coach.fill, form, {"Name of the squad": group.name, "Section": group.section}))
            card = await self._card(group)
            done = await stage.do(partial(coach.choose, card, "Add students without a squad", group.people))
            missing = [name for name in group.people if name not in done.text]
            if missing and not stage.rough:
                raise CastMistake(f"the coach was told {done.text!r}")
            for name in group.people:
                stage.remember(COACH, f"the seat of {name} in {group.name}", partial(self._shows, group, name))

    async def _shows(self, group: Group, name: str) -> bool:
        return name in (await self._card(group)).text

    async def _card(self, group: Group) -> Shown:
        """The coach's page of a squad."""
        listed = (await press_on(self._stage, await office(self._stage), "People", "Squads")).shown()
        return (await self._stage.do(partial(self._stage.coach.choose, listed, "Pick a squad", group.name))).shown()

    async def day(self, number: int) -> None:
        """What happens on one day, from 0."""
        for group in self._cast.on_paper:
            if number == 0 and self._cast.linked not in group.people:
                await self._print(group)
            if number == BOOKS:
                await self._book(group)
            if number == HANDS_IN:
                for name in group.people[:-1]:
                    if name != self._cast.linked:
                        await self._enter_part(group, name)
        if number == LINKS and self._cast.on_paper:
            await self._link(self._cast.on_paper[0], self._cast.linked)

    async def _print(self, group: Group) -> None:
        """The brief on paper, for the table in the workshop."""
        card = await self._card(group)
        printed = (await press_on(self._stage, card, PAPER)).shown()
        if not printed.files and not self._stage.rough:
            raise CastMistake(f"no paper came: {printed.text!r}")

    async def _book(self, group: Group) -> None:
        """The last free turn; others press quicker."""
        stage = self._stage
        panel = (await press_on(stage, await office(stage), "Practice")).shown()
        free = [one for menu in panel.selects for one in menu.options if one.description in FREE]
        if not free:
            return
        card = (await stage.do(partial(stage.coach.choose, panel, "Pick a turn", free[-1].label))).shown()
        listed = (await press_on(stage, card, "Book for a squad")).shown()
        await stage.do(partial(stage.coach.choose, listed, "Pick a squad", group.name), told="Booked")

    async def _member(self, group: Group, name: str) -> Shown:
        card = await self._card(group)
        return (await self._stage.do(partial(self._stage.coach.choose, card, "Open a member", name))).shown()

    async def _enter_part(self, group: Group, name: str) -> None:
        """The coach types what the student has said."""
        stage = self._stage
        page = (await press_on(stage, await self._member(group, name), "Part of the hand-in")).shown()
        label = next(label for label in page.labels if label in ("Enter the part", "Change the part"))
        form = (await press_on(stage, page, label)).opened()
        values = {form.fields[0].label: part_text(stage, name)}
        await stage.do(partial(stage.coach.fill, form, values), told=f"The part of **{name}** is saved")

    async def _link(self, group: Group, name: str) -> None:
        """A student gets an account, types the code that the coach has handed over, and sees the room."""
        stage = self._stage
        made = (await press_on(stage, await self._member(group, name), "Code for an account")).text
        code = re.findall(r"\*\*([A-Z]{8})\*\*", made)[-1]
        stage.server.world.add_person(name)
        phone = stage.phone(name)
        mine = (await stage.do(lambda: phone.command("/my-squad", room=SIGN_UP))).shown()
        form = (await stage.do(partial(phone.press, mine, "I have a code from my coach"))).opened()
        said = await stage.do(partial(phone.fill, form, {"Your code": code}))
        if f"Welcome, **{name}**" not in said.text and not (stage.rough and await is_in(stage, name, group.name)):
            raise CastMistake(f"{name} was told {said.text!r}")
        stage.acknowledged += 1
        await stage.wait(minutes=2)
        await awaited(stage, lambda: phone.see(squad_room(phone, group.name))[-1])
        stage.remember(name, f"a seat in {group.name}", partial(is_in, stage, name, group.name))

    async def answer(self) -> None:
        """A place is offered to one of them, who says yes to the coach at the door."""
        stage, coach = self._stage, self._stage.coach
        name = self._cast.on_paper[-1].people[0]
        page = (await press_on(stage, await office(stage), "Records", "Team of several squads")).shown()
        while not any(name == one.label for menu in page.selects for one in menu.options):
            page = (await stage.do(partial(coach.press, page, NEXT_PAGE))).shown()
        form = (await stage.do(partial(coach.choose, page, "Offer a place", [name]))).opened()
        page = (await stage.do(partial(coach.fill, form, {}))).shown()
        page = (await stage.do(partial(coach.choose, page, "Note an answer, or take an offer back", name))).shown()
        await stage.do(partial(coach.press, page, "The answer is yes"))
