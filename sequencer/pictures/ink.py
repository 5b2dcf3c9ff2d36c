"""Lines and shades of all pictures: black on white, told apart by shade and pattern, never by colour."""

from __future__ import annotations

from typing import Final

INK: Final = "#111111"
QUIET: Final = "#4d4d4d"
FAINT: Final = "#8a8a8a"
SHADE: Final = "#d9d9d9"
LIGHT: Final = "#f2f2f2"
PAPER: Final = "#ffffff"


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two shades, from 1 to 21.

    Source: WCAG 2.2, definitions of relative luminance and contrast ratio

    Parameters
    ----------
    one, other
        Shades as "#rrggbb".
    """
    light, dark = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(shade: str) -> float:
    parts = [int(shade[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
