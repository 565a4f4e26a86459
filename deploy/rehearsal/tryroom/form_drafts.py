"""What stands in forms that are open: kept with the room, so that nobody types it again after a stop."""

from __future__ import annotations

import json
from typing import Any

from deploy.rehearsal.wire.forms import Form
from deploy.rehearsal.world.api_errors import Json

MOST_FORMS = 20
"""Of one person; the oldest is forgotten first."""
LONGEST = 40_000
"""Characters of what stands in one form, as JSON; of more nothing is kept."""
Drafts = dict[str, dict[str, Json]]
"""By person and form, what stands in each field, by its label."""


def keep_draft(drafts: Drafts, form: Form, values: Any) -> None:
    """Keep what stands in a form now; None once it was sent or closed. Files are not kept."""
    mine = drafts.setdefault(str(form.person_id), {})
    mine.pop(_name(form), None)
    if not isinstance(values, dict) or len(json.dumps(values)) > LONGEST:
        return
    kept = {one.label for one in form.fields if one.kind != "files"}
    mine[_name(form)] = {label: value for label, value in values.items() if label in kept}
    while len(mine) > MOST_FORMS:
        del mine[next(iter(mine))]


def draft_of(drafts: Drafts, form: Form) -> Json:
    """What stood in a form of the same title and fields when the room was stopped, by label."""
    return drafts.get(str(form.person_id), {}).get(_name(form), {})


def _name(form: Form) -> str:
    """What a form is known by: its own number is another one each time it opens."""
    return "\n".join((form.title, *(one.label for one in form.fields)))
