"""The lamps of a light trailer as a network of resistors, filaments and LED lamps, solved.

``network`` solves any such network, ``wiring`` builds a trailer's, ``faults`` puts one fault in,
``table`` makes the rows that ship with the rules, ``rank`` finds the likely faults of a reading.
"""
