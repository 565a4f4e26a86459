"""What the coach does in the ten days besides: turns at the practice table, questions, a part that was dictated."""

from __future__ import annotations

from functools import partial

from deploy.rehearsal.cast import questions
from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.press_sequence import Pick, Step, in_office, in_room, walk
from deploy.rehearsal.cast.stage import NEWS, OFFICE, Stage
from deploy.rehearsal.cast.student_and_squad_corrections import a_student
from deploy.rehearsal.phones.user_actions import Outcome

SECRET = "Is the surprise something with paper?"
CORRECTED = f"{questions.ANSWERED}\nTape is part of the robot."
DIGEST = "what is new"
UNANSWERED = "May we bring our own basket?"


async def turns(stage: Stage, cast: Cast) -> None:
    """A turn is closed and opened; one is booked for a squad and given back; one is lost, and was not."""
    squad = cast.groups[-1].name
    await _turn(stage, "Close it")
    await _turn(stage, "Open it again")
    await _turn(stage, "Book for a squad", Pick("Pick a squad", (squad,)))
    await _turn(stage, "Lost: equipment")
    await _turn(stage, "It was not lost")
    await _turn(stage, "Give it back")


async def rules(stage: Stage, cast: Cast) -> None:
    """A question that has no answer is set aside, one that waits is opened, and an answer is corrected."""
    for place, text in enumerate((SECRET, UNANSWERED)):
        phone = stage.phone(cast.groups[place % len(cast.groups)].people[1])
        form = (await stage.do(partial(phone.command, "/ask", room=NEWS))).opened()
        await stage.do(partial(phone.fill, form, {form.fields[0].label: text}))
    await in_office(stage, Pick("Open a question", (SECRET,)), "Set aside", "Set aside", line="/questions")
    await in_office(stage, Pick("Open a question", (UNANSWERED,)), line="/questions")
    await in_office(
        stage,
        Pick("Correct an answer"),
        {"Your answer": CORRECTED, "What changes": "Tape, too"},
        "Publish",
        line="/questions",
    )


async def parts(stage: Stage, cast: Cast) -> None:
    """The coach hands in for a student, reads all parts of the squad, and takes it out: the student does it alone."""
    name = cast.groups[1].people[-1]
    values = {"What is": "The flag with the bucket, because it was dictated to me."}
    await a_student(stage, name, "Part of the hand-in", "Enter the part", values, "See the part")
    await a_student(stage, name, "Part of the hand-in", "All parts")
    await a_student(stage, name, "Part of the hand-in", "Take it out", "Yes, take it out")


async def a_file(stage: Stage, cast: Cast) -> None:
    """A student saves the rules, and the coach opens the office from the morning's message, if one has come by then."""
    await in_room(stage, cast.groups[0].people[0], NEWS, "The rules as a file")
    digests = [shown for shown in stage.coach.see(OFFICE) if DIGEST in shown.text]
    if digests:
        await walk(stage, COACH, digests[-1], "Office")


async def _turn(stage: Stage, *steps: Step) -> Outcome:
    """The coach opens the last turn there is."""
    panel = (await in_office(stage, "Practice")).shown()
    last = panel.selects[0].options[-1].label
    return await walk(stage, COACH, panel, Pick(panel.selects[0].placeholder, (last,)), *steps)


ALL = (turns, rules, parts, a_file)
