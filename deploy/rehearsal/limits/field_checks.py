"""The checks behind every limit: lengths, ranges, counts; each problem is noted with the platform's codes."""

from __future__ import annotations

from typing import Any

from deploy.rehearsal.world.api_errors import Json, Problems

Place = tuple[str | int, ...]


class FieldChecks:
    """Measures values in a request body and notes in `problems` whatever does not fit.

    Every method takes the object that holds the value, its key, and the place of that object in the body; it returns
    the value when it has the right type, and nothing otherwise, so that a caller can go on measuring.
    """

    def __init__(self) -> None:
        self.problems = Problems()

    def text(
        self, holder: Json, key: str, place: Place, *, most: int, least: int = 0, required: bool = False
    ) -> str | None:
        """Measure a text of `least` to `most` characters; null and absence are allowed unless `required`."""
        value = self._present(holder, key, place, required)
        if value is None:
            return None
        if not isinstance(value, str):
            self.problems.add((*place, key), "STRING_TYPE_CONVERT", "Could not interpret the value as string.")
            return None
        if not least <= len(value) <= most:
            self._length((*place, key), least, most)
        return value

    def number(
        self, holder: Json, key: str, place: Place, *, least: int, most: int, required: bool = False
    ) -> int | None:
        """Measure a whole number between `least` and `most`."""
        value = self._present(holder, key, place, required)
        if value is None:
            return None
        if not isinstance(value, int) or isinstance(value, bool):
            self.problems.add((*place, key), "NUMBER_TYPE_COERCE", f'Value "{value}" is not int.')
            return None
        if value < least:
            message = f"int value should be greater than or equal to {least}."
            self.problems.add((*place, key), "NUMBER_TYPE_MIN", message)
        elif value > most:
            self.problems.add((*place, key), "NUMBER_TYPE_MAX", f"int value should be less than or equal to {most}.")
        return value

    def items(
        self, holder: Json, key: str, place: Place, *, most: int, least: int = 0, required: bool = False
    ) -> list[Any]:
        """Measure a list of `least` to `most` entries; returns an empty list for null, absence or a wrong type."""
        value = self._present(holder, key, place, required)
        if value is None:
            return []
        if not isinstance(value, list):
            self.problems.add((*place, key), "LIST_TYPE_CONVERT", "Only iterables may be used in a ListType.")
            return []
        if not least <= len(value) <= most:
            self._length((*place, key), least, most)
        return value

    def one_of(self, holder: Json, key: str, place: Place, allowed: tuple[int, ...], *, required: bool = False) -> None:
        """Check that a number is one of the allowed ones."""
        value = self._present(holder, key, place, required)
        if value is not None and value not in allowed:
            self.choice((*place, key), f"Value must be one of {{{', '.join(map(str, allowed))}}}.")

    def choice(self, place: Place, message: str) -> None:
        """Note a value outside the allowed choices."""
        self.problems.add(place, "BASE_TYPE_CHOICES", message)

    def flag(self, place: Place, code: str, message: str) -> None:
        """Note a problem that is not a matter of measure."""
        self.problems.add(place, code, message)

    def raise_problems(self) -> None:
        """Raise `Refused` (50035) if anything did not fit."""
        self.problems.raise_if_any()

    def _present(self, holder: Json, key: str, place: Place, required: bool) -> Any:
        value = holder.get(key)
        if value is None and required:
            self.problems.add((*place, key), "BASE_TYPE_REQUIRED", "This field is required")
        return value

    def _length(self, place: Place, least: int, most: int) -> None:
        if least == 0:
            self.problems.add(place, "BASE_TYPE_MAX_LENGTH", f"Must be {most} or fewer in length.")
        else:
            message = f"Must be between {least} and {most} in length."
            self.problems.add(place, "BASE_TYPE_BAD_LENGTH", message)


def flags_of(body: Json, place: Place = ()) -> int:
    """Return the flags a body asks for, 0 if none; raises `Refused` (50035) for what is no bit set."""
    checks = FieldChecks()
    flags = checks.number(body, "flags", place, least=0, most=2**31 - 1)
    checks.raise_problems()
    return flags or 0


def whole_number(value: object, place: Place) -> int:
    """Return an identifier or a count given as text or number; raises `Refused` (50035) for anything else."""
    if isinstance(value, int) or (isinstance(value, str) and value.isdigit()):
        return int(value)
    checks = FieldChecks()
    checks.flag(place, "NUMBER_TYPE_COERCE", f'Value "{value}" is not int.')
    checks.raise_problems()
    raise AssertionError("raised whenever something was noted")
