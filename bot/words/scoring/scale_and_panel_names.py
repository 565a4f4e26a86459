"""What scales and panel rules are called: how a value becomes points, and how several sheets become one value."""

SCALES = {
    "maximum": "percent of the maximum",
    "best": "percent of the best",
    "between": "position between two ends",
    "rank": "ranks",
    "standard": "standard scores",
}
PANELS = {
    "mean": "mean of the judges",
    "median": "median of the judges",
    "trimmed": "mean without the highest and the lowest judge",
    "adjusted": "mean, corrected for harsh and lenient judges",
}
