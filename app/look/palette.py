"""The two palettes, light and dark, and the sums that prove their text legible.

Colours carry meaning only together with a line style, a sign or a word; the tests hold every pair of text and
ground
to a contrast of 4.5 or more. Source of the contrast sum: W3C, Web Content Accessibility Guidelines 2.1,
"relative luminance" and "contrast ratio"; success criteria 1.4.3 (text) and 1.4.11 (lines and signs).
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Palette:
    """Colours as "#rrggbb".

    Attributes:
        window, panel, entry: grounds of the window, of raised areas, and of fields, drawings and plots.
        text, quiet: letters, and letters of less weight.
        line, grid: borders that must be seen, and lines that may recede.
        accent, on_accent: the one colour of action and focus, and letters on it.
        selection: ground of selected rows and letters; `text` stands on it.
        good, warn, bad: letters and signs of a verdict.
        curves: at least six line colours for plots, told apart by dash as well.
        aluminium, steel, rail, block, plate, table, sheet, load: fillings and lines of the drawn machine.
    """

    name: str
    dark: bool
    window: str
    panel: str
    entry: str
    text: str
    quiet: str
    line: str
    grid: str
    accent: str
    on_accent: str
    selection: str
    good: str
    warn: str
    bad: str
    curves: tuple[str, ...]
    aluminium: str
    steel: str
    rail: str
    block: str
    plate: str
    table: str
    sheet: str
    load: str


LIGHT = Palette(
    name="light",
    dark=False,
    window="#eff1ec",
    panel="#f8f9f5",
    entry="#ffffff",
    text="#1c292b",
    quiet="#53625f",
    line="#7d8a85",
    grid="#dbe0da",
    accent="#22626a",
    on_accent="#ffffff",
    selection="#cde1df",
    good="#2b683e",
    warn="#83560a",
    bad="#a03434",
    curves=("#22626a", "#a8581c", "#5a4a93", "#567021", "#a53a66", "#3b5f9a"),
    aluminium="#d3dcdc",
    steel="#a9b4bb",
    rail="#6f858f",
    block="#46605f",
    plate="#c5c9b4",
    table="#e4ddcb",
    sheet="#d9c39a",
    load="#a8581c",
)

DARK = Palette(
    name="dark",
    dark=True,
    window="#1b2123",
    panel="#232a2c",
    entry="#151a1b",
    text="#e3e9e5",
    quiet="#a5b2ae",
    line="#76847f",
    grid="#2e3739",
    accent="#7cc0c1",
    on_accent="#10201f",
    selection="#2c4a4b",
    good="#84c596",
    warn="#dfb264",
    bad="#f0958c",
    curves=("#7cc0c1", "#e2a268", "#b3a5e6", "#abc570", "#e895b4", "#8fb3e8"),
    aluminium="#55646a",
    steel="#6d7881",
    rail="#9db2ba",
    block="#7f9f9c",
    plate="#5f6350",
    table="#3f3a2e",
    sheet="#7a6742",
    load="#e2a268",
)


def luminance(colour: str) -> float:
    """Relative luminance of "#rrggbb", 0 (black) to 1 (white). Source: WCAG 2.1, definition of relative
    luminance.
    """
    parts = (int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5))
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21. Source: WCAG 2.1, definition of contrast ratio."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def curve_colour(role: str, palette: Palette) -> str:
    """The colour of a curve: "1", "2" ... go round the palette's curves, other roles are fields of the
    palette.
    """
    if role.isdigit():
        return palette.curves[(int(role) - 1) % len(palette.curves)]
    return str(getattr(palette, role))


def text_pairs(palette: Palette) -> list[tuple[str, str, str]]:
    """Every pair of letters and ground that the window uses: (what, letters, ground)."""
    grounds = {"window": palette.window, "panel": palette.panel, "entry": palette.entry}
    letters = {
        "text": palette.text,
        "quiet": palette.quiet,
        "accent": palette.accent,
        "good": palette.good,
        "warn": palette.warn,
        "bad": palette.bad,
    }
    pairs = [(f"{a} on {b}", letters[a], grounds[b]) for a in letters for b in grounds]
    pairs.append(("text on selection", palette.text, palette.selection))
    pairs.append(("letters on accent", palette.on_accent, palette.accent))
    return pairs
