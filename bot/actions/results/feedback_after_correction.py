"""After a corrected result: feedback that was sent for the earlier one counts as not sent, where it has to change."""

from collections.abc import Mapping

from bot.rules.results.feedback_after_correction import what_becomes_of
from storage.records.tryout import Tryout
from storage.tables import squad_feedback
from storage.tables.sql_session import Transaction


async def feedback_outdated(db: Transaction, tryout: Tryout, drafts: Mapping[int, str]) -> int:
    """Deal with the feedback of every squad; returns how many have feedback to be sent again.

    `drafts` are those of the corrected result, by squad id.
    """
    found = 0
    for one in (await squad_feedback.feedbacks(db, tryout.id)).values():
        becomes = what_becomes_of(one, drafts.get(one.squad_id))
        if becomes == "drafted anew":
            await squad_feedback.forget_feedback(db, one.squad_id)
        elif becomes == "read again":
            await squad_feedback.feedback_not_sent(db, one.squad_id)
        found += becomes != "stays"
    return found
