"""What a person is shown: messages with buttons and selects, and forms; no chat library in sight.

The platform's limits are checked when a message is made, so that one that could not be sent cannot be written
(limits: its public reference, "Message", "Component" and "Modal").
"""

from typing import Annotated, Literal

from pydantic import Field, StringConstraints, model_validator

from storage.records.base import Record

ActionKey = Annotated[str, StringConstraints(min_length=1, max_length=100)]
Short = Annotated[str, StringConstraints(min_length=1, max_length=100)]
MESSAGE_LENGTH = 2000
BUTTON_LABEL = 38
"""Letters of what stands on a button."""
FORM_LABEL = 45
"""Letters of the title of a form, and of what stands over a field."""


class Button(Record):
    """One press: `key` says what it means, so that no state lives in memory."""

    kind: Literal["button"] = "button"
    key: ActionKey
    label: Annotated[str, StringConstraints(min_length=1, max_length=BUTTON_LABEL)]
    style: Literal["main", "plain", "good", "danger"] = "plain"
    disabled: bool = False


class Choice(Record):
    """One option of a select or of a radio group."""

    value: Short
    label: Short
    note: Annotated[str, StringConstraints(max_length=100)] = ""
    chosen: bool = False


class Select(Record):
    """A list to pick from; at most 25 choices, so longer lists are paged."""

    kind: Literal["select"] = "select"
    key: ActionKey
    prompt: Annotated[str, StringConstraints(min_length=1, max_length=150)]
    choices: tuple[Choice, ...] = Field(min_length=1, max_length=25)
    least: int = Field(1, ge=0, le=25)
    most: int = Field(1, ge=1, le=25)


class PersonSelect(Record):
    """Pick people of the class server (only there, never in a direct message)."""

    kind: Literal["person"] = "person"
    key: ActionKey
    prompt: Annotated[str, StringConstraints(min_length=1, max_length=150)]
    most: int = Field(1, ge=1, le=25)


class RoomSelect(Record):
    """Pick a channel of the class server; `types`: of which kinds, by the platform's numbers (0: text channels)."""

    kind: Literal["room"] = "room"
    key: ActionKey
    prompt: Annotated[str, StringConstraints(min_length=1, max_length=150)]
    types: tuple[int, ...] = (0,)
    chosen: int | None = None


class Attachment(Record):
    """A file that goes with a message; a picture carries alt text that says the same."""

    name: Annotated[str, StringConstraints(pattern=r"^[\w.-]+$", max_length=100)]
    data: bytes
    alt: Annotated[str, StringConstraints(max_length=1024)] = ""


Row = tuple[Button, ...] | Select | PersonSelect | RoomSelect


class Message(Record):
    """A message or a private answer."""

    text: Annotated[str, StringConstraints(min_length=1, max_length=MESSAGE_LENGTH)]
    rows: tuple[Row, ...] = Field((), max_length=5)
    files: tuple[Attachment, ...] = Field((), max_length=10)
    ping: tuple[int, ...] = Field((), max_length=100)
    """Platform ids of people whose mention in the text should ring; nobody else is ever mentioned."""

    @model_validator(mode="after")
    def _fits(self) -> "Message":
        keys = [part.key for row in self.rows for part in (row if isinstance(row, tuple) else (row,))]
        if len(set(keys)) != len(keys):
            raise ValueError("two parts of one message have the same key")
        if any(isinstance(row, tuple) and not 1 <= len(row) <= 5 for row in self.rows):
            raise ValueError("a row holds one to five buttons")
        return self


Label = Annotated[str, StringConstraints(min_length=1, max_length=FORM_LABEL)]
Hint = Annotated[str, StringConstraints(max_length=100)]


class TextField(Record):
    """A line (or, if `long`, a few lines) to type."""

    kind: Literal["text"] = "text"
    key: ActionKey
    label: Label
    hint: Hint = ""
    value: str = Field("", max_length=4000)
    example: Hint = ""
    long: bool = False
    least: int = Field(0, ge=0, le=4000)
    most: int = Field(200, ge=1, le=4000)
    required: bool = True


class RadioField(Record):
    """Two to ten choices, all in view: the right shape for the levels of a criterion."""

    kind: Literal["radio"] = "radio"
    key: ActionKey
    label: Label
    hint: Hint = ""
    choices: tuple[Choice, ...] = Field(min_length=2, max_length=10)
    required: bool = True


class SelectField(Record):
    """A drop-down list in a form."""

    kind: Literal["list"] = "list"
    key: ActionKey
    label: Label
    hint: Hint = ""
    choices: tuple[Choice, ...] = Field(min_length=1, max_length=25)
    least: int = Field(1, ge=0, le=25)
    most: int = Field(1, ge=1, le=25)
    required: bool = True


class FileField(Record):
    """Files to hand in."""

    kind: Literal["file"] = "file"
    key: ActionKey
    label: Label
    hint: Hint = ""
    most: int = Field(1, ge=1, le=10)
    required: bool = True


FormField = Annotated[TextField | RadioField | SelectField | FileField, Field(discriminator="kind")]


class Form(Record):
    """A form that opens on the person's screen; at most five fields."""

    key: ActionKey
    title: Label
    fields: tuple[FormField, ...] = Field(min_length=1, max_length=5)


class Say(Record):
    """Answer with a private message (`private=False` only where everyone in the room should read it)."""

    kind: Literal["say"] = "say"
    message: Message
    private: bool = True


class Replace(Record):
    """Answer by changing the message whose button was pressed."""

    kind: Literal["replace"] = "replace"
    message: Message


class Open(Record):
    """Answer by opening a form."""

    kind: Literal["open"] = "open"
    form: Form


Answer = Annotated[Say | Replace | Open, Field(discriminator="kind")]
