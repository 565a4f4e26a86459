"""Buttons that stand under messages of many subjects, and those under a step that is asked once more."""

from bot.words.core.action_keys import ActionKey
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.day_action_keys import DayKey
from bot.words.core.text_as_file import whole_message
from storage.records.message import Button, Message

BACK = Button(key=key(ActionKey.OFFICE_AGAIN), label="Office")
STUDENTS = Button(key=key(ActionKey.PEOPLE_STUDENTS, 0), label="Students")
PEOPLE = Button(key=key(ActionKey.PEOPLE_PANEL), label="People")
JUDGES = Button(key=key(ActionKey.JUDGES_PANEL), label="Judges")
SQUADS = Button(key=key(ActionKey.PEOPLE_SQUADS, 0), label="Squads")
LEAVE = Button(key=key(ActionKey.SQUAD_LEAVE), label="Leave", style="danger")
MY_SHEETS = Button(key=key(ActionKey.SHEETS_LIST), label="My sheets")
TABLE = Button(key=key(ActionKey.TABLE_PANEL), label="Table")
STANDINGS = Button(key=key(ActionKey.RESULTS_PANEL), label="Standings")
MY_SQUAD = Button(key=key(ActionKey.SQUAD_MINE), label="My squad")
RUN_SHEETS = Button(key=key(DayKey.RUN_SHEETS), label="Type in run sheets")
RECORDS = Button(key=key(ClassKey.RECORDS), label="Records")
QUESTION = Button(key=key(ClassKey.PROTEST), label="Question about our result")


def stop_button(event: str) -> Button:
    """Stops everything of an event (by key), wherever something of it runs."""
    return Button(key=key(DayKey.STOP_ASK, event), label="STOP: danger", style="danger")


def here_button(about: object, squad: object) -> Button:
    """Ticks who of a squad (by id) is here, for the event of a measure."""
    return Button(key=key(DayKey.DAY_HERE, about, squad), label="Who is here")


def all_squads_button(about: object) -> Button:
    """Back to the squads of a measure at the table."""
    return Button(key=key(ActionKey.TABLE_SQUADS, 0, about), label="All squads")


def confirm_step(text: str, yes: Button) -> Message:
    """Ask once before a step of the try-out is taken."""
    return whole_message(text, ((yes, BACK),))
