"""The class list as the coach sees it: attached, counted, and who is not on it."""

from collections.abc import Mapping, Sequence
from functools import partial

from bot.rules.class_list.class_list_admin import MOST_MISTAKES_SHOWN, MOST_STRANGERS_NAMED
from bot.rules.core.class_refusal_reasons import ClassReason
from bot.rules.core.refusal import Refusal
from bot.rules.core.refusal_reasons import Reason
from bot.words.core import refusals
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.choices import PAGE, choice, list_page
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.pages import whole_message
from bot.words.core.plain_text import count, escape, listing
from bot.words.core.who_reads import who_reads
from bot.words.office.helpers import PEOPLE
from storage.records.class_list import ClassList, ClassListEntry, WaitingStudent
from storage.records.message import Button, FileField, Form, Message, Row
from storage.records.people import Student

PANEL = Button(key=key(ClassKey.LIST_PANEL), label="Class list")
ATTACH = Button(key=key(ClassKey.LIST_FILE), label="Attach a class list", style="main")

REFUSALS = {
    Reason.LIST_LARGE: "That file is too large for a class list ({most} MB is the most). Keep only the columns name, "
    "section and yes/no in it.",
    Reason.LIST_LOCKED: "That workbook has a password, so I cannot read it. Save a copy without a password, and attach "
    "that.",
    Reason.LIST_OLD_FORMAT: "That is an old spreadsheet file. Save it as .xlsx or as CSV, and attach that.",
    Reason.LIST_BROKEN: "I cannot read that file: it is no spreadsheet (.xlsx) and no complete CSV file. Save it anew "
    "as .xlsx, and attach that.",
    Reason.LIST_ENCODING: "That file is not written in UTF-8, so names with accents would be spoilt. Save it as .xlsx, "
    "or as “CSV UTF-8”, and attach that.",
    Reason.LIST_EMPTY: "I find no names in that file. Attach a CSV file or a workbook (.xlsx). Its first row has the "
    "headings (name, section), each row below one student.",
    Reason.LIST_ROWS: "That list has more than {most} rows. Keep only the students who may sign up here.",
    Reason.LIST_HEADINGS: "There must be a column with the heading “name” and one with the heading “section”.",
    Reason.LIST_COLUMNS: "There are more than {most} columns beside name and section. Keep only what you need.",
    Reason.LIST_HEADING: "The heading “{heading}” is a formula, or longer than {most} letters.",
    Reason.LIST_HEADING_TWICE: "The heading “{heading}” stands there twice.",
    Reason.LIST_TWICE: "**{name}** of section {section} stands in row {other} already. Add a letter to tell them "
    "apart, or take one out.",
    Reason.LIST_FORMULA: "The name is a formula. Type the name itself.",
    ClassReason.LIST_NO_SECTION: "There is no section in this row. The plan has: {sections}.",
    Reason.LIST_SECTION: "The plan has no section “{section}”. It has: {sections}.",
    Reason.LIST_YES_NO: "The answer “{said}” under “{column}” is neither yes nor no. Write yes, no, or leave it empty.",
    Reason.LIST_GONE: "There is no such name on the class list any more. Open **Class list** again.",
    Reason.WAITING_GONE: "That student waits no more. Open **Class list** again.",
    Reason.NAME_IN_USE: "**{name}** has been picked on the class list already. Let the student in under another name, "
    "or correct the list first.",
}


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


def file_form(replaces: bool) -> Form:
    """Attach the file."""
    hint = "Takes the place of the list there is." if replaces else "Spreadsheet (.xlsx) or CSV: name, section, yes/no."
    return Form(
        key=key(ClassKey.LIST_USE),
        title="Attach a class list",
        fields=(FileField(key="list", label="The class list", hint=hint),),
    )


