"""The class list as the coach sees it: counted by section, yes and no by squad, who has not come; its removal."""

from collections.abc import Mapping, Sequence
from functools import partial

from bot.rules.class_list.class_list_admin import come_by_section, yes_of_signed_up
from bot.rules.core.refusal_reasons import Reason
from bot.words.core.buttons import BACK, PEOPLE
from bot.words.core.choices import PAGE, choice, list_page
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.lists_in_text import first_few, listing
from bot.words.core.number_text import count
from bot.words.core.plain_text import escape
from bot.words.core.text_as_file import whole_message
from bot.words.core.who_reads import who_reads
from storage.records.class_list import ClassList, ClassListEntry
from storage.records.message import Button, Message, Row
from storage.records.people import Student

ATTACH = Button(key=key(ClassKey.LIST_FILE), label="Attach a class list", style="main")

PANEL = Button(key=key(ClassKey.LIST_PANEL), label="Class list")

REFUSALS = {
    Reason.LIST_GONE: "There is no such name on the class list any more. Open **Class list** again.",
}

MOST_STRANGERS_NAMED = 10
"""Students who have signed up without being on the list; the others are counted."""


def panel(
    one: ClassList,
    entries: Sequence[ClassListEntry],
    waiting: int,
    strangers: Sequence[Student],
    said: str = "",
) -> Message:
    """The list in numbers; `strangers` have signed up without being on it."""
    here = sum(entry.student_id is not None for entry in entries)
    lines = ["**Class list**", f"{count(len(entries), 'name')}; signed up: {here}, not yet: {len(entries) - here}."]
    lines += [f"- section {escape(section)}: {come} of {names}" for section, come, names in come_by_section(entries)]
    lines += [f"- {escape(column)}: {_yes_of(entries, column)}" for column in one.columns]
    if strangers:
        few = first_few([escape(student.name) for student in strangers], MOST_STRANGERS_NAMED)
        lines.append(
            f"Signed up, but not on the list: {few}. Correct the name under **Students**, or leave them as they are."
        )
    if said:
        lines += ["", said]
    waits = Button(key=key(ClassKey.LIST_WAITING, 0), label=f"Waiting: {waiting}", style="main" if waiting else "plain")
    forms = (Button(key=key(ClassKey.LIST_FORMS), label="Yes and no by squad"),) if one.columns else ()
    rows: tuple[Row, ...] = (
        (waits, Button(key=key(ClassKey.LIST_NOT_HERE, 0), label="Not signed up yet"), *forms),
        (
            ATTACH.model_copy(update={"label": "Attach a newer list", "style": "plain"}),
            Button(key=key(ClassKey.LIST_ASK_REMOVE), label="Remove the list", style="danger"),
            PEOPLE,
            BACK,
        ),
    )
    return whole_message("\n".join(lines), rows)


def _yes_of(entries: Sequence[ClassListEntry], column: str) -> str:
    yes, signed = yes_of_signed_up(entries, column)
    return f"yes for {yes} of the {count(signed, 'student')} who have signed up"


def forms(columns: Sequence[str], missing: Mapping[str, Mapping[str, int]]) -> Message:
    """How many have no yes, by column and squad (under an empty name those without a squad)."""
    lines = ["**Yes and no by squad**", who_reads("yes-and-no")]
    for column in columns:
        squads = missing[column]
        lines.append(f"**{escape(column)}**")
        lines += [f"- {number} missing {_where(squad)}" for squad, number in squads.items() if number]
        if not any(squads.values()):
            lines.append("- yes for everybody who has signed up")
    lines.append("-# You change them on a student's page: **People**, **Students**.")
    return whole_message("\n".join(lines), ((PANEL, PEOPLE, BACK),))


def _where(squad: str) -> str:
    return f"in **{escape(squad)}**" if squad else "among students without a squad"


def not_here(entries: Sequence[ClassListEntry], page: int, said: str = "") -> Message:
    """Names that nobody has picked; the coach can enter them, for students without an account."""
    if not entries:
        return Message(text=f"{said}\nEverybody on the list has signed up.".strip(), rows=((PANEL, PEOPLE, BACK),))
    choices = [choice(one.id, one.name, f"section {one.section}") for one in entries]
    pick, turn = key(ClassKey.LIST_ENTER), partial(key, ClassKey.LIST_NOT_HERE)
    listed = list_page(choices, page, "Enter these students", pick, turn, most=PAGE)
    text = (
        f"**Not signed up yet** ({len(entries)})\nWhoever has no account here can be entered by you: pick them. They "
        "then stand among the students, and you place them in a squad."
    )
    return Message(
        text=f"{said}\n{text}".strip() + listed.line, rows=(*listed.select, (*listed.turns, PANEL, PEOPLE, BACK))
    )


def entered(names: Sequence[str]) -> str:
    """The coach has entered students from the list."""
    return f"Entered: {listing([escape(name) for name in names])}."


def no_list() -> Message:
    """There is no list: what that means, and how to attach one."""
    return Message(
        text="**Class list**\nThere is none: anybody on this server can sign up, under any name and in any section.\n"
        "With a list, students pick their own name from it, and whoever is not on it waits for you. To pick one, "
        "anybody on this server can look through the names, whatever stands on the board.\n"
        "The file is a spreadsheet (.xlsx) or CSV. Its first row has the headings **name** and **section**; any other "
        "column holds yes or no (such as “form back”, “photos allowed”). " + who_reads("yes-and-no", "those"),
        rows=((ATTACH, PEOPLE, BACK),),
    )


def sure_to_remove() -> Message:
    """Ask once before the list is erased."""
    yes = Button(key=key(ClassKey.LIST_REMOVED), label="Yes, remove", style="danger")
    return Message(
        text="**Remove the class list?** Its names and yes/no columns are erased, and whoever waits is forgotten. "
        "Students who have signed up stay. Afterwards anybody on this server can sign up again.",
        rows=((yes, PANEL),),
    )
