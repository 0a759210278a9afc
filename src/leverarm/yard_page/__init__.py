"""The yard page: one file for a phone that weighs a machine, with no Python and no network.

Everything it says, draws and works out is recorded here from the package (:mod:`leverarm.stage`)
and interpreted in the page; its script keeps the screens, the boxes and the files.
"""
