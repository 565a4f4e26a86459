"""What `tenbell status` prints: how the running bot is."""

from datetime import datetime

from bot.rules.core.status_report import FRESH, LITTLE_BYTES
from bot.words.core.times import duration
from storage.records.status_file import Heartbeat


def report(beat: Heartbeat | None, now: datetime, database: str) -> str:
    """What `tenbell status` prints."""
    if beat is None:
        return f"No Tenbell has run on {database} yet."
    if beat.stopped:
        return f"Not running: it was stopped {_ago(beat.at, now)}."
    if now - beat.at > FRESH:
        return f"Not running: the last sign of life on {database} was {_ago(beat.at, now)}."
    if beat.away_since is not None:
        line = f"off line for {duration(now - beat.away_since)}; trying to come back"
    elif beat.online_since is not None:
        line = f"on line for {duration(now - beat.online_since)}"
    else:
        line = "not on line yet; trying"
    rows = (
        ("Tenbell", f"{beat.version}, process {beat.pid}, running for {duration(now - beat.started_at)}"),
        ("Platform", line),
        ("Last event", "none yet" if beat.last_event_at is None else _ago(beat.last_event_at, now)),
        ("Next due", "nothing" if beat.next_due_at is None else f"{_local(beat.next_due_at)}"),
        ("Last backup", "none yet" if beat.last_backup_at is None else _ago(beat.last_backup_at, now)),
        ("Disk left", f"{beat.free_bytes / 1e9:.1f} GB" + (" (little!)" if beat.free_bytes < LITTLE_BYTES else "")),
    )
    return "\n".join(f"{name:12} {text}" for name, text in rows)


def _ago(at: datetime, now: datetime) -> str:
    return f"{duration(now - at)} ago ({_local(at)})"


def _local(at: datetime) -> str:
    return f"{at.astimezone():%Y-%m-%d %H:%M}"
