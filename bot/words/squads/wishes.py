"""Private wishes of students without a squad."""

from collections.abc import Sequence

from bot.rules.core.refusal_reasons import Reason
from bot.words.core.changed_meanwhile import LIST_CHANGED
from bot.words.core.choices import PAGE, choice
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key, shown_stamp
from bot.words.core.lists_in_text import listing
from bot.words.core.pages import page_line, turning, within
from bot.words.core.plain_text import escape
from bot.words.core.who_reads import who_reads
from storage.records.message import Message, Row, Select
from storage.records.people import Student
from storage.records.wishes_and_proposals import StoredWish

REFUSALS = {
    Reason.WISHES_HAVE_SQUAD: "You are in a squad already. Wishes are for students without one.",
}


def on_page(others: Sequence[Student], page: int) -> Sequence[Student]:
    """The students of one page."""
    return others[page * PAGE : (page + 1) * PAGE]


def stamp_of(shown: Sequence[Student]) -> str:
    """What a list carries of the names in it: who was not in it, because somebody came or left, is not chosen about."""
    return shown_stamp([one.id for one in shown])


def page(others: Sequence[Student], wishes: Sequence[StoredWish], page: int, changed: bool = False) -> Message:
    """My wishes, and the section to choose from, a page at a time; `changed`: the list that was sent was another."""
    names = {one.id: escape(one.name) for one in others}
    by_kind = {
        together: [names[wish.other_id] for wish in wishes if wish.together == together and wish.other_id in names]
        for together in (True, False)
    }
    lines = [
        f"{LIST_CHANGED if changed else ''}**Who would you like to be with?** When your coach puts squads together, "
        "I try to keep these wishes. "
        f"I cannot promise it. {who_reads('wish', 'them')}",
        f"With: {listing(by_kind[True]) or 'nobody yet'}",
        f"Rather not with: {listing(by_kind[False]) or 'nobody'}",
    ]
    if not others:
        return Message(text="\n".join([*lines, "You are the first of your section."]))
    pages = -(-len(others) // PAGE)
    page = within(page, pages)
    shown = on_page(others, page)
    turn = turning(ClassKey.WISHES_PAGE, page, pages)
    together, apart = ({one.other_id for one in wishes if one.together is kind} for kind in (True, False))
    rows: tuple[Row, ...] = (
        _select(ClassKey.WISH_WITH, "With", page, shown, together),
        _select(ClassKey.WISH_NOT, "Rather not with", page, shown, apart),
        *((turn,) if turn else ()),
    )
    return Message(text="\n".join(lines) + page_line(page, pages), rows=rows)


def _select(action: ClassKey, prompt: str, page: int, shown: Sequence[Student], chosen: set[int]) -> Select:
    choices = tuple(choice(one.id, one.name, chosen=one.id in chosen) for one in shown)
    return Select(key=key(action, page, stamp_of(shown)), prompt=prompt, choices=choices, least=0, most=len(choices))
