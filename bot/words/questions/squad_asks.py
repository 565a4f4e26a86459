"""Asking about the rules, as squads see it: the form, and that the coach has the question."""

from bot.rules.core.refusal_reasons import Reason
from bot.rules.questions.squad_asks import LONGEST, SHORTEST
from bot.words.core.action_keys import ActionKey
from bot.words.core.custom_ids import key
from bot.words.core.number_text import count
from bot.words.core.who_reads import who_reads
from storage.records.message import Button, Form, Message, TextField

REFUSALS = {
    Reason.QUESTIONS_EARLY: "There is nothing to ask about yet: questions about the rules begin with the brief.",
    Reason.QUESTIONS_OVER: "Judging is closed, so the rules are no longer asked about here. Please talk to your coach.",
    Reason.QUESTIONS_SQUADS: "Only members of a squad can ask here. If you are in none, please ask your coach in "
    "person.",
    Reason.QUESTIONS_FULL: "{most} questions of your squad wait for an answer already. "
    "Once one of them is answered, you can ask the next.",
    Reason.QUESTION_WAITS: "Your squad has asked just that already. Your coach has the question. Answers come in news.",
    Reason.QUESTION_LENGTH: "A question needs {shortest} to {longest} characters. Please try again.",
}

ASK = Button(key=key(ActionKey.RULES_ASK), label="Ask about the rules")
ALL = Button(key=key(ActionKey.RULES_ANSWERS), label="All answers")


def ask_form() -> Form:
    """The form for a question."""
    field = TextField(
        key="question",
        label="Your question about the rules",
        hint=f"{who_reads('question', 'it')} If it is answered, everyone reads it, without your name.",
        example="No names or private matters here. Worries: talk to your coach or an adult you trust.",
        long=True,
        least=SHORTEST,
        most=LONGEST,
    )
    return Form(key=key(ActionKey.RULES_ASKED), title="Ask about the rules", fields=(field,))


def asked(waiting: int) -> Message:
    """The coach has it; `waiting` counts all questions of the squad that wait."""
    return Message(
        text="**Your coach has the question.** Answers come in news, for everyone at once and without your name. Is it "
        "about something else than the rules? Then talk to your coach.\n"
        f"{waiting_line(waiting)}",
        rows=((ALL,),),
    )


def waiting_line(waiting: int) -> str:
    """How many questions of one squad wait."""
    verb = "waits" if waiting == 1 else "wait"
    return f"-# {count(waiting, 'question')} of your squad {verb} for an answer."
