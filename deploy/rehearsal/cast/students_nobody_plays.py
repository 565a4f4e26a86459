"""What students do whom nobody plays, an hour at a time: found and join squads, read, hand in, book, ask, accept."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from functools import partial

from deploy.rehearsal.cast import brief_and_build_days, hand_in, place_offers, practice, questions, sign_up
from deploy.rehearsal.cast.people import Cast, Group
from deploy.rehearsal.cast.stage import NEWS, SIGN_UP, Stage
from deploy.rehearsal.phones.phone import Phone

READS, HANDS_IN, BOOKS, ASKS = 0.2, 0.3, 0.12, 0.1
"""How likely somebody does what is to be done, in an hour in which they look at the phone."""
SIGNS_UP, TAKES_WHAT_THERE_IS = 0.5, 0.4
"""The same before sign-up closes: with friends in mind; alone, after a day."""


@dataclass
class Students:
    """All of them; `done` keeps what leaves no trace on a phone, such as reading to the last page."""

    stage: Stage
    cast: Cast
    done: set[str]

    async def act(self, name: str, today: date, *, hand_in_is_open: bool) -> None:
        """Do one thing that a student's phone asks for, or nothing."""
        phone = self.stage.phone(name)
        room = next((one for one in phone.rooms if " - " in one), None)
        dice = self.stage.chance("student", name, today, self.stage.now.hour)
        if room is None:
            await self._without_squad(phone, name, today)
            return
        shown = phone.see(room)
        labels = {label for message in shown for label in message.labels}
        if place_offers.ACCEPT in labels and f"accepted {room}" not in self.done:
            await self._accept(phone, room)
        elif brief_and_build_days.OPEN in labels and f"read {name}" not in self.done and dice.random() < READS:
            self.done.add(f"read {name}")
            await brief_and_build_days.open_brief(self.stage, name, room)
        elif (
            any(hand_in.ADD.fullmatch(label) for label in labels)
            and hand_in_is_open
            and dice.random() < HANDS_IN
            and any(_misses(one.text, name) for one in shown)
        ):
            await hand_in.add_part(self.stage, name, room)
        elif practice.BOOK in labels and dice.random() < BOOKS:
            await self._book(phone, room)
        elif questions.ASK in labels and "asked" not in self.done and dice.random() < ASKS:
            self.done.add("asked")
            form = (
                await self.stage.do(lambda: phone.press(phone.with_button(NEWS, questions.ASK), questions.ASK))
            ).form
            if form is not None:
                await self.stage.do(partial(phone.fill, form, {form.fields[0].label: questions.FIRST}))

    async def _without_squad(self, phone: Phone, name: str, today: date) -> None:
        """Found the squad one had in mind, join one's friends, or wait for a day and take what there is."""
        panel = sign_up.panel(phone)
        if sign_up.START not in panel.labels:
            return
        group = next((one for one in self.cast.groups if name in one.people), None)
        dice = self.stage.chance("sign-up", name, today, self.stage.now.hour)
        if group is None:
            await self._alone(phone, name, dice.random())
        elif name == group.people[0]:
            if dice.random() < SIGNS_UP:
                await sign_up.found(self.stage, group)
        elif dice.random() < SIGNS_UP:
            found = self._squad_of(phone, group)
            if found is not None:
                section, squad = found
                await sign_up.join_from_list(self.stage, name, section, squad)

    def _squad_of(self, phone: Phone, group: Group) -> tuple[str, str] | None:
        """The section and the squad in which the board shows the one who meant to start it, or another friend."""
        section = group.section
        for line in [line for shown in phone.see(SIGN_UP) for line in shown.text.splitlines()]:
            if line.startswith("**Section "):
                section = line.strip("*").removeprefix("Section ")
            elif line.startswith("- **") and any(friend in line for friend in group.people):
                return section, line.split("**")[1]
        return None

    async def _alone(self, phone: Phone, name: str, luck: float) -> None:
        if name in (self.cast.late, self.cast.last_lonely):
            return
        if f"looks {name}" not in self.done:
            self.done.add(f"looks {name}")
            opened = await self.stage.do(lambda: phone.press(sign_up.panel(phone), sign_up.LOOKING))
            if opened.form is not None:
                section = sign_up.section_here(opened.form, self.cast.lonely[name])
                values = {"Your name": name, sign_up.SECTION: section}
                await self.stage.do(partial(phone.fill, opened.form, values))
        elif luck < TAKES_WHAT_THERE_IS:
            outcome = await self.stage.do(lambda: phone.press(sign_up.panel(phone), sign_up.JOIN))
            if outcome.message is not None and outcome.message.selects:
                listed = outcome.message
                options = listed.selects[0].options
                await self.stage.do(partial(phone.choose, listed, 0, options[-1].label))

    async def _book(self, phone: Phone, room: str) -> None:
        listed = await self.stage.do(lambda: phone.press(phone.with_button(room, practice.BOOK), practice.BOOK))
        if listed.message is not None and listed.message.selects and listed.message.selects[0].options:
            shown, options = listed.message, listed.message.selects[0].options
            pick = self.stage.chance("turn", room, self.stage.now.date()).choice(options[:6])
            await self.stage.do(partial(phone.choose, shown, 0, pick.label))

    async def _accept(self, phone: Phone, room: str) -> None:
        accept = place_offers.ACCEPT
        asked = await self.stage.do(lambda: phone.press(phone.with_button(room, accept), accept))
        if asked.message is not None and place_offers.FOR_SURE in asked.message.labels:
            await self.stage.do(partial(phone.press, asked.message, place_offers.FOR_SURE))
            self.done.add(f"accepted {room}")


def _misses(text: str, name: str) -> bool:
    """Whether a card of the hand-in names somebody as missing."""
    return any(line.startswith("Missing:") and name in line for line in text.splitlines())
