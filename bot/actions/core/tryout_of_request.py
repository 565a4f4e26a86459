"""Which try-out a request is about: the class server's, or in direct messages the one that a judge of several means."""

from bot.actions.core.arguments import Arguments, read
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey, AnyKey
from storage.records.request import Request
from storage.records.tryout import Tryout
from storage.tables import tryout_of_judge, tryouts
from storage.tables.sql_session import Snapshot

PICKED: dict[AnyKey, str] = {ActionKey.SHEETS_LOOK: "sheet_id", ActionKey.SHEETS_TIE_ASK: "squad_id"}
"""What is picked from the lists that judges find in their private messages."""


async def tryout_of(db: Snapshot, request: Request, key: AnyKey, takes: Arguments) -> Tryout | None:
    """The try-out a request is about: the class server's, or in a direct message one that the person judges in.

    Whoever judges in several says which one by what is pressed: by the sheet, squad or entry that it is about, by the
    message that it stands under, or by what was chosen last.

    Raises:
        Refusal: `which_tryout`, when none of these says it.
    """
    if request.server_id is not None:
        return await tryouts.running(db, request.server_id)
    found = await tryout_of_judge.tryouts_judged_by(db, request.who)
    if len(found) < 2:
        return found[0] if found else None
    meant = await _meant(db, request, key, takes)
    for one in found:
        if one.id == meant:
            return one
    raise Refusal(Reason.WHICH_TRYOUT, tryouts=tuple(found))


async def _meant(db: Snapshot, request: Request, key: AnyKey, takes: Arguments) -> int | None:
    """The id of the try-out that a judge means in a direct message; None when nothing says it."""
    positional, chosen = read(takes, request.args, request.values)
    said = dict(zip(takes.names, positional, strict=False))
    if key in PICKED and "picked" in chosen:
        said[PICKED[key]] = chosen["picked"]
    for name, about in said.items():
        if name in tryout_of_judge.NAMES_TRYOUT and isinstance(about, int):
            return await tryout_of_judge.tryout_named(db, name, about)
    of_message = None if request.message_id is None else await tryout_of_judge.tryout_of_message(db, request.message_id)
    return of_message or await tryout_of_judge.tryout_chosen(db, request.who)
