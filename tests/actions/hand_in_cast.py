"""A window with a hand-in: two squads, their parts and photos, for the checks."""

import io
from datetime import UTC, datetime, timedelta
from typing import Any

from PIL import Image

from bot.actions.core.live_messages import compose
from storage.records.message import Message
from storage.records.plan import Plan
from storage.records.request import Upload
from tests.actions.conftest import Asking, Begin, small_plan
from tests.actions.office_cast import make_squad, until

BRIEF = datetime(2027, 1, 11, 20, 30, tzinfo=UTC)
DEADLINE = datetime(2027, 1, 21, 20, 30, tzinfo=UTC)
DAY = timedelta(days=1)
WHY = "The wheel, because our robot carries one sock a trip."


def handing_in() -> dict[str, Any]:
    """The small plan, with a hand-in for the bunting."""
    plan: Plan = small_plan()
    run, bunting, chain = plan.events
    return {"events": (run, bunting.model_copy(update={"hand_in": True}), chain)}


def drawing(color: str = "red", size: tuple[int, int] = (40, 30)) -> Upload:
    """A small drawing as a file."""
    file = io.BytesIO()
    Image.new("RGB", size, color).save(file, "PNG")
    return Upload(name="bunting.png", data=file.getvalue(), size=len(file.getvalue()))


async def window(begin: Begin) -> tuple[Asking, int, int]:
    """The brief is out: Crooked Spoons of students 1 to 3, Muddy Teapots of 11 to 13; everybody has read it."""
    asking = await begin("drafting", **handing_in())
    await asking.confirm("signup.open")
    crew = await make_squad(asking, 1, 3, "Crooked Spoons")
    moles = await make_squad(asking, 11, 3, "Muddy Teapots")
    await until(asking, BRIEF)
    for who in (1, 2, 3, 11, 12, 13):
        await asking.ask("brief.page:9", who)
    return asking, crew, moles


async def add(
    asking: Asking, who: int, why: str = WHY, photo: Upload | None = None, key: str = "hand-in.save", **fields: str
) -> Message:
    """A member hands in a part."""
    uploads = {"photo": photo} if photo else {}
    return await asking.message(key, who, fields={"why": why, **fields}, uploads=uploads)


async def shown(asking: Asking, squad: int, piece: str = "bunting") -> Message:
    """What the live message in a squad's room shows."""
    async with asking.store.read() as db:
        found = await compose(db, await asking.tryout(), f"hand-in/{squad}/{piece}")
    assert found is not None
    return found
