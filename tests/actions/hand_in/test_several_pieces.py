"""Two pieces to hand in, the bunting and the paper chain: nothing of one ever stands in the other."""

from datetime import timedelta

from storage.tables import member_parts
from tests.actions.conftest import Asking, Begin, button, small_plan
from tests.actions.hand_in_cast import BRIEF, WHY, add, drawing, shown
from tests.actions.office_cast import make_squad, texts, until

CHAIN = "Eleven rings, because eleven of us tried it."


async def two_pieces(begin: Begin) -> tuple[Asking, int]:
    """The brief is out: a squad of students 1 to 3, who hand in bunting and chain."""
    run, bunting, chain = small_plan().events
    pieces = (
        bunting.model_copy(update={"hand_in": True}),
        chain.model_copy(update={"hand_in": True, "surprise": False}),
    )
    asking = await begin("drafting", events=(run, *pieces))
    await asking.confirm("signup.open")
    squad = await make_squad(asking, 1, 3, "Crooked Spoons")
    await until(asking, BRIEF)
    for who in (1, 2, 3):
        await asking.ask("brief.page:9", who)
    return asking, squad


async def test_each_piece_has_its_own_message_form_and_parts(begin: Begin) -> None:
    asking, squad = await two_pieces(begin)
    for piece, name in (("bunting", "Bunting"), ("chain", "Paper chain")):
        card = await shown(asking, squad, piece)
        assert card.text.startswith(f"🧩 **Hand-in: {name}**")
        assert button(card, "See our parts").key == f"hand-in.parts:0:{piece}"
        assert (await asking.form(button(card, "Add my part").key, 1)).key == f"hand-in.save:{piece}"
    await add(asking, 1, photo=drawing(), key="hand-in.save:bunting")
    await add(asking, 1, CHAIN, key="hand-in.save:chain")
    await add(asking, 2, CHAIN, key="hand-in.save:chain")
    assert "In (1 of 3)" in (await shown(asking, squad, "bunting")).text
    assert "In (2 of 3)" in (await shown(asking, squad, "chain")).text
    bunting, chain = [await asking.message(f"hand-in.parts:0:{piece}", 3) for piece in ("bunting", "chain")]
    assert WHY in bunting.text and CHAIN not in bunting.text and len(bunting.files) == 1
    assert WHY not in chain.text and chain.text.count(CHAIN) == 2 and chain.files == ()


async def test_deleting_one_part_leaves_that_of_the_other_piece(begin: Begin) -> None:
    asking, _ = await two_pieces(begin)
    await add(asking, 1, key="hand-in.save:bunting")
    await add(asking, 1, CHAIN, key="hand-in.save:chain")
    await asking.ask("hand-in.taken-back:chain", 1)
    async with asking.store.read() as db:
        assert await member_parts.part(db, 1, "chain") is None
        assert await member_parts.part(db, 1, "bunting") is not None


async def test_where_no_piece_is_named_one_is_picked_first(begin: Begin) -> None:
    asking, _ = await two_pieces(begin)
    for action, about in (("hand-in.add", ""), ("hand-in.parts", ":0")):
        asked = await asking.message(action, 1)
        assert texts(asked) == ["Bunting", "Paper chain"]
        assert button(asked, "Bunting").key == f"{action}{about}:bunting"
        assert button(asked, "Paper chain").key == f"{action}{about}:chain"


async def test_the_command_gives_back_the_words_where_it_is_not_clear_which_piece_is_meant(begin: Begin) -> None:
    asking, squad = await two_pieces(begin)
    for unclear in ("", "the flags"):
        said = await add(asking, 1, piece=unclear)
        assert "**Bunting** and **Paper chain**" in said.text and WHY in said.text
    assert "In (0 of 3)" in (await shown(asking, squad)).text
    assert "your part is in" in (await add(asking, 1, piece=" paper  Chain ")).text
    assert "In (1 of 3)" in (await shown(asking, squad, "chain")).text


async def test_my_squad_and_the_coach_read_what_is_missing_by_piece(begin: Begin) -> None:
    asking, squad = await two_pieces(begin)
    await add(asking, 1, key="hand-in.save:bunting")
    mine = await asking.message("squad.mine", 1)
    assert "Student 1 (captain): still to hand in a part of Paper chain" in mine.text
    assert "Student 2: still to hand in a part of Bunting and hand in a part of Paper chain" in mine.text
    asked = await asking.message("hand-in.student:1")
    assert texts(asked) == ["Bunting", "Paper chain"]
    assert WHY in (await asking.message("hand-in.student:1:bunting")).text
    assert "Nothing has been handed in" in (await asking.message("hand-in.student:1:chain")).text
    await asking.filled("hand-in.enter:2:chain", fields={"why": CHAIN})
    assert "In (1 of 3)" in (await shown(asking, squad, "chain")).text
    asking.now += timedelta(days=1)
    assert CHAIN in (await asking.message(f"hand-in.squad:0:{squad}:chain")).text
