"""Who helps to run the try-out: coaches, scorekeepers and typists are enrolled and dismissed."""

from bot.actions.core.audit import actor_of, audit
from bot.actions.core.dispatch import act, view
from bot.actions.squads.exclusive_roles import check_may_help
from bot.rules.core.picked_server_members import check_people
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.office.helpers import check_may_dismiss
from bot.words.core.action_keys import ActionKey
from bot.words.office import helpers as words
from storage.records.message import Answer, Replace
from storage.records.people import Officer
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import helpers
from storage.tables.sql_session import Snapshot, Transaction


@view(ActionKey.PEOPLE_HELPERS, "coach")
async def coaches_and_helpers(db: Snapshot, tryout: Tryout, request: Request, page: int = 0) -> Answer:
    """Show coaches, scorekeepers and typists."""
    return Replace(message=words.helpers(await helpers.officers(db, tryout.id), page))


@act(ActionKey.PEOPLE_COACH, "coach")
async def add_coaches(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Enrol coaches."""
    return await _add(db, tryout, request, "coach")


@act(ActionKey.PEOPLE_SCOREKEEPER, "coach")
async def add_scorekeepers(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Enrol scorekeepers."""
    return await _add(db, tryout, request, "scorekeeper")


@act(ActionKey.PEOPLE_TYPIST, "coach")
async def add_typists(db: Transaction, tryout: Tryout, request: Request) -> Answer:
    """Enrol people who type in paper sheets."""
    return await _add(db, tryout, request, "typist")


async def _add(db: Transaction, tryout: Tryout, request: Request, role: str) -> Answer:
    check_people(request.people)
    people = request.people
    await check_may_help(db, tryout, people)
    for person in people:
        await helpers.add_officer(db, tryout.id, person.id, person.name, role)
        await audit(db, tryout, request, f"helper.{role}", person=actor_of(tryout, person.id))
    said = words.added([person.name for person in people], role)
    return Replace(message=words.helpers(await helpers.officers(db, tryout.id), said=said))


@act(ActionKey.PEOPLE_DISMISS, "coach")
async def dismiss(db: Transaction, tryout: Tryout, request: Request, *, picked: str) -> Answer:
    """Take the office from someone; the last coach does not dismiss the own person by mistake."""
    role, _, person = picked.partition("/")
    officers = await helpers.officers(db, tryout.id)
    one = _officer(officers, role, person)
    coaches = sum(officer.role == "coach" for officer in officers)
    check_may_dismiss(role, coaches, request.manages_server)
    await helpers.remove_officer(db, tryout.id, one.platform_id, role)
    await audit(db, tryout, request, f"helper.not-{role}", person=actor_of(tryout, one.platform_id))
    said = words.dismissed(one.name, role)
    return Replace(message=words.helpers(await helpers.officers(db, tryout.id), said=said))


def _officer(officers: list[Officer], role: str, person: str) -> Officer:
    for one in officers:
        if one.role == role and str(one.platform_id) == person:
            return one
    raise Refusal(Reason.OUT_OF_DATE)
