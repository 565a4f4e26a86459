"""Pictures that people saw in a season: what the class was shown, and the standings before the coach."""

from __future__ import annotations

from deploy.rehearsal.cast.people import COACH
from deploy.rehearsal.server.transcript import Entry, Transcript

STANDINGS = "standings.png"


def announced_picture(transcript: Transcript) -> bytes | None:
    """Return the last picture that was shown to everybody, if there was one."""
    everybody = max((len(entry.seen_by) for entry in transcript.entries), default=0)
    for entry in reversed(transcript.entries):
        if entry.private_to or len(entry.seen_by) < everybody:
            continue
        for key in pictures_of(entry):
            return transcript.pictures[key].data
    return None


def standings_picture(transcript: Transcript) -> str:
    """Return the SHA-256 of the last picture of all standings that the coach saw; nothing where there was none."""
    for entry in reversed(transcript.entries):
        if entry.private_to == COACH:
            for block in entry.body.get("blocks", []):
                if block.get("file") == STANDINGS:
                    return str(block["sha256"])
    return ""


def pictures_of(entry: Entry) -> list[str]:
    """The SHA-256 of each picture in an entry."""
    blocks = entry.body.get("blocks", [])
    return [block["sha256"] for block in blocks if "file" in block and block["type"].startswith("image/")]
