"""The plan that is ready to use, for a coach who has no file yet."""

from datetime import datetime
from importlib.resources import files

from bot.rules.plan.read_plan import read_plan, write_plan
from storage.records.plan import Plan


def builtin_plan_text() -> str:
    """The built-in plan as a commented TOML file, to be copied and changed; its date and zone are examples."""
    return files("bot.words.plan").joinpath("builtin_plan.toml").read_text("utf-8")


def bridges_and_debate_plan_text() -> str:
    """A second commented plan, of another subject, with every key that the built-in one does not show."""
    return files("bot.words.plan").joinpath("bridges_and_debate_plan.toml").read_text("utf-8")


def builtin_plan(brief: datetime, zone: str, sections: tuple[str, ...] | None = None, name: str | None = None) -> Plan:
    """The built-in plan for a brief at a local date and time in an IANA zone, with the school's own sections and name.

    Raises BadPlan where one of them does not do.
    """
    example = read_plan(builtin_plan_text())
    own = {"zone": zone, "sections": sections, "name": name}
    plan = example.model_copy(
        update={
            "calendar": example.calendar.model_copy(update={"brief": brief}),
            **{key: value for key, value in own.items() if value is not None},
        }
    )
    return read_plan(write_plan(plan))
