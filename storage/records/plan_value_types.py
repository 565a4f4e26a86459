"""The kinds of values that stand in a plan: keys, lines, texts and numbers, with their bounds."""

from decimal import Decimal
from typing import Annotated, Literal

from pydantic import Field, StringConstraints

Key = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9-]{0,23}$")]
"""A short name used in ids and exports: small letters, digits and hyphens, at most 24."""
ONE_LINE = r"^[^\x00-\x1f\x7f-\x9f\u2028\u2029]*$"
"""No line ends and no control characters, which names would carry into pictures, tables and calendar files."""
SEVERAL_LINES = r"^[^\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]*$"
"""Line ends and tabs, and no other control characters."""
Line = Annotated[str, StringConstraints(min_length=1, max_length=100, strip_whitespace=True, pattern=ONE_LINE)]
Text = Annotated[str, StringConstraints(max_length=1800, strip_whitespace=True, pattern=SEVERAL_LINES)]
Section = Annotated[str, StringConstraints(min_length=1, max_length=30, strip_whitespace=True, pattern=ONE_LINE)]
Amount = Annotated[Decimal, Field(ge=0, le=100_000, max_digits=12, decimal_places=4, allow_inf_nan=False)]
Positive = Annotated[Decimal, Field(gt=0, le=100_000, max_digits=12, decimal_places=4, allow_inf_nan=False)]
Signed = Annotated[Decimal, Field(ge=-100_000, le=100_000, max_digits=12, decimal_places=4, allow_inf_nan=False)]
"""An amount that may lie below 0."""
Keep = Literal["best", "sum", "mean-of-best-two"]
Better = Literal["higher", "lower"]
Weekday = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
