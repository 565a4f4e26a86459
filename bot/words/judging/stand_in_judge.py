"""Who takes over where a judge may not mark a squad: as the coach reads it, and as it is told to that judge."""

from collections.abc import Sequence

from bot.rules.judging.my_sheets import Entry
from bot.words.core.buttons import MY_SHEETS
from bot.words.core.lists_in_text import listing
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, posted
from bot.words.core.text_as_file import whole_message
from bot.words.judging.judges_overview import who
from bot.words.judging.my_sheets import onward
from storage.records.message import Message
from storage.records.people import Judge, Squad


def took_over(instead: Sequence[Judge | None]) -> str:
    """Who takes the places that became free, as sentences."""
    names = list(dict.fromkeys(who(one) for one in instead if one is not None))
    text = f" {listing(names)} {'takes' if len(names) == 1 else 'take'} over." if names else ""
    if None in instead:
        text += " **No other judge is free for it**: the squad now has one judge fewer."
    return text


@posted(Sign.JUDGING)
def more_squads(squads: Sequence[Squad], entries: Sequence[Entry]) -> Message:
    """Told to a judge who takes squads over."""
    names = listing([f"**{escape(squad.name)}**" for squad in squads])
    how_many, them = ("One more squad", "it") if len(squads) == 1 else (f"{len(squads)} more squads", "them")
    return whole_message(
        f"{how_many} for you: {names}. Another judge could not mark {them}. Thank you!",
        ((*onward(entries), MY_SHEETS),),
    )
