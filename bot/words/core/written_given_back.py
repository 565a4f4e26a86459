"""What somebody had written where nothing was kept of it: given back below the answer, so that it can be sent again."""

from collections.abc import Mapping
from itertools import islice

from bot.rules.core.written_given_back import MOST, is_worth_it
from bot.words.core.plain_text import escape, quoted
from bot.words.core.text_as_file import whole_message
from storage.records.message import Message


def with_written(message: Message, fields: Mapping[str, str]) -> Message:
    """The same message with the sentences of these fields below it, but for those that stand in it to their end."""
    said = _plain(message.text)
    written = (typed.strip() for typed in fields.values())
    lost = list(islice((one for one in written if is_worth_it(one) and _plain(escape(one)) not in said), MOST))
    if not lost:
        return message
    text = "\n".join((message.text.rstrip(), "You wrote:", *(quoted(escape(one)) for one in lost)))
    return whole_message(text, message.rows, message.files)


def given_back(written: str) -> str:
    """What was written, so that it can be sent again."""
    return f"You wrote:\n> {escape(' '.join(written.split()))}\n\n" if written.strip() else ""


def _plain(text: str) -> str:
    """A text on one line, without the marks of a quotation."""
    return " ".join(text.replace("\n> ", "\n").split())
