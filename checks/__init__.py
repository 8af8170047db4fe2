"""The rules engine and the rulebook of Twentymile: pure Python.

It reads its own data files and does no other input or output.
"""
