"""Whatever can be done can be reached by buttons from one message: the office, the sign-up message, a judge's list."""

from collections.abc import Iterable
from typing import Any

from bot.actions.core.dispatch import ACTIONS
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.judging.judges_admin import enrol
from bot.interactions.slash_commands import COMMANDS, Audience
from bot.words.core.action_keys import ActionKey as Key
from bot.words.core.action_keys import AnyKey
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import split
from bot.words.core.slash_command_texts import OFFICE_PARTS
from bot.words.squads.sign_up import sign_up_panel
from storage.records.message import Answer, Message, Open, Select
from storage.records.tryout import State
from storage.tables import helpers, tryouts
from tests.actions.conftest import COACH, Asking, Begin, button
from tests.actions.hand_in_cast import handing_in
from tests.actions.judging_cast import ADA, cast
from tests.actions.practice_cast import PRACTICE
from tests.actions.scored import whole

CAPTAIN, KNOWN, STRANGER, KEEPER, TYPIST = 10_100, 1, 2, 802, 803
SEASON: tuple[State, ...] = ("drafting", "signup", "window", "judging", "settled", "announced")
TYPED = {Key.TABLE_SCORE}
"""Typing one attempt in a line is another way to what the table's forms do."""
COACHES = {
    *(Key.PLAN_BEGIN, Key.PLAN_AGAIN, Key.PLAN_FILE, Key.PLAN_USE, Key.PLAN_SHOW, Key.PLAN_CALENDAR, Key.PLAN_DATES),
    *(Key.JUDGES_ADD, Key.JUDGES_REMOVE, Key.JUDGES_SHOWN_ONLY, Key.JUDGES_ASK, Key.PANELS_PANEL, Key.TIES_PANEL),
    *(Key.TRIALS_PANEL, Key.PAPER_PANEL, Key.PAPER_PRINT, Key.PAPER_ENTER, Key.JUDGING_PICK_EVENT, Key.JUDGING_STATUS),
    *(Key.JUDGING_GAPS, Key.JUDGING_CLOSE, Key.JUDGING_RESUME, Key.JUDGING_PICK_SHEET, Key.RESULTS_FIRM),
    *(Key.RESULTS_JUDGES, Key.RESULTS_WHAT_IF, Key.RESULTS_ANNOUNCE, Key.RESULTS_ASK_BACK, Key.OFFER_PANEL),
    *(Key.FEEDBACK_PANEL, Key.FEEDBACK_SQUAD, Key.PEOPLE_HELPERS, Key.PEOPLE_STUDENTS, Key.PEOPLE_SQUADS),
    *(Key.PEOPLE_FORGET, Key.SETUP_INVITE, Key.SIGNUP_ASK, Key.SIGNUP_OPEN, Key.BRIEF_ASK, Key.BRIEF_RELEASE),
    *(Key.SURPRISE_ASK, Key.PRACTICE_PANEL, Key.TABLE_FORM, Key.TABLE_UNDO, Key.TABLE_ABSENCE),
    *(
        ClassKey.LIST_PANEL,
        ClassKey.LIST_FILE,
        ClassKey.LIST_USE,
        ClassKey.CORRECT_ASK,
        ClassKey.JOIN_PICK,
        *(
            ClassKey.RECORDS,
            ClassKey.INCIDENT,
            ClassKey.KEPT,
            ClassKey.CLOSE_DAYS,
            ClassKey.MORE_TIME,
            ClassKey.PROPOSAL,
            ClassKey.COACH_FOUND,
            ClassKey.MERGE_PICK,
        ),
    ),
    *(Key.TRYOUT_ASK_ARCHIVE, Key.TRYOUT_ARCHIVE),
}
"""What a coach needs and cannot type; what can be typed is added from the table of commands."""
STUDENTS = {
    *(Key.SQUAD_START, Key.SQUAD_FOUND, Key.SQUAD_CODE, Key.SQUAD_JOIN_BY_CODE, Key.SQUAD_LOOKING, Key.SQUAD_LEAVE),
    *(Key.SQUAD_RENAME, Key.SQUAD_CAPTAIN, Key.SQUAD_REMOVE, Key.HAND_IN_PARTS, Key.STUDENT_LATE, Key.PRACTICE_BOOK),
}
JUDGES = {Key.SHEETS_MARK, Key.SHEETS_LOOK, Key.SHEETS_TIE, Key.SHEETS_PAPER, Key.SHEETS_HAND_IN}


