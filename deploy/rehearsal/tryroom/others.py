"""What the people do whom nobody plays: a little at each hour of the school day, by what stands on their phones.

Nothing is remembered that a phone shows: who was placed, renamed or erased meanwhile by whoever plays is simply seen.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Awaitable, Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta
from functools import partial
from zoneinfo import ZoneInfo

from deploy.rehearsal.cast import (
    brief_and_build_days,
    hand_in,
    judging,
    offer_and_feedback,
    questions,
    results,
    score_table,
    sign_up,
    try_out_setup,
)
from deploy.rehearsal.cast.people import COACH, SCOREKEEPER, Cast, Group
from deploy.rehearsal.cast.stage import NEWS, OFFICE, SIGN_UP, Stage, newest
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.world.state import DIRECT_MESSAGES

MORNING, NOON, AFTERNOON, EVENING = time(7, 40), time(12, 25), time(15, 50), time(18, 30)
SCHOOL_DAY, WEEKEND = (MORNING, NOON, AFTERNOON, EVENING), (time(10, 30), time(16, 30))
SHEETS_AT_ONCE = 2
ATTEMPTS_AT_ONCE = 6
DEADLINE_WORDS, DEADLINE_OVER = "The deadline is", "The time is up"


@dataclass
class Setting:
    """With what the coach of the cast begins, when nobody plays the coach."""

    plan: bytes | None
    zone: str
    sections: list[str]
    brief: datetime
    """Local, in the zone."""


@dataclass
class Others:
    """Everybody whom nobody plays."""

    stage: Stage
    cast: Cast
    setting: Setting
    played: Callable[[], set[str]]
    """The names of those whom somebody plays at this moment."""
    done: set[str] = field(default_factory=set)
    """What was done and leaves no trace on a phone, such as reading to the last page."""
    stumbles: deque[str] = field(default_factory=lambda: deque(maxlen=50))
    """What somebody meant to do and could not, the newest at the end."""

    def next_hour(self, after: datetime) -> datetime:
        """The next moment at which people reach for their phones."""
        local = after.astimezone(ZoneInfo(self.setting.zone))
        day = local.date()
        while True:
            for hour in WEEKEND if day.weekday() >= 5 else SCHOOL_DAY:
                moment = datetime.combine(day, hour, ZoneInfo(self.setting.zone))
                if moment.astimezone(UTC) > after:
                    return moment.astimezone(UTC)
            day += timedelta(days=1)

    async def act(self, stop: Callable[[], bool]) -> None:
        """Let everybody do what is due at this hour, until `stop` says that whoever plays is asked for something."""
        local = self.stage.now.astimezone(ZoneInfo(self.setting.zone))
        school, hour = local.weekday() < 5, local.time()
        turns: list[Callable[[], Awaitable[None]]] = []
        if COACH not in self.played() and school and hour < EVENING:
            turns.append(self._coach)
        students = list(self.cast.students)
        self.stage.chance("order", local.date(), hour.hour).shuffle(students)
        turns += [partial(self._student, name, local.date()) for name in students if not school or hour >= AFTERNOON]
        turns += [partial(self._judge, name) for name in self.cast.judges]
        if school and hour < EVENING:
            turns.append(self._scorekeeper)
        for turn in turns:
            try:
                await turn()
            except CastMistake as mistake:
                # Whoever plays may have changed what somebody meant to press; they look again at the next hour.
                self.stumbles.append(f"{self.stage.now:%d %b %H:%M} {mistake}")
            if stop():
                return

    def _free(self, name: str) -> bool:
        return name not in self.played()

    # The coach

    async def _coach(self) -> None:
        stage, cast = self.stage, self.cast
        shown = await try_out_setup.office(stage)
        if "Begin a try-out" in shown.labels:
            setting = self.setting
            await try_out_setup.begin(stage, setting.plan, setting.brief, setting.zone, setting.sections)
            await try_out_setup.scorekeeper(stage)
            await try_out_setup.open_sign_up(stage)
            await try_out_setup.invite_judges(stage, cast)
            return
        if "Open sign-up" in shown.labels:
            await try_out_setup.open_sign_up(stage)
        await self._answer_questions()
        if not self.event_day_has_come():
            return
        if judging.START in shown.labels and _local(stage.now, self.setting.zone).time() >= NOON:
            await judging.start_surprise(stage)
        await self._result()

    async def _answer_questions(self) -> None:
        """Answer what squads have asked, in the words of the scene; a second question like it is merged."""
        coach = self.stage.coach
        for card in [shown for shown in coach.see(OFFICE) if questions.ANSWER in shown.labels]:
            key = f"answered {card.message_id}"
            if key in self.done:
                continue
            self.done.add(key)
            form = (await self.stage.do(partial(coach.press, card, questions.ANSWER))).opened()
            texts = (form.fields[0].value or questions.PUBLISHED, questions.ANSWERED)
            values = dict(zip((one.label for one in form.fields), texts, strict=False))
            sure = (await self.stage.do(partial(coach.fill, form, values))).shown()
            await self.stage.do(partial(coach.press, sure, "Publish"))

    async def _result(self) -> None:
        """Close, announce, offer and give feedback, one step each time, as soon as nobody owes anything."""
        stage = self.stage
        step = next((one for one in ("closed", "announced", "offered", "feedback") if one not in self.done), "")
        if step == "closed" and self.everything_is_in():
            await judging.close(stage)
            self.done.add(step)
        elif step == "announced" and not self.said(NEWS, "the result"):
            await results.announce(stage)
            self.done.add(step)
        elif step == "offered":
            self.done.add(step)
            await offer_and_feedback.offer_first(stage)
        elif step == "feedback":
            self.done.add(step)
            await offer_and_feedback.feedback(stage)
        elif step == "announced":
            self.done.add(step)

    def everything_is_in(self) -> bool:
        """Whether no judge has an open sheet, and the table is done with."""
        for name in self.cast.judges:
            with suppress(CastMistake):
                if _onward(judging.desk(self.stage, name).labels) is not None:
                    return False
        return "table" in self.done

    def said(self, room: str, text: str) -> bool:
        """Whether the coach sees this text in a room."""
        with suppress(CastMistake):
            newest(self.stage.coach, room, text)
            return True
        return False

    def deadline(self) -> datetime | None:
        """The deadline as it was last told in news; nothing before the brief, though it may have been said by then."""
        news = self.stage.coach.see(NEWS)
        if not any(brief_and_build_days.OPEN in shown.labels for shown in news):
            return None
        for shown in reversed(news):
            with suppress(CastMistake):
                return brief_and_build_days.told_moment(shown.text, DEADLINE_WORDS)
        return None

    def event_day(self) -> datetime | None:
        """Eight in the morning of the first school day after the deadline; nothing while no deadline is known."""
        deadline = self.deadline()
        if deadline is None:
            return None
        day = _local(deadline, self.setting.zone).replace(hour=8, minute=0, second=0) + timedelta(days=1)
        while day.weekday() >= 5:
            day += timedelta(days=1)
        return day

    def event_day_has_come(self) -> bool:
        """Whether squads come to the table now."""
        day = self.event_day()
        return day is not None and self.stage.now >= day

    # Students

    async def _student(self, name: str, today: date) -> None:
        if not self._free(name):
            return
        phone = self.stage.phone(name)
        room = next((one for one in phone.rooms if " - " in one), None)
        dice = self.stage.chance("student", name, today, self.stage.now.hour)
        if room is None:
            await self._without_squad(phone, name, today)
            return
        shown = phone.see(room)
        labels = {label for message in shown for label in message.labels}
        if offer_and_feedback.ACCEPT in labels and "accepted" not in self.done:
            await self._accept(phone, room)
        elif brief_and_build_days.OPEN in labels and f"read {name}" not in self.done and dice.random() < 0.3:
            self.done.add(f"read {name}")
            await brief_and_build_days.open_brief(self.stage, name, room)
        elif hand_in.ADD in labels and dice.random() < 0.3 and any(_misses(one.text, name) for one in shown):
            await hand_in.add_part(self.stage, name, room)
        elif "Book a turn" in labels and dice.random() < 0.12:
            await self._book(phone, room)
        elif questions.ASK in labels and "asked" not in self.done and dice.random() < 0.1:
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
            if dice.random() < 0.5:
                await sign_up.found(self.stage, group)
        elif dice.random() < 0.5:
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
        section = self.cast.lonely[name]
        if name in (self.cast.late, self.cast.last_lonely):
            return
        if f"looks {name}" not in self.done:
            self.done.add(f"looks {name}")
            opened = await self.stage.do(lambda: phone.press(sign_up.panel(phone), sign_up.LOOKING))
            if opened.form is not None:
                values = {"Your name": name, "Your section": section}
                await self.stage.do(partial(phone.fill, opened.form, values))
        elif luck < 0.4:
            outcome = await self.stage.do(lambda: phone.press(sign_up.panel(phone), sign_up.JOIN))
            if outcome.message is not None and outcome.message.selects:
                listed = outcome.message
                options = listed.selects[0].options
                await self.stage.do(partial(phone.choose, listed, 0, options[-1].label))

    async def _book(self, phone: Phone, room: str) -> None:
        listed = await self.stage.do(lambda: phone.press(phone.with_button(room, "Book a turn"), "Book a turn"))
        if listed.message is not None and listed.message.selects and listed.message.selects[0].options:
            shown, options = listed.message, listed.message.selects[0].options
            pick = self.stage.chance("turn", room, self.stage.now.date()).choice(options[:6])
            await self.stage.do(partial(phone.choose, shown, 0, pick.label))

    async def _accept(self, phone: Phone, room: str) -> None:
        accept = offer_and_feedback.ACCEPT
        asked = await self.stage.do(lambda: phone.press(phone.with_button(room, accept), accept))
        if asked.message is not None and offer_and_feedback.FOR_SURE in asked.message.labels:
            await self.stage.do(partial(phone.press, asked.message, offer_and_feedback.FOR_SURE))
            self.done.add("accepted")

    # Judges and the scorekeeper

    async def _judge(self, name: str) -> None:
        if not self._free(name):
            return
        phone, start = self.stage.phone(name), try_out_setup.START_JUDGING
        if DIRECT_MESSAGES not in phone.rooms and f"judges {name}" not in self.done:
            if any(start in shown.labels for shown in phone.see(NEWS)):
                self.done.add(f"judges {name}")
                await try_out_setup.agree_to_judge(self.stage, name)
            return
        if DIRECT_MESSAGES in phone.rooms and _onward(judging.desk(self.stage, name).labels) is not None:
            await judging.mark_all(self.stage, self.cast, name, most=SHEETS_AT_ONCE)

    async def _scorekeeper(self) -> None:
        if not self.event_day_has_come() or "table" in self.done or not self._free(SCOREKEEPER):
            return
        if await score_table.record_some(self.stage, self.cast, ATTEMPTS_AT_ONCE) == 0:
            self.done.add("table")


def _onward(labels: Sequence[str]) -> str | None:
    return next((label for label in labels if label.startswith(judging.ONWARD)), None)


def _misses(text: str, name: str) -> bool:
    """Whether a card of the hand-in names somebody as missing."""
    return any(line.startswith("Missing:") and name in line for line in text.splitlines())


def _local(moment: datetime, zone: str) -> datetime:
    return moment.astimezone(ZoneInfo(zone))
