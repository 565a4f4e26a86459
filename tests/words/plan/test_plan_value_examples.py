"""Every key of a plan has an example of what may stand there."""

from bot.rules.plan.plan_key_checks import MEASURES, names_only
from bot.words.plan.plan_value_examples import HINTS, hint
from storage.records.plan import Calendar, Event, Plan


def test_every_key_of_a_plan_has_a_hint_of_its_own() -> None:
    general = hint(("nothing",))
    keys = [(name,) for name in Plan.model_fields] + [("calendar", name) for name in Calendar.model_fields]
    keys += [("events", 0, name) for name in Event.model_fields]  # type: ignore[misc]
    keys += [("events", 0, "measures", 0, name) for model in MEASURES.values() for name in model.model_fields]  # type: ignore[misc]
    lacking = {path[-1] for path in keys if hint(path) == general}
    assert lacking == {"name", "about"}
    assert all(names_only(names) == names for names in HINTS)
