"""In which order squads are offered for a student whom the coach places."""

from bot.rules.squads.place_student import in_order
from storage.records.people import Student
from tests.actions.conftest import small_plan
from tests.words.invented import squad


def test_squads_of_the_own_section_with_a_free_seat_come_first_and_the_own_squad_is_left_out() -> None:
    plan = small_plan()
    section, other = plan.sections[:2]
    one = Student(id=1, tryout_id=1, platform_id=None, name="Ada", section=section, squad_id=4, joined_at=None)
    sections = {1: other, 2: section, 3: section, 4: section, 5: section}
    sizes = [
        (squad(number, f"Squad {number}", of), plan.squads.largest * (number == 3)) for number, of in sections.items()
    ]
    assert [found.id for found, _ in in_order(one, sizes, plan)] == [2, 5, 1, 3]
