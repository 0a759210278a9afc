"""What `src/start.py` does: set the folder up, open JupyterLab, run the tests, fetch wheels.

Standard library only, because it runs before anything is installed.
From the bottom up: words, places, checks, wheels, environment, lab, commands.
"""
