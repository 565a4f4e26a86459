"""The people of a try-out as the coach sees them: helpers, students, squads, and what can be done for each."""

from collections.abc import Sequence

from bot.rules.core.reasons import Reason
from bot.words.core.action_keys import ActionKey
from bot.words.core.buttons import BACK
from bot.words.core.keys import key, split
from bot.words.core.pages import page_line, turning, whole_message, within
from bot.words.core.plain_text import count, escape, listing, quoted
from bot.words.squads.sign_up import went
from storage.records.message import (
    Button,
    Choice,
    Form,
    Message,
    PersonSelect,
    Row,
    Select,
    SelectField,
    TextField,
)
from storage.records.people import Officer, Squad, Student
from storage.records.plan import Plan

PAGE = 25
PEOPLE = Button(key=key(ActionKey.PEOPLE_PANEL), label="People")

REFUSALS = {
    Reason.STUDENT_GONE: "That student is no longer here. Open **People** again.",
    Reason.SQUAD_WITHDRAWN: "That squad is no longer there. Open **People** again.",
    Reason.COMPETITOR_CANNOT_HELP: "**{person}** is in the squad **{squad}**. Whoever takes part cannot judge, keep "
    "score, "
    "type in sheets or coach. Nobody was added.",
    Reason.HELPER_CANNOT_COMPETE: "Somebody who judges or helps to run this try-out cannot be in a squad. "
    "If that is a mistake, ask your coach.",
    Reason.PROGRAMS_CANNOT: "**{name}** is a program's account, not a person. Pick a person.",
    Reason.LAST_COACH: "You are the last coach, and you do not manage this server: add another coach first.",
    Reason.SAME_SQUAD: "**{student}** is in **{squad}** already.",
    Reason.IN_NO_SQUAD: "**{student}** is in no squad.",
    Reason.SQUAD_IS_NOT_SMALL: "**{squad}** is large enough; nothing has to be allowed.",
}
REASON = TextField(key="reason", label="Why?", hint="It is shown with the result. No names, please.", least=3, most=200)


def people_panel(officers: Sequence[Officer], squads: int, seated: int, alone: Sequence[Student]) -> Message:
    """Everyone in short, and where to go on."""
    lines = [
        "**People**",
        f"Coaches: {_officers(officers, 'coach')}",
        f"Scorekeepers: {_officers(officers, 'scorekeeper')}",
        f"Typists: {_officers(officers, 'typist')}",
        f"{count(squads, 'squad')} with {count(seated, 'student')}",
    ]
    if alone:
        names = [f"{escape(one.name)} ({escape(one.section)})" for one in alone[:PAGE]]
        more = f" and {len(alone) - PAGE} more" if len(alone) > PAGE else ""
        lines.append(f"Without a squad: {', '.join(names)}{more}")
    rows: tuple[Row, ...] = (
        (
            Button(key=key(ActionKey.PEOPLE_HELPERS), label="Coaches and helpers"),
            Button(key=key(ActionKey.PEOPLE_STUDENTS, 0), label="Students"),
            Button(key=key(ActionKey.PEOPLE_SQUADS, 0), label="Squads"),
        ),
        PersonSelect(key=key(ActionKey.PEOPLE_FORGET_ACCOUNT), prompt="Erase a person's name everywhere"),
        (Button(key=key(ActionKey.PEOPLE_ENTER), label="Enter a student"), BACK),
    )
    return whole_message("\n".join(lines), rows)


def _officers(officers: Sequence[Officer], role: str) -> str:
    return listing([escape(one.name) for one in officers if one.role == role]) or "nobody yet"


def helpers(officers: Sequence[Officer], said: str = "") -> Message:
    """Coaches, scorekeepers and typists: add and dismiss them."""
    text = (
        "**Coaches and helpers**\n"
        f"Coaches may do everything here: {_officers(officers, 'coach')}\n"
        f"Scorekeepers record attempts at the table: {_officers(officers, 'scorekeeper')}\n"
        f"Typists type in score sheets that were filled on paper: {_officers(officers, 'typist')}\n"
        "Squad rooms are open to the squad and to coaches only. Whoever is in a squad cannot help here.\n"
        "Whoever manages this server is a coach anyway."
    )
    rows: list[Row] = [
        PersonSelect(key=key(ActionKey.PEOPLE_COACH), prompt="Add a coach"),
        PersonSelect(key=key(ActionKey.PEOPLE_SCOREKEEPER), prompt="Add a scorekeeper"),
        PersonSelect(key=key(ActionKey.PEOPLE_TYPIST), prompt="Add a typist"),
    ]
    if officers:
        choices = tuple(
            Choice(value=f"{one.role}/{one.platform_id}", label=one.name[:100] or "?", note=one.role)
            for one in officers[:PAGE]
        )
        rows.append(Select(key=key(ActionKey.PEOPLE_DISMISS), prompt="Dismiss a helper", choices=choices))
    rows.append((PEOPLE, BACK))
    return whole_message(f"{text}\n\n{said}" if said else text, rows)


def added(names: Sequence[str], role: str) -> str:
    """People have been enrolled."""
    return f"{listing([escape(name) for name in names])}: {role} from now on."


def dismissed(name: str, role: str) -> str:
    """Someone is no longer a helper."""
    return f"{escape(name)} is no longer a {role}."


def enter_form(plan: Plan) -> Form:
    """Enter a student who has no account."""
    choices = tuple(Choice(value=one, label=one) for one in plan.sections)
    return Form(
        key=key(ActionKey.PEOPLE_ENTERED),
        title="Enter a student",
        fields=(
            TextField(
                key="name",
                label="Name",
                hint="As the class knows them; for students without an account.",
                least=2,
                most=40,
            ),
            SelectField(key="section", label="Section", choices=choices),
        ),
    )


