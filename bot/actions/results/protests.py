"""A captain questions how something was run or added up; two coaches decide, and nothing is final before."""

from typing import Literal

from bot.actions.core.audit import audit
from bot.actions.core.changed_meanwhile import Noted, overtaken
from bot.actions.core.dispatch import act, view
from bot.actions.results.finality import look_again
from bot.actions.squads.asking_student import my_squad_of
from bot.actions.squads.members import by_squad
from bot.actions.squads.squads_changed import tell_squad
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons_results import ResultReason
from bot.rules.core.typed_reason import reason_of
from bot.rules.results import protests as rules
from bot.words.core.changed_meanwhile import stamped
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.written_given_back import given_back
from bot.words.results import protests as words
from storage.records.message import Answer, Open, Replace, Say
from storage.records.people import Squad
from storage.records.request import Request
from storage.records.results import Protest
from storage.records.tryout import Tryout
from storage.tables import outbox, protests, squads
from storage.tables.sql_session import Snapshot, Transaction


@view(ClassKey.PROTEST)
async def ask_protest(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Open the form in which a captain protests."""
    await _check_may_file(db, tryout, request)
    return Open(form=words.protest_form())


@act(ClassKey.PROTESTED)
async def file(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Keep a protest, and tell the coaches and the squad."""
    return await _file(db, tryout, request, await _check_may_file(db, tryout, request))


@view(ClassKey.PROTEST_FOR, "coach")
async def ask_for_squad(db: Snapshot, tryout: Tryout, request: Request, *, picked: int) -> Answer:
    """Open the form in which a coach writes down the protest of a squad whose captain has no account."""
    return Open(form=words.protest_form(await _check_may_file_for(db, tryout, request, picked)))


@act(ClassKey.PROTEST_FOR_FILED, "coach")
async def file_for_squad(db: Transaction, tryout: Tryout, request: Request, squad_id: int) -> Answer:
    """Keep what such a squad has said."""
    return await _file(db, tryout, request, await _check_may_file_for(db, tryout, request, squad_id), by_coach=True)


async def _file(db: Transaction, tryout: Tryout, request: Request, squad: Squad, by_coach: bool = False) -> Answer:
    text = " ".join(request.field("text").split())
    rules.check_text(text)
    protest_id = await protests.file_protest(db, tryout.id, squad.id, text, request.at)
    await outbox.enqueue(db, tryout.id, "office", words.to_office(protest_id, squad), request.at)
    await tell_squad(db, tryout, squad, words.filed_in_room(), request)
    await audit(db, tryout, request, "protest.filed", protest=protest_id, squad=squad.id)
    return Say(message=words.filed(by_coach))


async def _check_may_file(db: Snapshot, tryout: Tryout, request: Request) -> Squad:
    me, squad, _ = await my_squad_of(db, tryout, request)
    _check_days(tryout, request)
    rules.check_captain(squad, me.id)
    await _check_number(db, tryout, request, squad)
    return squad


async def _check_may_file_for(db: Snapshot, tryout: Tryout, request: Request, squad_id: int) -> Squad:
    _check_days(tryout, request)
    squad = next((one for one in await _without_account(db, tryout) if one.id == squad_id), None)
    if squad is None:
        raise Refusal(ResultReason.PROTEST_CAPTAIN)
    await _check_number(db, tryout, request, squad)
    return squad


async def _without_account(db: Snapshot, tryout: Tryout) -> list[Squad]:
    """The squads whose captain has no account, so that a coach writes for them."""
    return [squad for squad, members in await by_squad(db, tryout) if squad and rules.coach_writes(squad, members)]


def _check_days(tryout: Tryout, request: Request) -> None:
    rules.check_time(tryout.plan, tryout.state, tryout.announced_at, request.at, _written(request))


async def _check_number(db: Snapshot, tryout: Tryout, request: Request, squad: Squad) -> None:
    rules.check_number(await protests.protests(db, tryout.id), squad.id, _written(request))


def _written(request: Request) -> str:
    """What the form had, so that nothing is lost where it is refused; empty before it is filled in."""
    return given_back(request.fields.get("text", ""))


@view(ClassKey.PROTESTS, "coach")
async def register(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Show the register."""
    found, names = await protests.protests(db, tryout.id), await _names(db, tryout)
    runs = rules.protests_run(tryout.plan, tryout.state, tryout.announced_at, request.at)
    return Replace(message=words.register(found, names, await _without_account(db, tryout) if runs else ()))


@view(ClassKey.PROTEST_ONE, "coach")
async def one_protest(
    db: Snapshot, tryout: Tryout, request: Request, protest_id: int = 0, *, picked: int | None = None
) -> Answer:
    """Show one protest, picked from the register or from the notice in the office."""
    one = await _protest(db, tryout, picked or protest_id)
    return Say(message=words.one_protest(one, await _names(db, tryout), rules.proposed_by(one, request.who)))


@view(ClassKey.PROTEST_WHY, "coach")
async def ask_reason(
    db: Snapshot, tryout: Tryout, request: Request, protest_id: int, verdict: Literal["upheld", "rejected"]
) -> Answer:
    """Open the form for the reason of a verdict."""
    one = await _open_protest(db, tryout, protest_id)
    return Open(form=stamped(words.verdict_form(one, verdict)))


@act(ClassKey.PROTEST_PROPOSED, "coach")
async def propose(
    db: Transaction,
    tryout: Tryout,
    request: Request,
    protest_id: int,
    verdict: Literal["upheld", "rejected"],
    stamp: str = "",
) -> Answer:
    """Note what one coach would decide, if nobody else has meanwhile; it stands once a second one agrees."""
    one = await _open_protest(db, tryout, protest_id)
    now, opens = words.verdict_form(one, verdict), (ClassKey.PROTEST_WHY, one.id, verdict)
    noted = Noted(("protest.proposed",), {"protest": one.id})
    if (told := await overtaken(db, tryout, request, now, stamp, opens, noted)) is not None:
        return told
    await protests.propose(db, one.id, verdict, reason_of(request), request.who)
    await outbox.enqueue(db, tryout.id, "office", words.second_needed(one.id), request.at)
    await audit(db, tryout, request, "protest.proposed", protest=one.id, verdict=verdict)
    return Say(message=words.one_protest(await _protest(db, tryout, one.id), await _names(db, tryout), True))


@act(ClassKey.PROTEST_AGREED, "coach")
async def agree(db: Transaction, tryout: Tryout, request: Request, protest_id: int, seen: str = "") -> Answer:
    """A second coach agrees: the squad is told, and what waited for the last protest is final.

    `seen` is the fingerprint of the decision that was read: nobody agrees to what was changed meanwhile.
    """
    one = await _open_protest(db, tryout, protest_id)
    rules.check_second_coach(one, request.who)
    if seen != words.fingerprint(one):
        return Replace(message=words.one_protest(one, await _names(db, tryout), False, changed=True))
    await protests.agree(db, one.id, request.at)
    squad = await squads.squad(db, one.squad_id)
    assert squad is not None
    await tell_squad(db, tryout, squad, words.decided_in_room(one), request)
    await audit(db, tryout, request, "protest.decided", protest=one.id, verdict=one.verdict)
    left = await protests.count_open(db, tryout.id)
    if rules.makes_final(one, left, tryout.plan, tryout.announced_at, request.at):
        await look_again(db, tryout, request.at)
    by_coach = squad.id in {each.id for each in await _without_account(db, tryout)}
    return Replace(message=words.decided(one, squad, by_coach))


async def _protest(db: Snapshot, tryout: Tryout, protest_id: int) -> Protest:
    one = await protests.protest(db, tryout.id, protest_id)
    if one is None:
        raise Refusal(ResultReason.PROTEST_GONE)
    return one


async def _open_protest(db: Snapshot, tryout: Tryout, protest_id: int) -> Protest:
    one = await _protest(db, tryout, protest_id)
    rules.check_undecided(one)
    return one


async def _names(db: Snapshot, tryout: Tryout) -> dict[int, str]:
    return {squad.id: squad.name for squad in await squads.squads_ever(db, tryout.id)}
