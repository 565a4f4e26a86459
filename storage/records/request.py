"""What a person asked for: a press, a choice, a filled form or a command, freed of the chat library."""

from datetime import datetime
from typing import Annotated

from pydantic import AfterValidator, Field

from storage.records.base import Record

Id = Annotated[int, Field(ge=0, le=2**63 - 1)]
"""A number of the platform's, which the database can hold."""


def whole(text: str) -> str:
    """Text that can be written as UTF-8: half of a pair of surrogates, which JSON can hold, becomes U+FFFD."""
    return text if text.isascii() else text.encode("utf-16-le", "surrogatepass").decode("utf-16-le", "replace")


Text = Annotated[str, AfterValidator(whole)]
"""What somebody typed, or what a key carries."""


class FieldMissing(LookupError):
    """A form or a command came without a field that it always has: it was made by another version."""


class Upload(Record):
    """A file a person sent with a command or a form; the platform's links expire, so its bytes are taken at once."""

    name: Text = Field(max_length=255)
    data: bytes
    """Empty for a file that is larger than anything that is ever asked for."""
    size: int = 0
    """Bytes of the file itself."""
    failed: bool = False
    """The platform's file server did not give it to us; `data` is empty."""


class Person(Record):
    """Someone of the class server who was picked from a list."""

    id: Id
    name: Text
    """As the class server shows it."""
    program: bool = False
    """Not a person but another program's account."""


class Room(Record):
    """A text channel that was picked from a list, and what the bot may do there."""

    id: Id
    name: Text = ""
    missing: tuple[str, ...] = ()
    """Permissions the bot lacks there, by their platform names."""
    seen_by_all: bool = False
    """Whether everyone on the class server can read it."""


class Request(Record):
    """One request by one person."""

    id: Id
    """The platform's id of this interaction: the same id never acts twice."""
    at: datetime
    """The platform's own time of the press, free of the bot's delay."""
    who: Id
    """The platform id of the person."""
    name: Text
    """The name the platform shows for them (used only as a suggestion in forms)."""
    server_id: Id | None = None
    """The class server; None in a direct message."""
    application: Id = 0
    """The platform id of the bot's own application."""
    room_id: Id | None = None
    message_id: Id | None = None
    """The message whose button was pressed, if any."""
    manages_server: bool = False
    """The platform says that this person may manage the class server."""
    args: tuple[Text, ...] = ()
    """What the pressed button or form carried in its key."""
    values: tuple[Text, ...] = ()
    """The values chosen in a select, or people and rooms by id."""
    people: tuple[Person, ...] = ()
    """The people who were picked, in a select or in a command."""
    rooms: tuple[Room, ...] = ()
    """The rooms that were picked."""
    fields: dict[Text, Text] = {}
    """A form's or a command's values by field key."""
    stands: bool = False
    """It was typed as a message, whose words stand where they were typed; a form's are gone once it is sent."""
    uploads: dict[str, Upload] = {}

    def field(self, name: str) -> str:
        """What stands in a field that the form or command always has; `fields.get` is for one that may be missing.

        Raises:
            FieldMissing: it came without that field.
        """
        if name not in self.fields:
            raise FieldMissing(name)
        return self.fields[name]
