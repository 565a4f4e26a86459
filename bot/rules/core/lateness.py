"""When something that was due at an instant counts as late, so that reminders, and the notice after a gap, say so."""

from datetime import datetime, timedelta

from storage.records.scheduled_jobs import ScheduledJob

PUNCTUAL = timedelta(minutes=2)
"""Up to this delay something is on time: no reminder says that it is late, and nothing is said of it after a gap."""
UNTIL_MORNING = "-morning"
"""Added to the key of what came late and was put off until morning."""


def lateness(job: ScheduledJob, now: datetime) -> timedelta:
    """How long after its time something is handled."""
    return max(now - job.at, timedelta(0))


def is_late(job: ScheduledJob, now: datetime) -> bool:
    """Whether something is handled noticeably after its first time, so that its words should say so."""
    return lateness(job, now) > PUNCTUAL or UNTIL_MORNING in job.key


def is_too_late(job: ScheduledJob, now: datetime) -> bool:
    """Whether something is so late that it is left out."""
    return job.stale_after is not None and job.stale_after < now