class Walk:
    """Presses every button and picks from every list that only shows something; notes all that could be pressed."""

    def __init__(self, asking: Asking, who: int, **more: Any) -> None:
        self.asking, self.who, self.more = asking, who, more
        self.seen: set[AnyKey] = set()
        self._pressed: set[str] = set()

    async def on(self, message: Message) -> None:
        """Walk on from a message; of each kind of key one is enough."""
        for made, values in _ways(message):
            action, args = split(made)
            assert action is not None, made
            self.seen.add(action)
            step = f"{action} {len(args)} {bool(values)}"
            if step not in self._pressed and not ACTIONS[action].writes:
                self._pressed.add(step)
                await self._read(await self.asking.ask(made, self.who, values=values, **self.more))

    async def _read(self, answer: Answer) -> None:
        if isinstance(answer, Open):
            action, _ = split(answer.form.key)
            assert action is not None
            self.seen.add(action)
        else:
            await self.on(answer.message)


def _ways(message: Message) -> Iterable[tuple[str, tuple[str, ...]]]:
    for row in message.rows:
        if isinstance(row, tuple):
            yield from ((one.key, ()) for one in row if not one.disabled)
        elif isinstance(row, Select):
            yield row.key, (row.choices[0].value,)
        else:
            yield row.key, ()


def typed(*audiences: Audience) -> set[AnyKey]:
    """What the commands shown to somebody ask for."""
    return {one.action for one in COMMANDS if one.audience in audiences and one.action not in TYPED}


async def walked(asking: Asking, who: int, first: str, **more: Any) -> set[AnyKey]:
    walk = Walk(asking, who, **more)
    await walk.on(await asking.message(first, who, **more))
    return walk.seen


async def put(asking: Asking, state: State) -> None:
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await tryouts.set_state(db, tryout.id, state)
        brief = None if state in ("drafting", "signup") else schedule_of(tryout).brief.isoformat()
        await db.run("UPDATE tryout SET brief_at = ?", brief)


async def test_coaches_reach_everything_from_the_office(begin: Begin, nobody: Asking) -> None:
    seen = await walked(nobody, COACH, "office")
    asking, _ = await whole(begin, 3, practice=PRACTICE)
    async with asking.store.write() as db:
        await db.run("DELETE FROM started_event")
    for state in SEASON[:-1]:
        await put(asking, state)
        seen |= await walked(asking, COACH, "office")
    await asking.ask(button(await asking.message("results.announce"), "Announce now").key)
    seen |= await walked(asking, COACH, "office")
    wanted = COACHES | typed("managers") | set(OFFICE_PARTS.values()) - {Key.OFFICE}
    assert wanted - seen - {Key.OFFICE} == set()


async def test_students_reach_everything_from_the_sign_up_message_and_their_page(begin: Begin) -> None:
    asking, _ = await whole(begin, 3, "signup", practice=PRACTICE, **handing_in())
    tryout = await asking.tryout()
    seen: set[AnyKey] = set()
    await asking.ask("student.enter:list", KNOWN, fields={"name": "Ada", "section": "7-A"})
    for state in SEASON[1:3]:
        await put(asking, state)
        asking.now = schedule_of(tryout).brief if state == "window" else asking.now
        for who in (CAPTAIN, KNOWN, STRANGER):
            walk = Walk(asking, who)
            await walk.on(sign_up_panel(tryout, schedule_of(tryout).signup_closes, state == "signup"))
            seen |= walk.seen
    assert (STUDENTS | typed("everyone")) - seen == set()


async def test_judges_reach_everything_from_their_list(begin: Begin) -> None:
    evening = await cast(begin, events=handing_in()["events"])
    await evening.open()
    seen = await walked(evening.asking, ADA, "sheets.list", server_id=None)
    assert JUDGES - seen == set()


async def test_helpers_find_their_pages_under_my_squad(begin: Begin) -> None:
    asking, _ = await whole(begin, 3, "judging")
    tryout = await asking.tryout()
    async with asking.store.write() as db:
        await helpers.add_officer(db, tryout.id, KEEPER, "Keeper", "scorekeeper")
        await helpers.add_officer(db, tryout.id, TYPIST, "Typist", "typist")
        await enrol(db, tryout.id, KEEPER, "Keeper")
    page = await asking.message("squad.mine", KEEPER)
    assert page.text.startswith("You are a judge and a scorekeeper of this try-out, so you have no squad.")
    assert {Key.TABLE_FORM, Key.SHEETS_LIST} <= await walked(asking, KEEPER, "squad.mine")
    assert Key.PAPER_ENTER in await walked(asking, TYPIST, "squad.mine")
    assert (await asking.message("squad.mine", COACH)).text.startswith("You are a coach of this try-out")
    assert Key.JUDGES_PANEL in await walked(asking, COACH, "squad.mine")
