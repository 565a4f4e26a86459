"""Everything the clerk can do: actions, cards and dues register when their modules are imported."""

from importlib import import_module
from pkgutil import iter_modules

import bot.clerk as home
from bot.rules.lookalikes import skeleton
from storage.records.base import Record


def learn() -> None:
    """Import every module of the clerk, and the words for refusals, and make ready what the first press would wait for.

    That takes as long as importing the chat library does, so that it is done beside the event loop once the platform
    is reached, and whoever presses meanwhile waits for it.
    """
    for module in iter_modules(home.__path__, f"{home.__name__}."):
        import_module(module.name)
    import_module("bot.words.refusals")
    for record in Record.__subclasses__():
        record.model_rebuild()
    skeleton("reads the table of lookalikes")
