"""Facts, quantities and findings, one module per part of the trailer.

Each module may have FACTS, QUANTITIES and FINDINGS; ``checks.rulebook`` gathers them.
"""
