"""Questions about the rules, and the published answers."""

from datetime import datetime
from typing import Literal

from storage.records.base import Record

QuestionState = Literal["open", "answered", "merged", "aside"]


class Question(Record):
    """A question that a member of a squad has asked."""

    id: int
    tryout_id: int
    squad_id: int
    student_id: int | None
    """Who asked; nobody but the coach is told, and None once the name was erased."""
    text: str
    """Empty as soon as the question waits no more."""
    asked_at: datetime
    state: QuestionState = "open"
    number: int | None = None
    """The published answer, if it was answered or merged."""
    settled_at: datetime | None = None


class Clarification(Record):
    """One wording of a published answer, with the question, under a number that everyone can quote."""

    tryout_id: int
    number: int
    version: int
    question: str
    answer: str
    change: str = ""
    """What this version changed; empty in the first."""
    published_at: datetime


class ClarificationDraft(Record):
    """What the coach has written and not yet published: an answer, a correction, or what was asked in class."""

    id: int
    tryout_id: int
    question_id: int | None = None
    """The question it answers."""
    number: int | None = None
    """The published answer it corrects."""
    question: str
    answer: str
    change: str = ""
