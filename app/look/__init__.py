"""How the window looks: palettes, the style of each drawing role, fonts and icons. No widget lives here."""
