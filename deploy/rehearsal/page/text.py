"""Chat markdown as HTML, as much of it as people read: emphasis, lists, headings, quotes, times, code."""

from __future__ import annotations

import re
from datetime import UTC, datetime, tzinfo
from html import escape

KEEP = "\x00"
"""Brackets what is already HTML, while the rest is still being read."""

EMPHASIS = (
    (re.compile(r"\*\*\*(.+?)\*\*\*"), r"<strong><em>\1</em></strong>"),
    (re.compile(r"\*\*(.+?)\*\*"), r"<strong>\1</strong>"),
    (re.compile(r"__(.+?)__"), r"<u>\1</u>"),
    (re.compile(r"\*(\S.*?)\*"), r"<em>\1</em>"),
    (re.compile(r"(?<!\w)_(\S.*?)_(?!\w)"), r"<em>\1</em>"),
    (re.compile(r"~~(.+?)~~"), r"<s>\1</s>"),
)
INLINE = re.compile(r"`([^`]+)`|<t:(-?\d+)(?::([tTdDfFsSR]))?>|\[([^\]]+)\]\((https?://[^)\s]+)\)|\\([^\w\s])")
STEPS = ((86400, "day"), (3600, "hour"), (60, "minute"))


class ChatText:
    """Turns chat texts into HTML; everything a person wrote is escaped."""

    def __init__(self, zone: tzinfo) -> None:
        """Write times in `zone`, the zone of the plan."""
        self._zone = zone

    def block(self, text: str, now: datetime) -> str:
        """Return a whole text as HTML paragraphs; `now` is when it was read, for relative times."""
        parts: list[str] = []
        for number, piece in enumerate(re.split(r"```(?:\w*\n)?(.*?)```", text, flags=re.DOTALL)):
            if number % 2:
                parts.append(f"<pre>{escape(piece.strip(chr(10)))}</pre>")
            else:
                parts += self._lines(piece, now)
        return "".join(parts)

    def line(self, text: str, now: datetime) -> str:
        """Return one line as HTML."""
        kept: list[str] = []

        def keep(html: str) -> str:
            kept.append(html)
            return f"{KEEP}{len(kept) - 1}{KEEP}"

        def inline(match: re.Match[str]) -> str:
            code, seconds, style, label, address, escaped = match.groups()
            if code is not None:
                return keep(f"<code>{escape(code)}</code>")
            if seconds is not None:
                return keep(self._time(int(seconds), style or "f", now))
            if label is not None:
                return keep(f'<a href="{escape(address)}" rel="noreferrer">{escape(label)}</a>')
            return keep(escape(escaped))

        html = escape(INLINE.sub(inline, text.replace(KEEP, "")))
        for pattern, replacement in EMPHASIS:
            html = pattern.sub(replacement, html)
        return re.sub(f"{KEEP}(\\d+){KEEP}", lambda match: kept[int(match[1])], html)

    def _lines(self, text: str, now: datetime) -> list[str]:
        html: list[str] = []
        items: list[str] = []
        paragraph: list[str] = []

        def close() -> None:
            if items:
                html.append(f"<ul>{''.join(items)}</ul>")
                items.clear()
            if paragraph:
                html.append(f"<p>{'<br>'.join(paragraph)}</p>")
                paragraph.clear()

        for raw in text.splitlines():
            line = raw.strip()
            item = re.match(r"(?:[-*]|\d+[.)])\s+(.*)", line)
            special = re.match(r"(#{1,3}|-#|>)\s+(.*)", line)
            if item:
                if paragraph:
                    close()
                number = re.match(r"\d+", line)
                shown = f"{number[0]}. " if number else ""
                items.append(f"<li{' class=numbered' if number else ''}>{shown}{self.line(item[1], now)}</li>")
            elif special:
                close()
                tag = {"-#": "p class=small", ">": "blockquote"}.get(special[1], "p class=heading")
                html.append(f"<{tag}>{self.line(special[2], now)}</{tag.split()[0]}>")
            elif line:
                if items:
                    close()
                paragraph.append(self.line(line, now))
            else:
                close()
        close()
        return html

    def _time(self, seconds: int, style: str, now: datetime) -> str:
        moment = datetime.fromtimestamp(seconds, UTC).astimezone(self._zone)
        shown = relative(moment, now) if style == "R" else written(moment, style)
        return f'<time datetime="{moment.isoformat()}">{shown}</time>'


def written(moment: datetime, style: str) -> str:
    """Write a moment in one of the platform's styles, in plain English words and 24 hours."""
    day = f"{moment.day} {moment:%B} {moment.year}"
    hours = f"{moment:%H:%M}"
    written_in = {
        "t": hours,
        "T": f"{moment:%H:%M:%S}",
        "d": f"{moment:%d/%m/%Y}",
        "D": day,
        "F": f"{moment:%A} {day}, {hours}",
        "s": f"{moment:%d/%m/%Y}, {hours}",
        "S": f"{moment:%d/%m/%Y}, {moment:%H:%M:%S}",
    }
    return written_in.get(style, f"{day}, {hours}")


def relative(moment: datetime, now: datetime) -> str:
    """Write a moment as seen from another, rounded to its largest unit: "in 9 days", "2 hours ago"."""
    seconds = round((moment - now).total_seconds())
    size = abs(seconds)
    length, unit = next((step for step in STEPS if size >= step[0]), (1, "second"))
    count = round(size / length)
    words = f"{count} {unit}{'' if count == 1 else 's'}"
    return f"in {words}" if seconds >= 0 else f"{words} ago"
