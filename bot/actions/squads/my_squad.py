"""My squad, the student's own page."""

from datetime import datetime

from bot.actions.core.dispatch import act, view
from bot.actions.core.roles import roles
from bot.actions.core.schedule_cache import schedule_of
from bot.actions.practice.practice_table import table_of
from bot.actions.squads.asking_student import is_open, me_of, my_squad_of
from bot.actions.squads.exclusive_roles import would_help
from bot.actions.squads.proposal_answers import offered
from bot.rules.calendar.school_days import school_days_left
from bot.rules.hand_in import member_parts as hand_in_rules
from bot.rules.questions.squad_asks import asking_is_open
from bot.rules.results.protests import protests_run
from bot.rules.squads import my_squad as rules
from bot.rules.squads.members import as_they_joined
from bot.words.core.action_keys import ActionKey
from bot.words.practice import booking as booking_words
from bot.words.practice import share_and_leftover_turns as share_words
from bot.words.squads import my_squad as words
from storage.records.message import Answer, Message, Replace, Say
from storage.records.people import Squad, Student
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import day_draw, day_timetable, member_parts, mixed_team, squad_room_members, students
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.SQUAD_MINE)
async def mine(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show my squad, what is left to do, and what I may do; to who helps to run the try-out, their own pages."""
    held = await roles(db, tryout, request)
    if rules.leads_to_own_pages(held):
        return Say(message=words.helpers_page(held))
    me = await me_of(db, tryout, request)
    proposed = await offered(db, tryout, me) if me is not None else None
    return Say(message=proposed or await _page(db, tryout, request))


@view(ActionKey.SQUAD_KEEP)
async def my_squad_keep(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Go back from a question to my squad."""
    return Replace(message=await _page(db, tryout, request))


@act(ActionKey.SQUAD_ROOM)
async def show_in_again(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Put me into my squad's room anew: who left the class server and came back is in it no more, unseen by us."""
    _, squad, _ = await my_squad_of(db, tryout, request)
    await squad_room_members.show_in_again(db, squad.id, request.who)
    return Say(message=words.shown_in_again(squad))


async def _page(db: Snapshot, tryout: Tryout, request: Request) -> Message:
    me, squad, members = await my_squad_of(db, tryout, request)
    doings = await _doings(db, tryout, request, squad, me)
    return words.my_squad_page(tryout.plan, squad, as_they_joined(members), me, doings, is_open(tryout, request))


async def _doings(db: Snapshot, tryout: Tryout, request: Request, squad: Squad, me: Student) -> words.Doings:
    """What a squad still has before it at this moment."""
    schedule = schedule_of(tryout)
    running = rules.due_is_shown(tryout.state, request.at, schedule.deadline)
    pieces = hand_in_rules.pieces_out(tryout.plan, tryout.brief_at is not None)
    parts = {
        piece.name: frozenset(await member_parts.parts(db, squad.id, piece.key))
        for piece in (pieces if running else ())
    }
    table = await table_of(db, tryout) if running else None
    may_change = is_open(tryout, request)
    return words.Doings(
        place=rules.place_is_shown(tryout.state, await mixed_team.offer_of(db, me.id)),
        protest=protests_run(tryout.plan, tryout.state, tryout.announced_at, request.at),
        alone=await students.count_alone(db, tryout.id, squad.section) if may_change else 0,
        to_read=running and tryout.brief_at is not None,
        parts=parts,
        parts_to_see=rules.parts_can_be_seen(tryout.state, len(pieces)),
        turns=rules.to_come(table.held(squad.id), request.at) if table else None,
        book=booking_words.book_button(table, squad.id, request.at) if table else None,
        more_turns=share_words.more_turns(table, squad.id, request.at) if table else "",
        day=await _day(db, tryout, request, squad),
        questions=asking_is_open(tryout.state),
        deadline=schedule.deadline if running else None,
        helps=await would_help(db, tryout, request),
        comes_next=rules.comes_next(tryout.state),
        school_days=school_days_left(tryout.plan, schedule.deadline, request.at),
    )


async def _day(db: Snapshot, tryout: Tryout, request: Request, squad: Squad) -> tuple[datetime, ...]:
    """When a squad is due on the event day, from now on; nothing before squads were told their times."""
    draw = await day_draw.draw(db, tryout.id)
    if draw is None:
        return ()
    return rules.day_times(await day_timetable.slots(db, tryout.id), squad.id, draw.told_at, request.at)
