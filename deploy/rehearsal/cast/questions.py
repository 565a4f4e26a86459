"""Two squads ask about the rules, one what the other has asked; the coach answers once, sets aside, and corrects."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from deploy.rehearsal.cast.brief_and_build_days import squad_room
from deploy.rehearsal.cast.people import COACH, Cast
from deploy.rehearsal.cast.press_sequence import Pick, in_office
from deploy.rehearsal.cast.stage import NEWS, OFFICE, Stage, awaited, newest
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Act, CastMistake

ASK, ALL, ANSWER, MERGE = "Ask about the rules", "All answers", "Answer", "Merge with an earlier answer"
FIRST = "May we change our robot between two attempts?"
AGAIN = "Our wheel broke off. Can we put on another one before the second attempt?"
PUBLISHED = "May a squad change its robot between two attempts, for example its wheels?"
ANSWERED = "Yes, between two attempts you may change whatever you like.\nDuring an attempt nobody touches the robot."
NUMBER = "Rules question 1"
PASSED_ON, ASKED_BEFORE = "Your coach has the question", "asked just that already"
SECRET = "Is the surprise something with paper?"
CORRECTED = f"{ANSWERED}\nTape is part of the robot."
UNANSWERED = "May we bring our own basket?"


async def play(stage: Stage, cast: Cast) -> None:
    """Let one squad ask in news and another by a command; the coach answers the first and merges the second."""
    one, other = cast.groups[0], cast.groups[-1]
    await stage.wait(hours=2)
    first = stage.phone(one.people[0])
    await _ask(stage, first, lambda: first.press(first.with_button(NEWS, ASK), ASK), FIRST)
    await stage.wait(hours=1)
    second = stage.phone(other.people[0])
    await _ask(stage, second, lambda: second.command("/ask", room=NEWS), AGAIN)
    await stage.wait(hours=1)
    await _answer(stage)
    await _merge(stage)
    await _read(stage, second, other.name)
    stage.remember(COACH, "an answer about the rules in news", partial(_pinned, first))


async def _ask(stage: Stage, phone: Phone, opening: Callable[[], Act], question: str) -> None:
    form = (await stage.do(opening)).opened()
    outcome = await stage.do(partial(phone.fill, form, {form.fields[0].label: question}))
    if PASSED_ON in outcome.text:
        stage.acknowledged += 1
    elif not (stage.rough and ASKED_BEFORE in outcome.text):
        raise CastMistake(f"{phone.person.name} asked and was told {outcome.text!r}")


async def _answer(stage: Stage) -> None:
    """The coach words the first question for everyone, reads what will be said, and publishes it."""
    coach = stage.coach
    card = await awaited(stage, lambda: newest(coach, OFFICE, FIRST))
    form = (await stage.do(partial(coach.press, card, ANSWER))).opened()
    texts = dict(zip((field.label for field in form.fields), (PUBLISHED, ANSWERED), strict=True))
    sure = (await stage.do(partial(coach.fill, form, texts))).shown()
    await stage.do(partial(coach.press, sure, "Publish"), told=NUMBER)
    await awaited(stage, lambda: newest(coach, NEWS, PUBLISHED))


async def _merge(stage: Stage) -> None:
    """The second question has its answer by now."""
    coach = stage.coach
    card = await awaited(stage, lambda: newest(coach, OFFICE, AGAIN))
    listed = (await stage.do(partial(coach.press, card, MERGE))).shown()
    earlier = listed.selects[0]
    sure = (await stage.do(partial(coach.choose, listed, earlier.placeholder, earlier.options[0].label))).shown()
    await stage.do(partial(coach.press, sure, "Yes, it does"), told=NUMBER)


async def _read(stage: Stage, phone: Phone, squad: str) -> None:
    """The squad is shown where the answer stands, and opens it there."""
    pointer = await awaited(stage, lambda: newest(phone, squad_room(phone, squad), NUMBER))
    await stage.do(partial(phone.press, pointer, ALL), told=NUMBER)


async def _pinned(phone: Phone) -> bool:
    """Whether the list of answers is pinned in news and holds what was published."""
    return any(PUBLISHED in shown.text and ANSWERED in shown.text for shown in phone.pinned(NEWS))


async def set_aside_and_corrected(stage: Stage, cast: Cast) -> None:
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


async def answer_from_class(stage: Stage, question: str, answer: str) -> None:
    """Answer what was asked in class, for everyone."""
    typed = {"The question": question, "Your answer": answer}
    await in_office(stage, "Answer a question from class", typed, "Publish", line="/questions")