def students(found: Sequence[tuple[Student, Squad | None]], page: int) -> Message:
    """Pick a student; those without a squad come first."""
    if not found:
        return Message(text="There are no students yet.", rows=((PEOPLE, BACK),))
    pages = -(-len(found) // PAGE)
    page = within(page, pages)
    choices = tuple(
        Choice(
            value=str(one.id),
            label=one.name[:100],
            note=f"{one.section}; {squad.name if squad else 'without a squad'}"[:100],
        )
        for one, squad in found[page * PAGE : (page + 1) * PAGE]
    )
    return Message(
        text=f"**Students** ({len(found)})" + page_line(page, pages),
        rows=(
            Select(key=key(ActionKey.PEOPLE_STUDENT), prompt="Pick a student", choices=choices),
            (*turning(ActionKey.PEOPLE_STUDENTS, page, pages), PEOPLE, BACK),
        ),
    )


def student(one: Student, squad: Squad | None, hands_in: bool = False, said: str = "") -> Message:
    """One student, and what the coach can do; `hands_in` where squads hand something in."""
    where = f"in **{escape(squad.name)}**" if squad else "without a squad"
    captain = " (captain)" if squad and squad.captain_id == one.id else ""
    text = f"**{escape(one.name)}**{captain}, section {escape(one.section)}, {where}"
    if one.platform_id is None:
        text += "\n-# has no account here: you act for this student"
    text += "\n-# A squad reads in its room who joins, leaves or leads."
    first = [
        Button(key=key(ActionKey.PEOPLE_PLACE, one.id, 0), label="Move" if squad else "Place in a squad", style="main")
    ]
    if squad:
        first.append(Button(key=key(ActionKey.PEOPLE_OUT, one.id), label="Take out of the squad"))
        if squad.captain_id != one.id:
            first.append(Button(key=key(ActionKey.PEOPLE_LEAD, one.id), label="Make captain"))
        if hands_in:
            first.append(Button(key=key(ActionKey.HAND_IN_STUDENT, one.id), label="Part of the hand-in"))
    forget = Button(key=key(ActionKey.PEOPLE_FORGET, one.id), label="Erase the name", style="danger")
    rows: tuple[Row, ...] = (
        tuple(first),
        (forget, Button(key=key(ActionKey.PEOPLE_STUDENTS, 0), label="Students"), BACK),
    )
    return Message(text=f"{text}\n\n{said}" if said else text, rows=rows)


def pick_squad(one: Student, squads: Sequence[tuple[Squad, int]], plan: Plan, page: int) -> Message:
    """Pick the squad for a student; those of the own section with a free seat come first."""
    if not squads:
        back = Button(key=key(ActionKey.PEOPLE_STUDENTS, 0), label="Students")
        return Message(text="There is no squad yet.", rows=((back, BACK),))
    own = [
        (squad, members)
        for squad, members in squads
        if squad.section == one.section and members < plan.squads.largest and squad.id != one.squad_id
    ]
    ordered = [*own, *(pair for pair in squads if pair not in own and pair[0].id != one.squad_id)]
    pages = max(1, -(-len(ordered) // PAGE))
    page = within(page, pages)
    choices = tuple(
        Choice(
            value=str(squad.id),
            label=squad.name,
            note=f"section {squad.section}, {members} of {plan.squads.largest}"[:100],
        )
        for squad, members in ordered[page * PAGE : (page + 1) * PAGE]
    )
    rows: list[Row] = []
    if choices:
        rows.append(Select(key=key(ActionKey.PEOPLE_PLACED, one.id), prompt="Pick a squad", choices=choices))
    turn = [
        button.model_copy(update={"key": _turned(button.key, one.id)})
        for button in turning(ActionKey.PEOPLE_PLACE, page, pages)
    ]
    rows.append((*turn, Button(key=key(ActionKey.PEOPLE_STUDENTS, 0), label="Students"), BACK))
    return Message(text=f"Which squad for **{escape(one.name)}**?" + page_line(page, pages), rows=tuple(rows))


def _turned(made: str, student_id: int) -> str:
    """The page's number comes after the student in these keys."""
    _, page = split(made)
    return key(ActionKey.PEOPLE_PLACE, student_id, *page)


def needs_reason(one: Student, squad: Squad, why: str) -> Message:
    """The plan does not give this seat: it takes a reason."""
    return Message(
        text=f"{why}\nYou can still place **{escape(one.name)}** there, with a reason that is shown with the result.",
        rows=(
            (
                Button(
                    key=key(ActionKey.PEOPLE_EXCEPT, one.id, squad.id),
                    label="Place anyway, with a reason",
                    style="danger",
                ),
                Button(key=key(ActionKey.PEOPLE_PLACE, one.id, 0), label="Another squad"),
            ),
        ),
    )


def except_form(one: Student, squad: Squad) -> Form:
    """The reason for a seat that the plan does not give."""
    return Form(key=key(ActionKey.PEOPLE_EXCEPTED, one.id, squad.id), title="Place anyway", fields=(REASON,))


def sure_to_take_out(one: Student, squad: Squad) -> Message:
    """Ask once before a student is taken out of a squad."""
    return Message(
        text=f"Take **{escape(one.name)}** out of **{escape(squad.name)}**? The squad's room reads:\n"
        f"{quoted(went(one.name, None).text)}",
        rows=(
            (
                Button(key=key(ActionKey.PEOPLE_TAKEN, one.id), label="Yes, take out", style="danger"),
                Button(key=key(ActionKey.PEOPLE_STUDENTS, 0), label="Students"),
            ),
        ),
    )
