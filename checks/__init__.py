"""The rules engine and the rulebook of Twentymile: pure Python, no I/O beyond its own data files."""
