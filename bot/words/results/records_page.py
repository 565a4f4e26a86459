"""Records: the page that leads to what is kept and handed out at the end."""

from bot.rules.results.certificates import may_be_printed
from bot.rules.results.mixed_team import may_be_picked
from bot.words.core.buttons import BACK
from bot.words.core.class_action_keys import ClassKey
from bot.words.core.custom_ids import key
from bot.words.core.number_text import count
from bot.words.core.who_reads import who_reads
from bot.words.results.protests import REGISTER
from storage.records.message import Button, Message, Row
from storage.records.tryout import State


def records(open_protests: int, incidents: int, state: State) -> Message:
    """The page."""
    lines = [
        "**Records**",
        f"Protests open: {open_protests}.{' The result is not final before they are decided.' * bool(open_protests)}",
        f"Book of incidents: {count(incidents, 'entry', 'entries')}. {who_reads('incident', 'it')}",
    ]
    rows: tuple[Row, ...] = (
        (
            REGISTER.model_copy(update={"style": "main" if open_protests else "plain"}),
            Button(key=key(ClassKey.INCIDENTS), label="Incidents"),
            Button(key=key(ClassKey.TEAM, 0), label="Team of several squads", disabled=not may_be_picked(state)),
        ),
        (
            Button(key=key(ClassKey.CERTIFICATES), label="Certificates", disabled=not may_be_printed(state)),
            Button(key=key(ClassKey.HEAD_RECORD), label="One page without names"),
            Button(key=key(ClassKey.SPREADSHEET), label="Spreadsheet"),
            BACK,
        ),
    )
    return Message(text="\n".join(line.strip() for line in lines), rows=rows)
