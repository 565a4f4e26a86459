"""People's own words as plain text: harmless wherever they stand, nothing hidden, cut or quoted where need be."""

import re
from functools import lru_cache

from bot.rules.squads.names import is_hidden

_MARKUP = re.compile(r"[\\*_~`|>#<@\[\]]")
_LINK = re.compile(r":(?=//)|\b(?:www|discord|discordapp)(?=\.)", re.IGNORECASE)
_ESCAPED = re.compile(r"\\([\\*_~`|>#<@\[\]/.])")
_NEW_LINE = re.compile("\r\n|[\r\v\f\x1c-\x1e\x85\u2028\u2029]")
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f]")
_OUR_MARKUP = re.compile(r"(?<!\\)\*\*|^-# ", re.MULTILINE)
_BOLD = re.compile(r"\\\*\\\*(?=\S)([^\n]*?\S)\\\*\\\*")
KEPT = "\n\t"


def visible(text: str) -> str:
    """People's words without what nobody can see or what turns the direction of writing; lines stay lines."""
    if text.isascii() and not _CONTROL.search(text):
        return text
    # What is hidden nowhere is most of a text, and need not be looked at where it stands.
    doubtful = {one for one in set(text) if one not in KEPT and _hidden_alone(one)}
    if not doubtful:
        return text
    text = _NEW_LINE.sub("\n", text)
    while True:
        # What joins is hidden, too, once what it joined is gone.
        kept = "".join(one for place, one in enumerate(text) if one not in doubtful or not is_hidden(text, place))
        if kept == text:
            return text
        text = kept


@lru_cache(maxsize=1024)
def _hidden_alone(character: str) -> bool:
    return is_hidden(character, 0)


def escape(text: str) -> str:
    """People's words shown as they are, in whatever they stand: no markup, no mention, no link, nothing hidden."""
    # Functions and no templates, which the library reads anew each time.
    marked = _MARKUP.sub(lambda found: f"\\{found[0]}", visible(text))
    if "." not in marked and "://" not in marked:
        return marked
    return _LINK.sub(lambda found: f"{found[0]}\\", marked)


def as_sentence(text: str) -> str:
    """People's words shown as they are, with a full stop where they end with no mark of their own."""
    shown = escape(text).rstrip()
    return shown if shown.endswith((".", "!", "?", "…")) else f"{shown}."


def with_bold(text: str) -> str:
    """The long texts of a plan: made harmless as all people's words, but what stands between `**` is bold."""
    return _BOLD.sub(r"**\1**", escape(text))


def unescaped(text: str) -> str:
    """Escaped text as it would be shown, for paper and files."""
    return _ESCAPED.sub(r"\1", text)


def without_markup(text: str) -> str:
    """A message's text as it reads where there is no markup: on paper, in a terminal, in a file."""
    return unescaped(_OUR_MARKUP.sub("", text))


def units(text: str) -> int:
    """The length in UTF-16 units, the largest of the lengths that a client can mean by characters."""
    return len(text) if text.isascii() else len(text.encode("utf-16-le", "surrogatepass")) // 2


def cut(text: str, most: int) -> str:
    """The text as a label holds it: nothing hidden, and shortened to `most` UTF-16 units."""
    text = visible(text) or (text and "…")
    if units(text) <= most:
        return text
    if most < 1:
        return ""
    text = text[: most - 1]
    while units(text) > most - 1:
        text = text[:-1]
    return text.rstrip().rstrip("\u200d\u200c").rstrip() + "…"


def quoted(text: str) -> str:
    """A message as it will read, set apart from our own words."""
    return "\n".join(f"> {line}" for line in text.split("\n"))
