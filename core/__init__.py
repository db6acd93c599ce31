"""The engine of Gantrywright: descriptions in, figures out.

Nothing here knows of Qt, of plotting or of files it was not given. Everything is SI inside (m, N, kg, s, rad, K).
"""
