"""The machine description: frozen, checked, nested; and the places and lengths that follow from it.

`project` holds the whole, `layout` derives lengths and places. Importing the package alone loads nothing.
"""
