"""Everything the actions can do: actions, live messages and scheduled jobs register when their modules are imported."""

from importlib import import_module
from pkgutil import walk_packages

import bot.actions as home
from bot.rules.squads.lookalikes import skeleton
from storage.records.base import Record


def register_all() -> None:
    """Import every module of actions and the words of refusals; make ready what the first press would wait for.

    That takes as long as importing the chat library does, so that it is done beside the event loop once the platform
    is reached, and whoever presses meanwhile waits for it.
    """
    for module in walk_packages(home.__path__, f"{home.__name__}."):
        import_module(module.name)
    import_module("bot.words.core.refusals")
    for record in Record.__subclasses__():
        record.model_rebuild()
    skeleton("reads the table of lookalikes")
