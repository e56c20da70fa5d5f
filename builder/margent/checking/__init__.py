"""What is wrong in a vocabulary or an authority: shapes, rules across entries, and findings with file and line.

Nothing here prints, and nothing is fetched: `check.py` gives back findings, the command line shows them.
"""
