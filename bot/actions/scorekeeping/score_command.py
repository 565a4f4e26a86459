"""An attempt in one command, and what is suggested while it is typed."""

from itertools import compress

from bot.actions.core.dispatch import view
from bot.actions.scorekeeping.attempts import check_due, read_back
from bot.actions.scorekeeping.recorded_so_far import measure_of, measures_shown, spot_of
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.rules.scorekeeping import score_command as rules
from bot.rules.scorekeeping.attempts import which_attempt
from bot.rules.scorekeeping.may_record import check_open
from bot.rules.squads.find_student_or_squad import squad_called
from bot.words.core.action_keys import ActionKey
from bot.words.core.slash_command_texts import suggestions
from bot.words.scorekeeping import score_command as words
from bot.words.scorekeeping import score_table as table_words
from storage.records.message import Answer, Say
from storage.records.people import Squad
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import squads
from storage.tables.sql_session import Snapshot


@view(ActionKey.TABLE_SCORE, "scorekeeper")
async def score(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Read back an attempt that was typed as one command."""
    check_open(tryout)
    about = request.field("measure")
    _, measure = await measure_of(db, tryout, about)
    squad = await squad_named(db, tryout, request.field("squad"))
    spot = await spot_of(db, tryout, about, squad.id)
    number, run_off = which_attempt(len(spot.attempts), len(spot.run_offs), spot.allowed)
    await check_due(db, tryout, spot, number, run_off)
    values = rules.from_line(measure, request.field("value"))
    return Say(message=await read_back(db, request, spot, number, run_off, values))


@view(ActionKey.TABLE_SUGGEST_SQUAD, "scorekeeper")
async def suggest_squad(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Squads that fit what has been typed so far."""
    fitting = rules.squads_suggested(request.fields.get("typed", ""), await squads.squads(db, tryout.id))
    return Say(message=words.squads_suggested(fitting))


@view(ActionKey.TABLE_SUGGEST_MEASURE, "scorekeeper")
async def suggest_measure(db: Snapshot, tryout: Tryout, request: Request) -> Answer:
    """Measures that fit what has been typed so far."""
    choices = table_words.measure_choices(await measures_shown(db, tryout))
    fitting = rules.measures_suggested(request.fields.get("typed", ""), [one.label for one in choices])
    return Say(message=suggestions(tuple(compress(choices, fitting))))


async def squad_named(db: Snapshot, tryout: Tryout, said: str) -> Squad:
    """The squad with this number or name; Refusal `no_squad`."""
    found = squad_called(said, await squads.squads(db, tryout.id))
    if found is None:
        raise Refusal(Reason.NO_SQUAD, typed=said)
    return found
