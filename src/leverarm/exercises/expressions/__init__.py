"""Expressions: what is typed is read into a tree, and two trees are compared exactly.

grammar         typed text to trees, or one plain sentence
tree            the trees: built, walked, printed, computed
equivalence     whether two trees are the same formula
"""
