"""The kinds of values that stand in a plan: keys, lines, texts and numbers; their limits are in `plan_limits`."""

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from storage.records import plan_limits as limits

Key = Annotated[str, StringConstraints(pattern=rf"^[a-z][a-z0-9-]{{0,{limits.KEY_LETTERS - 1}}}$")]
"""A short name used in ids and exports: small letters, digits and hyphens."""
ONE_LINE = r"^[^\x00-\x1f\x7f-\x9f\u2028\u2029]*$"
"""No line ends and no control characters, which names would carry into pictures, tables and calendar files."""
SEVERAL_LINES = r"^[^\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]*$"
"""Line ends and tabs, and no other control characters."""
Line = Annotated[
    str, StringConstraints(min_length=1, max_length=limits.LINE_LETTERS, strip_whitespace=True, pattern=ONE_LINE)
]
Text = Annotated[str, StringConstraints(max_length=limits.TEXT_LETTERS, strip_whitespace=True, pattern=SEVERAL_LINES)]
Section = Annotated[
    str, StringConstraints(min_length=1, max_length=limits.SECTION_LETTERS, strip_whitespace=True, pattern=ONE_LINE)
]
Amount = Annotated[
    Decimal,
    Field(
        ge=0, le=limits.LARGEST_AMOUNT, max_digits=limits.DIGITS, decimal_places=limits.DECIMALS, allow_inf_nan=False
    ),
]
Positive = Annotated[
    Decimal,
    Field(
        gt=0, le=limits.LARGEST_AMOUNT, max_digits=limits.DIGITS, decimal_places=limits.DECIMALS, allow_inf_nan=False
    ),
]
Signed = Annotated[
    Decimal,
    Field(
        ge=-limits.LARGEST_AMOUNT,
        le=limits.LARGEST_AMOUNT,
        max_digits=limits.DIGITS,
        decimal_places=limits.DECIMALS,
        allow_inf_nan=False,
    ),
]
"""An amount that may lie below 0."""
Keep = Literal["best", "sum", "mean-of-best-two"]
Better = Literal["higher", "lower"]
Weekday = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
