"""The pace of live messages: how soon one is changed again, and how often one that is old."""

from datetime import timedelta

EDIT_PAUSE = timedelta(seconds=2)
"""A live message (a list, a board) is changed at most once in this time; changes in between are shown together."""
MOST_OLD_EDITS = 20
"""A message over an hour old is edited so often, then it is posted anew: the platform's own limit is unpublished."""
