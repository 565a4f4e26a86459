"""Squads and judges for the checks of judging."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from bot.actions.judging.my_sheets import living_list
from bot.actions.judging.open_judging import draw_panels, open_judging
from bot.rules.squads.join_and_link_codes import join_code
from bot.rules.squads.names import name_keys
from storage.records.message import Form, Message, RadioField
from storage.records.people import Judge
from storage.records.plan import Event
from storage.records.plan_measures import Criterion, Rubric
from storage.records.request import Person
from storage.records.score_sheets import Sheet
from storage.tables import judges, score_sheets, squads, tryouts
from storage.tables.sql_session import Snapshot
from tests.actions.conftest import Asking, Begin

LEVELS = ("not seen", "seen once", "seen often", "seen always")
ADA, BEN, CY = 201, 202, 203
SQUADS = ("Crooked Spoons", "Muddy Teapots", "Sleepy Turnips")


@dataclass
class Cast:
    """A try-out in its window, or judged, with squads and judges who have agreed."""

    asking: Asking

    async def open(self) -> None:
        """The window ends and the sheets go out."""
        await open_now(self.asking)

    async def judge(self, who: int) -> Judge:
        """The judge behind an account."""
        tryout = await self.asking.tryout()
        async with self.asking.store.read() as db:
            found = await judges.judge_of(db, tryout.id, who)
        assert found is not None
        return found

    async def sheets(self, who: int) -> list[Sheet]:
        """A judge's sheets."""
        judge = await self.judge(who)
        async with self.asking.store.read() as db:
            return await score_sheets.sheets_of(db, judge.id)

    async def sheet(self, who: int, squad: str) -> Sheet:
        """A judge's sheet for a squad (of the first rubric, if there are several)."""
        found = await self.sheet_or_none(who, squad)
        assert found is not None, (who, squad)
        return found

    async def sheet_or_none(self, who: int, squad: str) -> Sheet | None:
        """A judge's sheet for a squad, if there is one."""
        async with self.asking.store.read() as db:
            squad_id = await squad_called(db, squad)
        return next((sheet for sheet in await self.sheets(who) if sheet.squad_id == squad_id), None)

    async def fill(self, who: int, squad: str, levels: dict[str, int], **more: Any) -> Message:
        """Open a judge's sheet, fill the form, and get the answer (in a direct message)."""
        sheet = await self.sheet(who, squad)
        form = await self.asking.form(f"sheets.mark:{sheet.id}", who, server_id=None)
        return await self.submit(who, form, levels, **more)

    async def submit(self, who: int, form: Form, levels: dict[str, int], comment: str = "", **more: Any) -> Message:
        """Submit a form in the direct messages with these levels; what is not given is sent as the form showed it."""
        return await self.submit_here(who, form, levels, comment, server_id=None, **more)

    async def submit_here(
        self, who: int, form: Form, levels: dict[str, int], comment: str = "", **more: Any
    ) -> Message:
        """Submit a form on the class server."""
        fields = {}
        for field in form.fields:
            if isinstance(field, RadioField):
                shown = next((choice.value for choice in field.choices if choice.chosen), None)
                given = levels.get(field.key.removeprefix("level-"))
                if given is not None or shown is not None:
                    fields[field.key] = str(given) if given is not None else str(shown)
            elif field.kind == "text":
                fields[field.key] = comment or field.value
        return await self.asking.message(form.key, who, fields=fields, **more)


async def open_now(asking: Asking) -> None:
    """Judging begins, as the clock begins it."""
    tryout = await asking.tryout()
    async with asking.store.read() as db:
        draw = await draw_panels(db, tryout)
    async with asking.store.write() as db:
        await tryouts.set_state(db, tryout.id, "judging")
        await open_judging(db, tryout, asking.now, draw())


async def squad_called(db: Snapshot, name: str) -> int:
    """The id of a squad."""
    return int(await db.value("SELECT id FROM squad WHERE name = ?", name))


async def cast(
    begin: Begin, people: tuple[int, ...] = (ADA, BEN, CY), names: tuple[str, ...] = SQUADS, **changes: Any
) -> Cast:
    """A try-out in its window with squads, and judges who have pressed the button."""
    asking = await begin("window", **changes)
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        for number, name in enumerate(names):
            await squads.add_squad(db, tryout.id, name, name_keys(name), "7-A", join_code(number), asking.now)
    found = Cast(asking)
    for who in people:
        await enrol(asking, who)
        await asking.ask("sheets.start", who, name=f"Judge {who}")
    return found


async def enrol(asking: Asking, *people: int) -> Message:
    """The coach picks people as judges."""
    picked = tuple(Person(id=who, name=f"Judge {who}") for who in people)
    return await asking.message("judges.add", people=picked, values=tuple(map(str, people)))


def long_rubric(criteria: int, comments: str = "sheet") -> Event:
    return Event(
        key="bunting",
        name="Bunting",
        weight=Decimal(30),
        measures=(
            Rubric(
                key="bunting",
                name="What the flags say",
                criteria=tuple(
                    Criterion(key=f"c{number}", name=f"Criterion {number}", levels=LEVELS) for number in range(criteria)
                ),
                comments="criterion" if comments == "criterion" else "sheet",
            ),
        ),
    )


async def living(found: Cast, who: int) -> Message:
    tryout, judge = await found.asking.tryout(), await found.judge(who)
    async with found.asking.store.read() as db:
        message = await living_list(db, tryout, f"judge/{judge.id}")
    assert message is not None
    return message
