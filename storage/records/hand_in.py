"""What is handed in: what each member adds to the group piece of a squad, and photos as they are kept."""

from datetime import datetime

from storage.records.base import Record


class Photo(Record):
    """A picture as we keep it: drawn anew, of a bounded size, with nothing in it but what is to be seen."""

    data: bytes
    sha256: str


class Part(Record):
    """One member's part of one piece: why it is there, in the member's own words, and perhaps a photo."""

    student_id: int
    squad_id: int
    event: str
    """The key of the event whose piece it is a part of."""
    reason: str
    photo_sha256: str | None = None
    """The fingerprint of the photo as we keep it; None when there is none."""
    by_coach: bool = False
    """Entered by the coach for a student who could not."""
    late_reason: str = ""
    """Why the coach entered it after the deadline."""
    handed_in_at: datetime
