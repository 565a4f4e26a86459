"""What the people do whom nobody plays: a little at each hour of the school day, by what stands on their phones.

Nothing is remembered that a phone shows: who was placed, renamed or erased meanwhile by whoever plays is simply seen.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Awaitable, Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime, time, timedelta
from functools import partial
from zoneinfo import ZoneInfo

from deploy.rehearsal.cast import (
    brief_and_build_days,
    feedback,
    helpers,
    invitation_to_judge,
    panels,
    place_offers,
    practice,
    preview_and_announcement,
    questions,
    score_sheets_and_close,
    score_table,
    surprise,
    try_out_setup,
)
from deploy.rehearsal.cast.people import COACH, SCOREKEEPER, Cast
from deploy.rehearsal.cast.stage import NEWS, OFFICE, SIGN_UP, Stage, newest
from deploy.rehearsal.cast.students_nobody_plays import Students
from deploy.rehearsal.phones.user_actions import CastMistake
from deploy.rehearsal.wire.rendering import Shown
from deploy.rehearsal.world.state import DIRECT_MESSAGES

MORNING, NOON, AFTERNOON, EVENING = time(7, 40), time(12, 25), time(15, 50), time(18, 30)
SCHOOL_DAY, WEEKEND = (MORNING, NOON, AFTERNOON, EVENING), (time(10, 30), time(16, 30))
SHEETS_AT_ONCE = 2
ATTEMPTS_AT_ONCE = 6
DEADLINE_WORDS = "The deadline is"


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

    def so_far(self) -> dict[str, bool]:
        """How far the season has come, in words for a progress bar."""
        return {
            "Sign-up": self.said(SIGN_UP, "Squads so far"),
            "The brief and the days to the deadline": self.deadline() is not None,
            "The event days and the judging": self._deadline_has_passed(),
            "The result": "closed" in self.done,
            "The place and the feedback": "announced" in self.done,
        }

    async def act(self, stop: Callable[[], bool]) -> None:
        """Let everybody do what is due at this hour, until `stop` says that whoever plays is asked for something."""
        local = self.stage.now.astimezone(ZoneInfo(self.setting.zone))
        school, hour = local.weekday() < 5, local.time()
        turns: list[Callable[[], Awaitable[None]]] = []
        if COACH not in self.played() and school and hour < EVENING:
            turns.append(self._coach)
        students = list(self.cast.students)
        by_student = Students(self.stage, self.cast, self.done)
        self.stage.chance("order", local.date(), hour.hour).shuffle(students)
        hand_in_is_open = not self._deadline_has_passed()
        turns += [
            partial(by_student.act, name, local.date(), hand_in_is_open=hand_in_is_open)
            for name in students
            if self._free(name) and (not school or hour >= AFTERNOON)
        ]
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

    async def set_up(self) -> None:
        """Begin the try-out, choose channels and helpers, and open sign-up; raises `CastMistake` with what was said."""
        stage, setting = self.stage, self.setting
        await try_out_setup.begin(stage, setting.plan, setting.brief, setting.zone, setting.sections)
        await helpers.scorekeepers(stage, SCOREKEEPER)
        self.done.add("scorekeeper")
        await try_out_setup.open_sign_up(stage)
        await invitation_to_judge.invite_judges(stage, self.cast)

    async def _coach(self) -> None:
        stage = self.stage
        shown = await try_out_setup.office(stage)
        if "Begin a try-out" in shown.labels:
            await self.set_up()
            return
        await self._finish_set_up(shown)
        await self._answer_questions()
        await self._share_judges_out()
        await self._draw(shown)
        if not self.event_day_has_come():
            return
        if surprise.START in shown.labels and _local(stage.now, self.setting.zone).time() >= NOON:
            await surprise.for_all(stage)
        await self._result(shown)

    async def _finish_set_up(self, shown: Shown) -> None:
        """Do what whoever played the coach has left open: channels, sign-up, judges, the scorekeeper."""
        stage = self.stage
        if try_out_setup.CHOOSE_CHANNELS in shown.labels:
            await try_out_setup.choose_channels(stage)
            shown = await try_out_setup.office(stage)
        if try_out_setup.OPEN_SIGN_UP in shown.labels:
            await try_out_setup.open_sign_up(stage)
        if "Judges" in shown.labels and not invitation_to_judge.HAS_JUDGES.search(shown.text):
            await invitation_to_judge.invite_judges(stage, self.cast)
        if "scorekeeper" not in self.done:
            self.done.add("scorekeeper")
            await helpers.scorekeepers(stage, SCOREKEEPER)

    async def _draw(self, office: Shown) -> None:
        """Draw who chooses first at the practice table, where the plan wants it."""
        if "drawn" in self.done or practice.PANEL not in office.labels or self.deadline() is None:
            return
        panel = (await try_out_setup.press_on(self.stage, office, practice.PANEL)).shown()
        self.done.add("drawn")
        if practice.DRAW in panel.labels:
            form = (await try_out_setup.press_on(self.stage, panel, practice.DRAW)).opened()
            outcome = await self.stage.do(partial(self.stage.coach.fill, form, {form.fields[0].label: "4 4 1 6 2"}))
            sure = None if outcome.message is None else next(iter(outcome.message.labels), None)
            if sure is not None and outcome.message is not None and sure.startswith("Yes"):
                await self.stage.do(partial(self.stage.coach.press, outcome.message, sure))

    async def _share_judges_out(self) -> None:
        for told in [shown for shown in self.stage.coach.see(OFFICE) if panels.NO_SHEETS in shown.text]:
            if f"shared out {told.message_id}" not in self.done:
                self.done.add(f"shared out {told.message_id}")
                await panels.all_see_all(self.stage, told)

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

    async def _result(self, office: Shown) -> None:
        """Close, announce, offer and give feedback, one step each time, as soon as nobody owes anything."""
        stage = self.stage
        step = next((one for one in ("closed", "announced", "offered", "feedback") if one not in self.done), "")
        if step == "closed" and self.judging_is_closed():
            self.done.add(step)  # by whoever played the coach
        elif step == "closed" and surprise.START not in office.labels and self.everything_is_in():
            await score_sheets_and_close.close(stage)
            self.done.add(step)
        elif step == "announced" and not self.said(NEWS, "the result"):
            await preview_and_announcement.announce(stage)
            self.done.add(step)
        elif step == "offered":
            if not await place_offers.offer_first(stage):
                self.done.add(step)
        elif step == "feedback":
            self.done.add(step)
            await feedback.feedback(stage)
        elif step == "announced":
            self.done.add(step)

    def everything_is_in(self) -> bool:
        """Whether no judge has an open sheet, and the table is done with."""
        for name in self.cast.judges:
            with suppress(CastMistake):
                if _onward(score_sheets_and_close.my_sheets(self.stage, name).labels) is not None:
                    return False
        return self.table_is_done

    def judging_is_closed(self) -> bool:
        """Whether judging is closed, whoever has closed it, by what judges read."""
        return any(score_sheets_and_close.is_closed(self.stage, name) for name in self.cast.judges)

    @property
    def table_is_done(self) -> bool:
        """Whether all that can be measured by now has been; what starts as a surprise comes to the table only then."""
        return self._table in self.done

    @property
    def _table(self) -> str:
        return f"table with {sum(surprise.STARTED in shown.text for shown in self.stage.coach.see(NEWS))} surprises"

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

    def _deadline_has_passed(self) -> bool:
        deadline = self.deadline()
        return deadline is not None and self.stage.now >= deadline

    # Judges and the scorekeeper

    async def _judge(self, name: str) -> None:
        if not self._free(name):
            return
        phone, start = self.stage.phone(name), invitation_to_judge.START_JUDGING
        if DIRECT_MESSAGES not in phone.rooms and f"judges {name}" not in self.done:
            if any(start in shown.labels for shown in phone.see(NEWS)):
                self.done.add(f"judges {name}")
                await invitation_to_judge.agree_to_judge(self.stage, name)
            return
        if (
            DIRECT_MESSAGES in phone.rooms
            and _onward(score_sheets_and_close.my_sheets(self.stage, name).labels) is not None
        ):
            await score_sheets_and_close.mark_all(self.stage, self.cast, name, most=SHEETS_AT_ONCE)

    async def _scorekeeper(self) -> None:
        if not self.event_day_has_come() or self.table_is_done or not self._free(SCOREKEEPER):
            return
        if await score_table.record_some(self.stage, self.cast, ATTEMPTS_AT_ONCE, self.done):
            self.done.add(self._table)


def _onward(labels: Sequence[str]) -> str | None:
    return next((label for label in labels if label.startswith(score_sheets_and_close.ONWARD)), None)


def _local(moment: datetime, zone: str) -> datetime:
    return moment.astimezone(ZoneInfo(zone))
