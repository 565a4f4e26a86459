"""Judges who know someone in a squad: declared by themselves, set by the coach, and who takes over."""

from collections.abc import Collection, Mapping, Sequence
from functools import partial

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import MY_SHEETS
from bot.words.core.changed_meanwhile import LIST_CHANGED
from bot.words.core.choices import PAGE, choice, list_page
from bot.words.core.custom_ids import key, shown_stamp
from bot.words.core.number_text import count
from bot.words.core.pages import turning, within
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from bot.words.judging.judges_overview import HOME, who
from bot.words.judging.stand_in_judge import took_over
from storage.records.judging import TieOfInterest
from storage.records.message import Button, Message, Select
from storage.records.people import Judge, Squad

REFUSALS = {
    Reason.TIE_TOO_LATE: "You have handed in your sheet for **{squad}** already. Tell your coach, who can take it out.",
    Reason.TIE_CLOSED: "Judging is closed, so nobody can step back from a squad any more. Do you know someone in a "
    "squad that you have marked? Tell your coach.",
    Reason.TIE_KNOWN: "That is noted already: you do not mark **{squad}**.",
    Reason.TIE_SQUAD_GONE: "That squad no longer takes part.",
}


def which(squads: Sequence[Squad], page: int) -> Message:
    """Ask a judge in which squad they know someone."""
    if not squads:
        return Message(text="There is no squad left to step back from. If something is wrong, tell your coach.")
    choices = [choice(one.id, one.name) for one in squads]
    turn = partial(key, ActionKey.SHEETS_TIE)
    listed = list_page(choices, page, "Pick the squad", key(ActionKey.SHEETS_TIE_ASK), turn)
    return Message(
        text="In which squad do you know someone well: family, a close friend, someone you have helped with this? "
        "You then do not mark that squad; other judges do. You need not say why.",
        rows=listed.rows,
    )


def conflicts_sure(squad: Squad, marked: bool) -> Message:
    """Ask a judge once before stepping back."""
    kept = " What you have marked there does not count then." if marked else ""
    return Message(
        text=f"Step back from **{escape(squad.name)}**?{kept} Only your coach can undo this.",
        rows=(
            (
                Button(key=key(ActionKey.SHEETS_TIED, squad.id), label="Yes, step back", style="main"),
                MY_SHEETS,
            ),
        ),
    )


def thanks(squad: Squad) -> Message:
    """The judge has stepped back."""
    return Message(
        text=f"Thank you for saying so. You do not mark **{escape(squad.name)}**.",
        rows=((MY_SHEETS,),),
    )


def stepped_back(judge: Judge, squad: Squad, instead: Sequence[Judge | None]) -> Message:
    """Told in the office: a judge has stepped back, and who takes over (None: nobody is free)."""
    text = f"{who(judge)} knows someone in **{escape(squad.name)}** and does not mark it."
    return Message(text=text + took_over(instead), rows=((Button(key=key(ActionKey.PANELS_PANEL), label="Panels"),),))


def conflicts_panel(
    judges: Sequence[Judge], squads: Mapping[int, Squad], ties: Sequence[TieOfInterest], page: int = 0, done: str = ""
) -> Message:
    """All squads in which judges know someone, for the coach."""
    lines = [done] if done else []
    lines.append(
        "**Knows a squad.** Nobody marks a squad in which they know someone. Judges say so; you can set it, too."
    )
    for judge in judges:
        own = [one for one in ties if one.judge_id == judge.id and one.squad_id in squads]
        if own:
            said = [escape(squads[one.squad_id].name) + (" (own word)" if one.set_by == "judge" else "") for one in own]
            lines.append(f"- {who(judge)}: {', '.join(said)}")
    if not ties:
        lines.append("No judge knows anybody so far.")
    choices = [choice(one.id, one.name, f"Judge {one.number}") for one in judges]
    turn = partial(key, ActionKey.TIES_PANEL)
    listed = list_page(choices, page, "Which squads does a judge know?", key(ActionKey.TIES_JUDGE), turn)
    return whole_message("\n".join(lines), (*listed.rows, (HOME,)), foot=listed.line)


def on_page(squads: Sequence[Squad], page: int) -> Sequence[Squad]:
    """The squads on one page."""
    return squads[page * PAGE : (page + 1) * PAGE]


def stamp_of(shown: Sequence[Squad], tied: Collection[int]) -> str:
    """What a list carries of what it shows: somebody may have stepped back since, and that must not be undone."""
    return shown_stamp([(one.id, one.id in tied) for one in shown])


def of_judge(judge: Judge, squads: Sequence[Squad], tied: Collection[int], page: int, changed: bool = False) -> Message:
    """Set the squads of one judge, a page of 25 at a time; `changed`: the list that was sent showed something else."""
    back = Button(key=key(ActionKey.TIES_PANEL), label="Back")
    if not squads:
        return Message(text="There are no squads yet.", rows=((back,),))
    pages = -(-len(squads) // PAGE)
    page = within(page, pages)
    shown = on_page(squads, page)
    choices = tuple(choice(one.id, one.name, chosen=one.id in tied) for one in shown)
    pick = Select(
        key=key(ActionKey.TIES_SET, judge.id, page, stamp_of(shown, tied)),
        prompt="Squads in which they know someone",
        choices=choices,
        least=0,
        most=len(choices),
    )
    return Message(
        text=f"{LIST_CHANGED if changed else ''}**{who(judge)}**: in which squads do they know someone? "
        f"{count(len(tied), 'squad')} so far.\n"
        "Pick all of them; take the mark off a squad in which they know nobody after all.",
        rows=(pick, (*turning(ActionKey.TIES_JUDGE, page, pages, judge.id), back)),
    )
