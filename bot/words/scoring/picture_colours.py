"""The colours of all result pictures, and the hatchings that go with them.

Colours differ in lightness as well as in hue, and each has a hatching of its own, so that nothing depends on seeing
colours.
"""

INK = "#20262e"
SOFT = "#5b6672"
PAPER = "#fbfaf7"
TRACK = "#e7e3da"
FILLS = ("#17456b", "#f0b429", "#2f9c95", "#b5492c", "#b9a3d9", "#6b7440", "#8fd0f0", "#7a2f5e")
"""Dark blue, amber, teal, brick, lilac, moss, sky, plum."""
TEXT_ON = ("#ffffff", INK, INK, "#ffffff", INK, "#ffffff", INK, "#ffffff")
"""What is written on each fill; every pair has a contrast of 4.5 to 1 or more (WCAG 2, success criterion 1.4.3)."""
LINES_ON = ("#17456b", "#fbd98a", "#7cc7c2", "#dc8a72", "#dccff0", "#a6ad7e", "#d2edfb", "#b7729d")
"""The hatching of each fill: a lighter shade of it, so that the numbers stay in front."""
KEEPS = "#8fb6d6"
"""Weights with which the place stays where it is."""
HATCHES = ("", "//", "..", "\\\\", "xx", "--", "oo", "++")
