"""The base of every record: frozen, strict about unknown keys, JSON both ways."""

from pydantic import BaseModel, ConfigDict


class Record(BaseModel):
    """A frozen value; a change returns a new one (`record.model_copy(update=...)`)."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        ser_json_bytes="base64",
        val_json_bytes="base64",
        defer_build=True,  # each validator is built when it is first needed, and not all of them at the start
    )
