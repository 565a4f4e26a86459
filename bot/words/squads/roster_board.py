"""The roster board: the squads of every section with their members, live, for the whole class."""

from collections.abc import Sequence

from bot.rules.squads.code_names import LONGEST, code_name
from bot.rules.squads.roster_board import Roster, missing_or_free, needing_squad, seated, squads_of, with_names
from bot.words.core.number_text import count
from bot.words.core.pages import pages
from bot.words.core.plain_text import escape
from bot.words.core.signs import Sign, signed
from bot.words.squads.captain import marked
from storage.records.message import MESSAGE_LENGTH, Message
from storage.records.people import Squad, Student
from storage.records.plan import Plan

HEAD_LETTERS, SECTION_LETTERS, SQUAD_LETTERS, STUDENT_LETTERS = 100, 45, 45, 2
"""No less than what stands around the names: above all, around a section, a squad, a student."""


def boards(plan: Plan, roster: Roster) -> list[Message]:
    """The board, in as many messages as its length needs; sections are kept together where they fit."""
    squads, students = seated(roster)
    head = signed(Sign.SIGN_UP, "**Squads so far**")
    blocks = [f"{head}\n{count(squads, 'squad')}, {count(students, 'student')} in a squad"]
    for section in plan.sections:
        lines = [_line(plan, squad, members) for squad, members in squads_of(roster, section)]
        looking = needing_squad(roster, section)
        if looking:
            lines.append(f"{count(looking, 'student')} {'needs' if looking == 1 else 'need'} a squad")
        if lines:
            blocks.append(f"**Section {escape(section)}**\n" + "\n".join(lines))
    return [Message(text=text) for text in pages(blocks)]


def _on_board(plan: Plan, one: Student) -> str:
    """Under what a student stands on the board."""
    return escape(one.name) if with_names(plan) else code_name(one.id)


def most_boards(plan: Plan, squads: int, students: int, letters: int) -> int:
    """At least as many messages as `boards` makes of so many squads, students and letters in all their names.

    Two messages in a row hold more letters than fit into one: what begins the second did not fit into the first.
    """
    sections = sum(SECTION_LETTERS + 2 * len(section) for section in plan.sections)
    length = HEAD_LETTERS + sections + SQUAD_LETTERS * squads + STUDENT_LETTERS * students + 2 * letters
    if not with_names(plan):
        length += LONGEST * students
    return 2 * (length // (MESSAGE_LENGTH - 1)) + 1


def _line(plan: Plan, squad: Squad, members: Sequence[Student]) -> str:
    names = ", ".join(marked(_on_board(plan, one), one.id, squad) for one in members)
    missing, free = missing_or_free(plan, members)
    if missing:
        state = f"needs {missing} more"
    elif free:
        state = count(free, "free seat")
    else:
        state = "full"
    return f"- **{escape(squad.name)}**: {names or 'nobody yet'} ({state})"
