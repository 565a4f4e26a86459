"""What somebody had written where nothing was kept of it: given back below the answer, so that it can be sent again."""

from collections.abc import Mapping
from itertools import islice

from bot.words.core.plain_text import escape, quoted
from bot.words.core.text_as_file import whole_message
from storage.records.message import Message

SHORTEST = 20
"""Characters of a sentence that is worth giving back; a name or a number is typed again at once."""
LONG = 40
"""Characters of a line that is worth giving back also where it has no spaces, as some languages have none."""
MOST = 5
"""Fields of a form."""


def with_written(message: Message, fields: Mapping[str, str]) -> Message:
    """The same message with the sentences of these fields below it, but for those that stand in it to their end."""
    said = _plain(message.text)
    written = (typed.strip() for typed in fields.values())
    lost = list(islice((one for one in written if _is_worth_it(one) and _plain(escape(one)) not in said), MOST))
    if not lost:
        return message
    text = "\n".join((message.text.rstrip(), "You wrote:", *(quoted(escape(one)) for one in lost)))
    return whole_message(text, message.rows, message.files)


def given_back(written: str) -> str:
    """What was written, so that it can be sent again."""
    return f"You wrote:\n> {escape(' '.join(written.split()))}\n\n" if written.strip() else ""


def _is_worth_it(typed: str) -> bool:
    return (len(typed) >= SHORTEST and typed.count(" ") > 1) or any(len(line) >= LONG for line in typed.splitlines())


def _plain(text: str) -> str:
    """A text on one line, without the marks of a quotation."""
    return " ".join(text.replace("\n> ", "\n").split())
