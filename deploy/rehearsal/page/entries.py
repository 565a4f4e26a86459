"""Entries of the transcript as HTML: messages, slips only one person saw, presses, forms."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from datetime import datetime, tzinfo
from html import escape
from typing import Any

from deploy.rehearsal.page.text import ChatText
from deploy.rehearsal.server.transcript import Entry
from deploy.rehearsal.world.state import File

LARGEST_LINK = 256 * 1024
"""Bytes of a file that is not a picture up to which the page carries it along."""

KIND_WORDS = {
    "edit": "changed",
    "pin": "pinned",
    "deleted": "removed",
    "private edit": "changed",
    "private deleted": "removed",
}
BRIEFLY = ("pin", "deleted", "private deleted")
ACTS = ("press", "choice", "command", "typing", "form sent")


class EntryWriter:
    """Writes entries; a file met before is referred to instead of being carried twice."""

    def __init__(self, zone: tzinfo, bot: str, files: Mapping[str, File]) -> None:
        """Write times in `zone`; `bot` is the name of the one whose messages need no name above them."""
        self._text = ChatText(zone)
        self._bot = bot
        self._files = files
        self._carried: set[str] = set()

    def body(self, entry: Entry) -> str:
        """Return what one entry shows, without its time and its place."""
        now = datetime.fromisoformat(entry.at)
        if entry.kind in ACTS:
            return f'<div class="act">{self._act(entry, now)}</div>'
        if entry.kind == "form opened":
            return self._form(entry.body, now)
        if entry.kind == "failure":
            return f'<p class="failure">{escape(entry.body["text"])}</p>'
        return self._message(entry, now)

    def _act(self, entry: Entry, now: datetime) -> str:
        who, body = f"<b>{escape(entry.who)}</b>", entry.body
        on = f' <span class="on">{self._text.line(body["on"], now)}</span>' if body.get("on") else ""
        if entry.kind == "press":
            return f"{who} pressed <span class=label>{escape(body['label'])}</span>{on}"
        if entry.kind == "choice":
            chosen = ", ".join(escape(str(name)) for name in body["chosen"])
            return f"{who} chose <span class=label>{chosen}</span> from “{escape(body['select'])}”"
        if entry.kind == "command":
            given = "".join(f" {escape(name)}: {escape(str(value))}" for name, value in body["options"].items())
            return f"{who} typed <code>{escape(body['line'])}{given}</code>"
        if entry.kind == "typing":
            return f"{who} typed “{escape(body['text'])}” after <code>{escape(body['line'])}</code>"
        rows = "".join(self._filled(label, value) for label, value in body["values"].items())
        return f"{who} sent “{escape(body['title'])}”<dl>{rows}</dl>"

    def _filled(self, label: str, value: Any) -> str:
        shown = ", ".join(map(str, value)) if isinstance(value, list) else "" if value is None else str(value)
        return f"<div><dt>{escape(label)}</dt><dd>{escape(shown) or '<i>left empty</i>'}</dd></div>"

    def _form(self, body: Mapping[str, Any], now: datetime) -> str:
        notes = "".join(self._text.block(note, now) for note in body["notes"])
        fields = "".join(self._field(item) for item in body["fields"])
        return f'<div class="form"><p class="title">{escape(body["title"])}</p>{notes}{fields}</div>'

    def _field(self, item: Mapping[str, Any]) -> str:
        star = "" if item["required"] else " <i>(may stay empty)</i>"
        hint = f'<span class="hint">{escape(item["description"])}</span>' if item["description"] else ""
        if item["options"]:
            options = "".join(self._option(option) for option in item["options"])
            inside = f"<ul class=options>{options}</ul>"
        else:
            inside = f'<span class="blank">{escape(item["value"]) or "&nbsp;"}</span>'
        return f'<div class="field"><span class="name">{escape(item["label"])}{star}</span>{hint}{inside}</div>'

    def _option(self, option: Mapping[str, Any]) -> str:
        more = f" <span class=hint>{escape(option['description'])}</span>" if option["description"] else ""
        chosen = " class=chosen" if option["chosen"] else ""
        return f"<li{chosen}>{escape(option['label'])}{more}</li>"

    def _message(self, entry: Entry, now: datetime) -> str:
        if entry.kind in BRIEFLY:
            return self._briefly(entry, now)
        author = "" if entry.who == self._bot else f"<b>{escape(entry.who)}:</b> "
        word = KIND_WORDS.get(entry.kind, "")
        remark = f'<span class="remark">{word}</span>' if word else ""
        blocks: list[str] = []
        row: list[str] = []
        for block in entry.body["blocks"]:
            if "button" in block:
                row.append(self._button(block))
                continue
            if row:
                blocks.append(f'<p class="row">{"".join(row)}</p>')
                row = []
            blocks.append(self._block(block, now))
        if row:
            blocks.append(f'<p class="row">{"".join(row)}</p>')
        rung = entry.body.get("pings")
        ring = f'<p class="hint">rings for {escape(", ".join(rung))}</p>' if rung else ""
        return f'<div class="message">{remark}{author}{"".join(blocks)}{ring}</div>'

    def _briefly(self, entry: Entry, now: datetime) -> str:
        """Return what happened to a message without repeating it: everybody has read it further up."""
        texts = (str(block.get("text") or block.get("file") or "") for block in entry.body["blocks"])
        first = next((line for text in texts for line in text.splitlines() if line.strip()), "a message")
        word = KIND_WORDS[entry.kind]
        return f'<div class="message"><span class="remark">{word}</span>{self._text.line(first, now)}</div>'

    def _block(self, block: Mapping[str, Any], now: datetime) -> str:
        if "select" in block:
            return self._select(block)
        if "file" in block:
            return self._file(block)
        return self._text.block(block["text"], now)

    def _button(self, block: Mapping[str, Any]) -> str:
        emoji = f"{escape(block['emoji'])} " if block["emoji"] and block["emoji"] != block["button"] else ""
        off = " off" if block["disabled"] else ""
        return f'<span class="button {escape(block["style"])}{off}">{emoji}{escape(block["button"])}</span>'

    def _select(self, block: Mapping[str, Any]) -> str:
        off = " off" if block["disabled"] else ""
        name = escape(block["select"])
        if not block["options"]:
            return f'<p class="row"><span class="select{off}">{name}</span></p>'
        options = "".join(self._option(option) for option in block["options"])
        chosen = [escape(option["label"]) for option in block["options"] if option["chosen"]]
        count = f"{len(block['options'])} to choose from" if not chosen else ", ".join(chosen)
        return (
            f'<details class="select{off}"><summary>{name} <span class=hint>{count}</span></summary>'
            f"<ul class=options>{options}</ul></details>"
        )

    def _file(self, block: Mapping[str, Any]) -> str:
        key, name = block["sha256"], escape(block["file"])
        data = self._files[key].data
        kind = str(block["type"]).split(";")[0]
        caption = escape(block["description"])
        if kind.startswith("image/"):
            source = self._source(key, kind, data)
            return f'<figure><img {source} alt="{caption or name}"><figcaption>{caption or name}</figcaption></figure>'
        size = f"{max(1, round(len(data) / 1024))} KB"
        if len(data) > LARGEST_LINK:
            return f'<p class="row"><span class="file">{name} ({size})</span></p>'
        source = self._source(key, kind, data).replace("src=", "href=", 1)
        return f'<p class="row"><a class="file" download="{name}" {source}>{name} ({size})</a></p>'

    def _source(self, key: str, kind: str, data: bytes) -> str:
        """Carry the bytes where the file occurs first, and point to that place afterwards."""
        if key in self._carried:
            return f'data-same="f{key[:16]}"'
        self._carried.add(key)
        return f'id="f{key[:16]}" src="data:{escape(kind)};base64,{base64.b64encode(data).decode()}"'