def mistakes(found: Sequence[tuple[int, Refusal]]) -> Message:
    """Everything that is wrong with the file, by row; nothing has been changed."""
    lines = [f"- Row {row}: {refusals.message(refusal).text}" for row, refusal in found[:MOST_MISTAKES_SHOWN]]
    if len(found) > MOST_MISTAKES_SHOWN:
        lines.append(f"- and {len(found) - MOST_MISTAKES_SHOWN} more")
    text = f"**The list was not taken: {count(len(found), 'mistake')}.** Nothing has changed. Correct the file, then "
    return whole_message(f"{text}attach it again.\n" + "\n".join(lines), ((ATTACH, PEOPLE, BACK),))


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
    for section in sorted({entry.section for entry in entries}):
        inside = [entry for entry in entries if entry.section == section]
        come = sum(entry.student_id is not None for entry in inside)
        lines.append(f"- section {escape(section)}: {come} of {len(inside)}")
    lines += [f"- {escape(column)}: {_yes_of(entries, column)}" for column in one.columns]
    if strangers:
        names = [escape(student.name) for student in strangers[:MOST_STRANGERS_NAMED]]
        more = f" and {len(strangers) - len(names)} more" if len(strangers) > len(names) else ""
        lines.append(
            f"Signed up, but not on the list: {', '.join(names)}{more}. Correct the name under **Students**, or leave "
            "them as they are."
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
    signed = [entry for entry in entries if entry.student_id is not None]
    yes = sum(entry.answers.get(column, False) for entry in signed)
    return f"yes for {yes} of the {count(len(signed), 'student')} who have signed up"


def taken(names: int, linked: int, strangers: int) -> str:
    """The list counts from now on."""
    before = f" Of those who had signed up before, {linked} on it, {strangers} not." if linked or strangers else ""
    return f"The list is in: {count(names, 'name')}.{before} From now on students pick their own name."


def sure_to_remove() -> Message:
    """Ask once before the list is erased."""
    yes = Button(key=key(ClassKey.LIST_REMOVED), label="Yes, remove", style="danger")
    return Message(
        text="**Remove the class list?** Its names and yes/no columns are erased, and whoever waits is forgotten. "
        "Students who have signed up stay. Afterwards anybody on this server can sign up again.",
        rows=((yes, PANEL),),
    )


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


def waiting(found: Sequence[WaitingStudent], page: int, said: str = "") -> Message:
    """Who is not on the list and waits."""
    if not found:
        return Message(text=f"{said}\nNobody waits.".strip(), rows=((PANEL, PEOPLE, BACK),))
    choices = [choice(one.id, one.name, f"section {one.section}") for one in found]
    turn = partial(key, ClassKey.LIST_WAITING)
    listed = list_page(choices, page, "Pick a student", key(ClassKey.LIST_WAITS), turn)
    return Message(
        text=f"{said}\n**Waiting** ({len(found)}): they say that they are not on the list.".strip() + listed.line,
        rows=(*listed.select, (*listed.turns, PANEL, BACK)),
    )


def one_waiting(one: WaitingStudent, free: Sequence[ClassListEntry], page: int) -> Message:
    """One who waits, and what the coach can do; `free` are names of that section that nobody has picked."""
    choices = [choice(entry.id, entry.name) for entry in free]
    pick, turn = key(ClassKey.LIST_SAME, one.id), partial(key, ClassKey.LIST_WAITS, one.id)
    listed = list_page(choices, page, "This is somebody on the list", pick, turn)
    ways = (
        Button(key=key(ClassKey.LIST_LET_IN, one.id), label="Let in under this name", style="main"),
        Button(key=key(ClassKey.LIST_TURN_AWAY, one.id), label="Turn away", style="danger"),
        Button(key=key(ClassKey.LIST_WAITING, 0), label="Waiting"),
    )
    return Message(
        text=f"**{escape(one.name)}** of section {escape(one.section)} is not on the class list. The account is "
        f"<@{one.platform_id}>.{listed.line}",
        rows=(ways, *listed.rows),
    )


def let_in(name: str) -> str:
    """A stranger may sign up now."""
    return f"**{escape(name)}** is in, and on the list. Please tell the student to press the sign-up buttons again."


def turned_away(name: str) -> str:
    """A stranger waits no more."""
    return (
        f"**{escape(name)}** has been turned away, and what was typed is erased. I do not write to the student: please "
        "say why. The account can ask again."
    )


def somebody_waits(one: WaitingStudent) -> Message:
    """Told in the office: somebody is not on the list."""
    look = Button(key=key(ClassKey.LIST_WAITS, one.id), label="Decide", style="main")
    return Message(
        text=f"**{escape(one.name)}** of section {escape(one.section)} wants to sign up and is not on the class list.",
        rows=((look,),),
    )


def picked_twice(entry: ClassListEntry, account: str) -> Message:
    """Told in the office, once for each name and account: a second account has picked it."""
    students = Button(key=key(ActionKey.PEOPLE_STUDENTS, 0), label="Students")
    return Message(
        text=f"The name **{escape(entry.name)}** of section {escape(entry.section)} has been picked, and now the "
        f"account shown as {escape(account)} wants it too. Nothing has changed. If the first one is not that student, "
        "open the student and press **Let the account go**: the right one then picks the name, and you confirm it.",
        rows=((students,),),
    )


def has_account_now(entry: ClassListEntry, account: int, name: str) -> Message:
    """Told in the office, once for each name and account: a student whom the coach entered has an account."""
    link = Button(key=key(ClassKey.LIST_LINK, entry.id, account), label="Yes, link the account", style="main")
    return Message(
        text=f"The account shown as {escape(name)} says that it is **{escape(entry.name)}** of section "
        f"{escape(entry.section)}, whom you entered as a student without an account. Is that so? Once it is linked, "
        "the student sees the squad and its room.",
        rows=((link,),),
    )


def linked(name: str) -> Message:
    """The account belongs to the student now."""
    return Message(text=f"The account now belongs to **{escape(name)}**.", rows=((PANEL, PEOPLE, BACK),))
