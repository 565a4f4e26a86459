"""What a page asks for: a press, a choice, a form, a command, a line of text; checked, done, and answered."""

from __future__ import annotations

import base64
import binascii
from dataclasses import dataclass, field
from typing import Any, TypeVar

from deploy.rehearsal.limits.command_limits import BOOLEAN, INTEGER, NUMBER
from deploy.rehearsal.phones.phone import Phone
from deploy.rehearsal.phones.user_actions import Act, CastMistake, Outcome
from deploy.rehearsal.tryroom.form_drafts import draft_of, keep_draft
from deploy.rehearsal.tryroom.room import TryRoom
from deploy.rehearsal.tryroom.screen import form_shown
from deploy.rehearsal.wire.forms import Form
from deploy.rehearsal.wire.rendering import Button, Select, Shown
from deploy.rehearsal.world.api_errors import Json
from deploy.rehearsal.world.state import Person, Room

FORMS_KEPT = 200
LARGEST_FILE = 10 * 1024 * 1024
ATTACHMENT = 11
Item = TypeVar("Item", Button, Select)


@dataclass
class WindowState:
    """What windows hold: messages as they were shown, and forms that are open."""

    room: TryRoom
    shown: dict[tuple[int, int], Shown] = field(default_factory=dict)
    forms: dict[str, Form] = field(default_factory=dict)
    _number: int = 0

    def keep_shown(self, person: Person, shown: dict[int, Shown]) -> None:
        """Keep what a window shows, so that a press presses what was seen, however it has changed since."""
        for number, message in shown.items():
            self.shown[person.id, number] = message

    async def do(self, person: Person, place: Room | None, asked: Json) -> Json:
        """Do what is asked for; raises `CastMistake`, whose text says why it cannot be done, and `KeyError`."""
        phone, kind = Phone(self.room.server, person), str(asked["do"])
        if kind == "dismiss":
            phone.dismiss(self._message(person, asked))
            self.room.changed()
            return {}
        if kind == "say":
            await self.room.say(phone, _there(place), str(asked["text"]))
            return {}
        if kind == "draft":
            form = self.forms.get(str(asked["form"]))
            if form is not None and form.person_id == person.id:
                keep_draft(self.room.drafts, form, asked["values"])
                self.room.keep_soon()
            return {}
        outcome = await self.room.act(lambda: self._act(phone, place, kind, asked))
        answer: Json = {"kind": outcome.kind, "failure": outcome.failure}
        if outcome.form is not None:
            answer["form"] = form_shown(outcome.form, self._keep_form(outcome.form))
            answer["form"]["draft"] = draft_of(self.room.drafts, outcome.form)
        if outcome.suggestions:
            answer["suggestions"] = [{"name": str(name), "value": value} for name, value in outcome.suggestions]
        _where(outcome, answer)
        if kind == "fill" and not outcome.failed:
            keep_draft(self.room.drafts, self.forms.pop(str(asked["form"])), None)
        return answer

    def _act(self, phone: Phone, place: Room | None, kind: str, asked: Json) -> Act:
        if kind == "press":
            shown = self._message(phone.person, asked)
            return phone.press(shown, _by_id(shown.buttons, asked))
        if kind == "choose":
            shown = self._message(phone.person, asked)
            select = _by_id(shown.selects, asked)
            return phone.choose(shown, shown.selects.index(select), list(asked["picks"]))
        if kind == "fill":
            form = self.forms.get(str(asked["form"]))
            if form is None:
                raise CastMistake("This form is no longer open. Open it once more with its button.")
            return phone.fill(form, _values(form, dict(asked["values"])))
        if kind == "command":
            line = str(asked["line"])
            return phone.command(line, self._options(phone, place, line, dict(asked["options"])), room=_there(place))
        if kind == "suggest":
            line, others = str(asked["line"]), self._options(phone, place, str(asked["line"]), dict(asked["others"]))
            return phone.suggest(line, str(asked["option"]), str(asked["typed"])[:100], others, room=_there(place))
        raise CastMistake(f"nobody can {kind!r}")

    def _message(self, person: Person, asked: Json) -> Shown:
        shown = self.shown.get((person.id, int(asked["message"])))
        if shown is None:
            raise CastMistake("This message is not on the screen any more.")
        return shown

    def _keep_form(self, form: Form) -> str:
        self._number += 1
        self.forms[str(self._number)] = form
        while len(self.forms) > FORMS_KEPT:
            del self.forms[next(iter(self.forms))]
        return str(self._number)

    def _options(self, phone: Phone, place: Room | None, line: str, given: dict[str, Any]) -> dict[str, Any]:
        """Turn what was typed after a command into values of the kinds it takes; what was left empty is left out."""
        known = next((one for one in phone.command_list(_there(place)) if one.line == line), None)
        if known is None:
            raise CastMistake(f"{line} is no command that you can use here.")
        kinds = {option["name"]: option["type"] for option in known.options}
        return {name: _typed(kinds.get(name, 3), value) for name, value in given.items() if value not in ("", None)}


def _there(place: Room | None) -> Room:
    if place is None:
        raise CastMistake("This room is not on your phone.")
    return place


def _by_id(items: tuple[Item, ...], asked: Json) -> Item:
    for item in items:
        if item.custom_id == asked["id"]:
            return item
    raise CastMistake("This is not under the message any more.")


def _typed(kind: int, value: Any) -> Any:
    try:
        if kind == INTEGER:
            return int(value)
        if kind == NUMBER:
            return float(value)
    except ValueError:
        raise CastMistake(f"{value!r} is not a number.") from None
    if kind == BOOLEAN:
        return bool(value)
    return _file(value) if kind == ATTACHMENT else str(value)


def _values(form: Form, given: dict[str, Any]) -> dict[str, Any]:
    """Turn what the page sends for each label into what a phone takes."""
    values: dict[str, Any] = {}
    for item in form.fields:
        if item.label not in given:
            continue
        value = given[item.label]
        if item.kind == "files":
            values[item.label] = [_file(one) for one in value]
        elif item.kind == "radio":
            values[item.label] = [value] if value else []
        elif item.kind == "text":
            values[item.label] = str(value)
        else:
            values[item.label] = value
    return values


def _file(given: Any) -> tuple[str, bytes]:
    try:
        data = base64.b64decode(str(given["data"]), validate=True)
    except (binascii.Error, TypeError, KeyError):
        raise CastMistake("The file could not be read.") from None
    if len(data) > LARGEST_FILE:
        raise CastMistake("This file is larger than 10 MB.")
    return str(given["name"])[:200] or "file", data


def _where(outcome: Outcome, answer: Json) -> None:
    """Say in which room and which message the answer stands, so that the page can go there."""
    if outcome.message is not None:
        answer["room"], answer["message"] = str(outcome.message.room_id), str(outcome.message.message_id)
