"""A photo that somebody has handed in or sent, as it is kept."""

from storage.records.base import Record


class Photo(Record):
    """A picture as we keep it: drawn anew, of a bounded size, with nothing in it but what is to be seen."""

    data: bytes
    sha256: str
